"""The labour book: hours by task, person and lot, their cost, and what is to come."""

import collections
import dataclasses
import datetime
from decimal import Decimal

from django.db.models import Q, Sum

from sheafwright.answers.labour_need import (
    NeedQuestion,
    Sown,
    labour_need,
)
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.labour import TASKS
from sheafwright.records.clock import today
from sheafwright.records.due.cropping import KEPT
from sheafwright.records.models import (
    Labour,
    LabourRate,
    Line,
    Lot,
    Movement,
    Place,
    SavedAnswer,
    Sowing,
    Threshing,
)
from sheafwright.records.models.plan import PlanCrop
from sheafwright.records.models.store import STRAW
from sheafwright.records.models.work import Task
from sheafwright.records.saved import saved
from sheafwright.records.selectors.names import name_key

TURNS = {Task.SOWING: 8, Task.THRESHING: -7, Task.STRAW: -7, Task.GRAIN: -7}
"""Month from which sowing is for next year's harvest; after which winter's work is of
the year's own, and before it of the year's before."""
NEXT_FROM = 7
"""Month from which the season to come is the next harvest's."""
WHEATS = (PlanCrop.AUTUMN_WHEAT, PlanCrop.LATE_WHEAT)


@dataclasses.dataclass(frozen=True)
class Worked:
    """Hours of one entry."""

    entry: Labour
    harvest_year: int
    rate: Decimal | None
    """[£ h⁻¹]"""
    lots: dict[str, float]
    """Code to its share of them. [0–1]"""

    @property
    def hours(self):
        return self.entry.hours

    @property
    def cost(self):
        """[£]"""
        return None if self.rate is None else float(self.rate) * self.entry.hours


@dataclasses.dataclass(frozen=True)
class Spent:
    """Hours of one task, person or lot."""

    name: str
    hours: float
    cost: float | None
    """None where any of its hours has no rate. [£]"""


@dataclasses.dataclass(frozen=True)
class LabourBook:
    """One harvest's, from the ground made ready to the last bundle."""

    harvest_year: int
    worked: tuple[Worked, ...]
    """By day."""
    elsewhere: float
    """Worked for neighbours. [h]"""
    area_ha: float
    """That was sown for it."""
    straw_kg: float
    """Reed and long straw that came of it so far."""

    @property
    def hours(self):
        return sum(each.hours for each in self.worked)

    @property
    def cost(self):
        """Of the hours that have a rate. [£]"""
        return sum(each.cost for each in self.worked if each.cost is not None)

    @property
    def without_rate(self):
        """[h]"""
        return sum(each.hours for each in self.worked if each.cost is None)

    @property
    def by_task(self):
        """In the year's order."""
        names = [*Task.values, ""]
        lines = _summed((each.entry.task, 1.0, each) for each in self.worked)
        return sorted(lines, key=lambda line: names.index(line.name))

    @property
    def by_person(self):
        shown = {}
        for each in self.worked:
            name = " ".join(each.entry.who.split())
            shown.setdefault(name_key(name), name)
        lines = _summed(
            (shown[name_key(each.entry.who)], 1.0, each) for each in self.worked
        )
        return sorted(lines, key=lambda line: -line.hours)

    @property
    def by_lot(self):
        return sorted(
            _summed(
                (code, share, each)
                for each in self.worked
                for code, share in each.lots.items()
            ),
            key=lambda line: line.name,
        )


def labour_years(*, holding):
    """Harvests that hours were written down for, the last first."""
    return sorted({year for _task, year in _hours(holding)}, reverse=True)


def labour_book(*, holding, harvest_year):
    """`LabourBook` of a harvest."""
    entries = _entries_of(holding, harvest_year)
    return LabourBook(
        harvest_year=harvest_year,
        worked=_worked(holding, harvest_year, entries),
        elsewhere=sum(e.hours for e in entries if e.owed == Labour.Owed.TO_US),
        area_ha=_area(holding, harvest_year),
        straw_kg=_straw_kg(holding, harvest_year),
    )


