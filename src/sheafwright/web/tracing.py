"""A tracing as its page shows it: photographs with lines, and a row a stem."""

import dataclasses

from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.answers.straw import doubt
from sheafwright.charts.traced import traced_svg
from sheafwright.records import tracing_wording as wording
from sheafwright.records.selectors.tracings import is_accepted, tracings_of
from sheafwright.web.forms.straw_photo import TRACING
from sheafwright.web.sheets import Action, Section
from sheafwright.web.tables import Column, Link, Table
from sheafwright.web.templatetags.said import day_and_year

FEW = 8
"""Stems whose table is no longer than a look at it."""


@dataclasses.dataclass(frozen=True)
class Figure:
    """A photograph with its lines."""

    heading: str
    svg: str
    signs: str
    warnings: tuple
    rows: tuple
    """Of its stems."""
    whole: str
    """Address of all of it."""


@dataclasses.dataclass(frozen=True)
class Row:
    """A stem."""

    number: int
    name: str
    is_kept: bool
    doubt: str
    cells: tuple
    is_odd: bool
    """Whether an eye should rest on it: doubted, struck out, bent or hurt."""

    def lines(self):
        """Pairs of column and cell."""
        return list(zip(columns(), self.cells, strict=True))


def columns():
    """Of the table of stems, but for their names."""
    return (
        _("Length"),
        _("Butt, middle, top"),
        _("Taper"),
        _("Sharpest bend"),
        _("Seen on it"),
    )


def figures(request, tracing, rows, struck):
    """A `Figure` of each photograph, in order."""
    photographs = list(tracing.photographs.all())
    warnings = [each["warnings"] for each in tracing.said["photos"]]
    left, made = iter(rows), []
    for photograph, warned in zip(photographs, warnings, strict=False):
        address = reverse(
            "web:photograph", args=[request.membership.holding.slug, photograph.pk]
        )
        shown = [next(left) for _line in photograph.lines["stems"]]
        made.append(
            _figure(photograph, warned, address, shown, struck, len(photographs))
        )
    return made


def _figure(photograph, warned, address, rows, struck, count):
    lines = photograph.lines
    return Figure(
        heading=wording.photo_heading(photograph.number, count),
        svg=traced_svg(
            lines,
            address=address,
            first=rows[0].number if rows else 1,
            struck=struck,
            title=wording.shows(photograph.number),
        ),
        signs=wording.signs(
            has_rejected=bool(lines["rejected"]),
            has_bends=bool(lines["bends"]),
            has_struck=any(row.number in struck for row in rows),
        ),
        warnings=tuple(warned),
        rows=tuple(rows),
        whole=f"{address}?whole",
    )


def rows(tracing, sample, kept):
    """A `Row` of each stem.

    Parameters
    ----------
    sample : StemSample or None
        What was accepted of it.
    kept : set of int or None
        Numbers ticked in a form that was refused.
    """
    if sample is not None:
        kept = {row["stem"] for row in sample.stems if "stem" in row}
    return [_row(stem, kept) for stem in tracing.said["stems"]]


def _row(stem, kept):
    doubted, number = doubt(stem), stem["number"]
    return Row(
        number=number,
        name=wording.stem_name(number),
        is_kept=not doubted if kept is None else number in kept,
        doubt=doubted,
        cells=wording.cells(stem),
        is_odd=bool(doubted) or stem["dog_leg"] or wording.is_hurt(stem),
    )


def parted(rows):
    """Rows that stand open, and those behind a fold: of many, the odd ones first."""
    if len(rows) <= FEW:
        return rows, []
    odd = [row for row in rows if row.is_odd or not row.is_kept]
    return odd, [row for row in rows if row not in odd]


def photograph_action(request, lot):
    """A button to the form; nothing for who may not write stems down."""
    if not request.membership.may(TRACING.right):
        return ()
    page = reverse("web:photographs-new", args=[request.membership.holding.slug])
    return (Action(TRACING.title, f"{page}?lot={lot.pk}"),)


def draft_actions(request, lots):
    """Id of each lot to buttons to what of it still waits for an eye."""
    found = {lot.pk: [] for lot in lots}
    if request.membership.may(Right.DO_WORK):
        for tracing in tracings_of(lots=lots).filter(sample=None):
            says = wording.look_at(day_and_year(tracing.date))
            found[tracing.lot_id].append(Action(says, _page(request, tracing)))
    return found


def tracings_section(request, lot):
    """On a lot's own page: which stems were measured from photographs."""
    accepted = [each for each in tracings_of(lots=[lot]) if is_accepted(each)]
    if not accepted:
        return Section()
    columns = (
        Column(_("Measured from photographs")),
        Column(_("Bundle"), True),
        Column(_("Stems"), True),
    )
    table = tuple(
        (
            Link(day_and_year(each.date), _page(request, each)),
            each.bundle or wording.UNKNOWN,
            len(each.sample.stems),
        )
        for each in accepted
    )
    return Section(heading=_("Stems on photographs"), table=Table(columns, table))


def _page(request, tracing):
    return reverse("web:tracing", args=[request.membership.holding.slug, tracing.pk])
