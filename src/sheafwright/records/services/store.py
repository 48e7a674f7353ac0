"""Ricks built, probed and emptied, and who is rung; lots tested, set apart, cleared."""

import re

from django.utils.translation import gettext as _

from sheafwright.records.errors import NothingChanges, SaidOtherwise
from sheafwright.records.models import (
    CallList,
    Cleaning,
    LotStanding,
    LotTest,
    Place,
    Rick,
    RickReading,
)
from sheafwright.records.selectors.lots import smelly_runs
from sheafwright.records.selectors.room import SIZES, shape_of
from sheafwright.records.services.book import place_of
from sheafwright.records.services.checks import (
    happened,
    happened_at,
    not_ahead,
    refuse,
    says_something,
)
from sheafwright.records.services.corrections import put_right
from sheafwright.records.services.entry import entry_add, entry_write, writing

MEASURES = (
    "moisture_pct",
    "protein_pct",
    "hagberg_s",
    "specific_weight_kg_per_hl",
    "admixture_pct",
)

NUMBERED = re.compile(r"\S.*[ :,]\s*\+?\d[\d ()/-]*\d")
"""A name, and a telephone number after it."""


def rick_build(*, holding, built, **said):
    not_ahead(holding, built, "built")
    _check_shape(Rick(holding=holding, built=built, **said))
    return entry_add(Rick, holding=holding, built=built, **said)


def rick_correct(*, id, holding, made_by, rick, why, note="", **said):
    """Put right what is said of a rick: its shape, value, distances, conditions."""
    return put_right(
        id=id,
        holding=holding,
        made_by=made_by,
        rick=rick,
        now=said,
        check=_check_shape,
        why=why,
        note=note,
    )


def call_list_write(*, holding, who, **said):
    """Say anew who is rung when a rick heats, of one rick or of all."""
    lines = [line.strip() for line in who.splitlines() if line.strip()]
    for line in lines:
        if not NUMBERED.fullmatch(line):
            refuse(
                "who",
                _(
                    "“%(line)s” should be a name and a telephone number, such as "
                    "“Fire service 999”, each on a line of its own."
                )
                % {"line": line},
            )
    return entry_add(CallList, holding=holding, who="\n".join(lines), **said)


def rick_reading_record(*, holding, rick, at, **said):
    happened_at(holding, at, rick.built, _("it was built"))
    return entry_add(RickReading, holding=holding, rick=rick, at=at, **said)


def rick_empty(*, id, holding, made_by, rick, emptied, note=""):
    """Say that a rick is gone. Takes what every service takes, so that one form serves.

    The rick itself is the entry that says so: ``id``, ``made_by`` and ``note`` add
    nothing to it.
    """
    happened(holding, emptied, rick.built, _("it was built"), "emptied")
    with writing(holding):
        rick.refresh_from_db()
        if rick.emptied not in (None, emptied):
            raise SaidOtherwise(f"{rick} was already said to be empty, another day.")
        _nothing_left(rick)
        rick.emptied = emptied
        rick.save(update_fields=("emptied",))
    return rick


def lot_test_record(*, holding, date, **said):
    not_ahead(holding, date)
    says_something("moisture_pct", *(said.get(name) for name in MEASURES))
    return entry_add(LotTest, holding=holding, date=date, **said)


def lot_set_apart(*, lot, **said):
    """Keep a lot from sale: something is wrong with it."""
    return _stand(lot, set_apart=True, check=None, **said)


def lot_clear(*, lot, **said):
    """Let a lot go that was set apart, once what made it so is cleaned down."""
    return _stand(lot, set_apart=False, check=_cleaned_down, **said)


def _stand(lot, *, holding, date, set_apart, check, **said):
    not_ahead(holding, date)
    with writing(holding):
        entry, is_new = entry_write(
            LotStanding,
            holding=holding,
            lot=lot,
            date=date,
            set_apart=set_apart,
            **said,
        )
        if is_new:
            lot.refresh_from_db()
            if lot.set_apart == set_apart:
                how = _("set apart") if set_apart else _("not set apart")
                raise NothingChanges(
                    _("Lot %(lot)s is %(how)s already.") % {"lot": lot, "how": how}
                )
            if check:
                check(lot)
            lot.set_apart = set_apart
            lot.save(update_fields=("set_apart",))
    return entry


def _cleaned_down(lot):
    """After a fishy smell the drum is cleaned before its lots are let go."""
    for run in smelly_runs(holding=lot.holding, lot=lot):
        cleaned = Cleaning.objects.filter(holding=lot.holding, date__gte=run.date)
        if not cleaned.exists():
            refuse(
                "lot",
                _(
                    "The drum smelt of fish on %(day)s, and no cleaning is written "
                    "down since; clean it down and write that first."
                )
                % {"day": run.date},
            )


def _check_shape(rick):
    """A shape has all its sizes, and no sizes stand without one."""
    wanted = SIZES.get(rick.shape, ())
    for name in wanted:
        if getattr(rick, name) is None:
            refuse(name, _("Such a shape wants this size, too."))
    if wanted:
        shape_of(rick)
    elif any(getattr(rick, name) is not None for name in SIZES[Rick.Shape.GABLED]):
        refuse("shape", _("Say of which shape these sizes are."))


def _nothing_left(rick):
    place = place_of(holding=rick.holding, kind=Place.Kind.RICK, subject=rick.pk)
    place.balance.refresh_from_db()
    if place.balance.grams:
        refuse(
            "emptied",
            _(
                "%(kg).0f kg are still in %(rick)s by the book; thresh them, or write "
                "down how they were lost."
            )
            % {"kg": place.balance.grams / 1000, "rick": rick},
        )