def worked_for(*, holding, harvest_year):
    """`Worked` of each entry of a harvest that was not for a neighbour, by day."""
    entries = _entries_of(holding, harvest_year)
    return _worked(holding, harvest_year, entries)


def labour_needed(*, holding):
    """`LabourNeed` of the next harvest, of what is sown for it or else is planned.

    None while neither is known.
    """
    year = next_harvest(holding)
    crops = tuple(_sown(holding, year)) or tuple(_planned(holding, year))
    if not crops:
        return None
    own = own_hours(holding=holding, before=year)
    try:
        return labour_need(NeedQuestion(year, crops, own, _cut_from(holding, year)))
    except OutOfRange:
        # Hours of a few plants' ground: the tables tell more.
        return labour_need(NeedQuestion(year, crops, {}, _cut_from(holding, year)))


def own_hours(*, holding, before):
    """Each task's hours an hectare in the harvests before one, oldest first. [h/ha]"""
    hours = _hours(holding)
    years = Sowing.objects.filter(holding=holding, harvest_year__lt=before)
    summed = years.values_list("harvest_year").annotate(Sum("area_ha"))
    areas = dict(summed.order_by("harvest_year"))
    return {
        task: tuple(
            hours[task, year] / area
            for year, area in areas.items()
            if area and hours.get((task, year))
        )
        for task in TASKS
    }


def wheat_for(*, holding, harvest_year):
    """Area by field sown for a harvest, or else planned for it. [ha]"""
    areas = collections.Counter()
    sown = Sowing.objects.filter(holding=holding, harvest_year=harvest_year)
    for name, area in sown.values_list("field__name", "area_ha"):
        areas[name] += area
    return dict(areas) or dict(_planned_fields(holding, harvest_year))


def next_harvest(holding):
    """The one that stands; from July on, when it is as good as begun, the one after."""
    day = today(holding)
    return day.year + (day.month >= NEXT_FROM)


def _sown(holding, year):
    for sowing in Sowing.objects.filter(holding=holding, harvest_year=year):
        yield Sown(sowing.area_ha, sowing.date)


def _planned(holding, year):
    for _name, area in _planned_fields(holding, year):
        yield Sown(area)


def _planned_fields(holding, year):
    """Name and area of those that the plan, as last kept, gives to wheat."""
    kept = SavedAnswer.objects.filter(
        holding=holding, question=KEPT, said__has_key="fields"
    )
    last = kept.order_by("-made_at").first()
    for field in last.said["fields"] if last else ():
        if any(
            each["year"] == year and each["crop"] in WHEATS for each in field["years"]
        ):
            yield field["field"], field["area_ha"]


def _cut_from(holding, year):
    """When the first of its crops is likely fit to bind, as was last worked out."""
    sowings = list(Sowing.objects.filter(holding=holding, harvest_year=year))
    kept = saved(question="outlook", about=sowings) if sowings else {}
    days = [each.said.get("stages", {}).get("soft_dough", {}) for each in kept.values()]
    likely = [each["p50"] for each in days if each.get("p50")]
    return datetime.date.fromisoformat(min(likely)) if likely else None


def _entries_of(holding, harvest_year):
    """Every entry of a harvest."""
    near = _entries_near(holding, harvest_year)
    return [entry for entry in near if _harvest(entry) == harvest_year]


def _worked(holding, harvest_year, entries):
    rates = list(LabourRate.objects.filter(holding=holding))
    at_drum = {entry.date for entry in entries if entry.task == Task.THRESHING}
    given = _given_by_day(holding, at_drum)
    return tuple(
        Worked(entry, harvest_year, _rate(entry, rates), _lots(entry, given))
        for entry in entries
        if entry.owed != Labour.Owed.TO_US
    )


def _entries_near(holding, harvest_year):
    """Every entry of a harvest, and of others near it that say no crop and no lot."""
    # Days, not years: the database need not take every date apart.
    begins = datetime.date(harvest_year - 1, 1, 1)
    ends = datetime.date(harvest_year + 1, 12, 31)
    near = Q(sowing=None, lot=None, date__range=(begins, ends))
    of_it = Q(sowing__harvest_year=harvest_year) | Q(lot__harvest_year=harvest_year)
    found = Labour.objects.filter(near | of_it, holding=holding)
    return found.select_related("sowing__field", "lot")


