"""What was put right, as a part of a page."""

from django.utils.translation import gettext as _

from sheafwright.records.selectors.corrections import corrections_of
from sheafwright.web.sheets import Section
from sheafwright.web.tables import Column, Table
from sheafwright.web.templatetags.said import day_and_year


def put_right_section(request, actions=(), **which):
    """A section with the facts of a thing, or of a period, that were put right."""
    holding, units = request.membership.holding, request.user.units
    columns = (
        Column(_("Fact")),
        Column(_("Was")),
        Column(_("Is")),
        Column(_("Why")),
        Column(_("By, on")),
    )
    rows = tuple(
        (
            f"{each.thing}: {each.fact}",
            each.was,
            each.now,
            each.why,
            f"{each.by}, {day_and_year(each.date)}",
        )
        for each in corrections_of(holding=holding, units=units, **which)
    )
    if not rows:
        return Section(actions=actions)
    return Section(heading=_("Put right"), table=Table(columns, rows), actions=actions)
