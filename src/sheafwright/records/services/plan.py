"""What the cropping plan is to keep to."""

from django.utils.translation import gettext as _

from sheafwright.records.clock import today
from sheafwright.records.models import AreaWanted, PlanFixed
from sheafwright.records.services.checks import refuse
from sheafwright.records.services.entry import entry_add

AHEAD = 20
"""Nobody plans further. [a]"""


def plan_fix(*, holding, field, harvest_year, crop="", **said):
    """Fix what a field bears in a year, or, with no crop, free it again."""
    _check_ahead(holding, harvest_year)
    if crop and field.stays_grass:
        refuse("field", _("%(field)s stays in grass.") % {"field": field})
    if crop and field.sowings.filter(harvest_year=harvest_year).exists():
        refuse("harvest_year", _("It is sown for that harvest already."))
    return entry_add(
        PlanFixed,
        holding=holding,
        field=field,
        harvest_year=harvest_year,
        crop=crop,
        **said,
    )


def area_want(*, holding, harvest_year, least_ha=None, most_ha=None, **said):
    """Want so much of a crop in a year; with neither limit, any area will do again."""
    _check_ahead(holding, harvest_year)
    if least_ha is not None and most_ha is not None and most_ha < least_ha:
        refuse("most_ha", _("The most should not be below the least."))
    return entry_add(
        AreaWanted,
        holding=holding,
        harvest_year=harvest_year,
        least_ha=least_ha,
        most_ha=most_ha,
        **said,
    )


def _check_ahead(holding, harvest_year):
    this = today(holding).year
    if not this <= harvest_year <= this + AHEAD:
        refuse(
            "harvest_year",
            _("A plan is for harvests from %(first)d to %(last)d.")
            % {"first": this, "last": this + AHEAD},
        )