def _hours(holding):
    """Hours of our own work by task and harvest; nothing where all was for others."""
    # A long book has thousands of entries: the database adds up what is alike.
    found = Labour.objects.filter(holding=holding).order_by()
    alike = ("task", "date", "owed", "sowing__harvest_year", "lot__harvest_year")
    hours = collections.Counter()
    for task, day, owed, *told, summed in found.values_list(*alike).annotate(
        Sum("hours")
    ):
        ours = owed != Labour.Owed.TO_US
        hours[task, _harvest_of(task, day, *told)] += summed * ours
    return hours


def _harvest(entry):
    """The harvest that hours were for."""
    return _harvest_of(
        entry.task,
        entry.date,
        entry.sowing and entry.sowing.harvest_year,
        entry.lot and entry.lot.harvest_year,
    )


def _harvest_of(task, day, of_crop, of_lot):
    """Its crop's or lot's harvest, else by task and day."""
    if of_crop or of_lot:
        return of_crop or of_lot
    turns = TURNS.get(task, 0)
    if turns > 0:
        return day.year + (day.month >= turns)
    if turns < 0:
        return day.year - (day.month < -turns)
    return day.year


def _given_by_day(holding, dates):
    """Day at the drum to the lots that it gave, and each one's share by mass."""
    given = collections.defaultdict(collections.Counter)
    runs = Threshing.objects.filter(holding=holding, date__in=dates)
    days = dict(runs.values_list("pk", "date"))
    lines = Line.objects.filter(
        movement__in=days,
        movement__reversed_by=None,
        place__kind=Place.Kind.LOT,
        grams__gt=0,
    ).values_list("movement", "place__subject", "grams")
    lots = Lot.objects.filter(pk__in={lot for _movement, lot, _grams in lines})
    codes = dict(lots.values_list("pk", "code"))
    for movement, lot, grams in lines:
        given[days[movement]][codes[lot]] += grams
    return {
        day: {code: grams / lots.total() for code, grams in lots.items()}
        for day, lots in given.items()
    }


def _lots(entry, given):
    if entry.lot:
        return {entry.lot.code: 1.0}
    return given.get(entry.date, {}) if entry.task == Task.THRESHING else {}


def _rate(entry, rates):
    """The rate that says most of an entry; of two that say as much, the later."""
    fit = [
        each
        for each in rates
        if each.since <= entry.date
        and (not each.who or name_key(each.who) == name_key(entry.who))
        and (not each.task or each.task == entry.task)
    ]
    if not fit:
        return None
    return max(fit, key=lambda each: (bool(each.who), bool(each.task), each.since)).rate


def _summed(parts):
    """`Spent` a name of parts: a name, the share of an entry, and the entry."""
    hours, cost, unknown = collections.Counter(), collections.Counter(), set()
    for name, share, worked in parts:
        hours[name] += share * worked.hours
        if worked.cost is None:
            unknown.add(name)
        else:
            cost[name] += share * worked.cost
    return [
        Spent(name, each, None if name in unknown else cost[name])
        for name, each in hours.items()
    ]


def _area(holding, year):
    sown = Sowing.objects.filter(holding=holding, harvest_year=year)
    return sown.aggregate(sum=Sum("area_ha", default=0.0))["sum"]


def _straw_kg(holding, year):
    lots = Lot.objects.filter(
        holding=holding,
        harvest_year=year,
        kind__in=STRAW,
    )
    came = Line.objects.filter(
        movement__kind=Movement.Kind.THRESH,
        movement__reversed_by=None,
        place__kind=Place.Kind.LOT,
        place__subject__in=lots.values("pk"),
        grams__gt=0,
    )
    return came.aggregate(sum=Sum("grams", default=0))["sum"] / 1000
