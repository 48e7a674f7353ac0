"""The order of carting, as a part of a page."""

from django.utils.translation import gettext as _

from sheafwright.answers.carting import CAUTION, hours_said
from sheafwright.answers.work_working import span
from sheafwright.feeds.telling import told
from sheafwright.web.sheets import Section
from sheafwright.web.tables import Column, Table
from sheafwright.web.templatetags.said import UNKNOWN, weekday


def carting_section(answer, actions=(), heading=""):
    """A section with the whole order; ``answer`` is a `Carting`."""
    return Section(
        heading=heading,
        sentence=answer.sentence if heading else "",
        # A page of one question has said it already.
        care=(told(CAUTION),) if heading else (),
        table=_table(answer),
        actions=actions,
        working=answer.working,
    )


def _table(answer):
    columns = (
        Column(_("Stooks")),
        Column(_("Sheaves"), True),
        Column(_("From")),
        Column(_("Until")),
        Column(_("Loads"), True),
        Column(_("Hours"), True),
        Column(_("To")),
        Column(_("Room left, sheaves"), True),
    )
    return Table(columns, tuple(_row(each) for each in answer.sets))


def _row(each):
    left = each.stored.left
    return (
        each.stook_set.name,
        f"{each.stook_set.sheaves:,}",
        weekday(each.begins),
        weekday(each.ends),
        span(each.cartage.loads),
        hours_said(each.hours),
        each.stored.store or UNKNOWN,
        UNKNOWN if left is None else span(left),
    )
