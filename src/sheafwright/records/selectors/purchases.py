"""What was bought, and for which harvest."""

import datetime
import functools
import operator

from django.db.models import Q

from sheafwright.records.models import Purchase

BEFORE = {
    Purchase.Line.SEED: 8,
    Purchase.Line.CONTRACTOR: 9,
}
"""Month from which it is for next year's harvest."""
AFTER = {
    Purchase.Line.STORAGE: 7,
    Purchase.Line.HAULAGE: 7,
    Purchase.Line.HIRE: 7,
}
"""Month before which it is of the harvest of the year before: winter's work."""


def purchases(*, holding):
    """Those that count, by day."""
    found = Purchase.objects.filter(holding=holding, struck=None)
    return found.select_related("sowing__field", "lot")


def purchases_for(*, holding, harvest_year):
    """Those of a harvest."""
    says = ("harvest_year", "sowing__harvest_year", "lot__harvest_year")
    begins = datetime.date(harvest_year - 1, 1, 1)
    ends = datetime.date(harvest_year + 1, 12, 31)
    near = Q(harvest_year=None, sowing=None, lot=None, date__range=(begins, ends))
    of_it = functools.reduce(operator.or_, (Q(**{s: harvest_year}) for s in says))
    found = purchases(holding=holding).filter(near | of_it)
    return [each for each in found if harvest_of(each) == harvest_year]


def harvest_of(purchase):
    """The harvest that it says, or its crop or lot does; else by what for, and when."""
    for says in (purchase, purchase.sowing, purchase.lot):
        if says and says.harvest_year:
            return says.harvest_year
    day, line = purchase.date, purchase.line
    if line in BEFORE:
        return day.year + (day.month >= BEFORE[line])
    return day.year - (day.month < AFTER.get(line, 0))


def purchases_between(*, holding, begins, ends):
    """Every one of a period, struck out or not, by day."""
    found = Purchase.objects.filter(holding=holding, date__range=(begins, ends))
    return found.select_related("sowing__field", "lot", "struck")
