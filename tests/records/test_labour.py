"""The labour book: whose hours, at what, of which lot, for how much; and what comes."""

import datetime
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from sheafwright.records.models import Labour, Lot, SavedAnswer
from sheafwright.records.selectors.labour import (
    labour_book,
    labour_needed,
    labour_years,
)
from sheafwright.records.services.threshing import Outturn, threshing_record
from sheafwright.records.services.work import labour_rate_set, labour_record

TODAY = datetime.date(2027, 2, 1)
THRESHED = datetime.date(2026, 11, 3)
D = datetime.date
CUT, NEW_YEAR = D(2026, 8, 5), D(2026, 1, 1)


@pytest.fixture(autouse=True)
def in_february(marl):
    marl.looked_at_as_of = TODAY
    marl.save()


@pytest.fixture
def works(writes):
    def works(who, hours, task="", date=CUT, **said):
        said = {"job": "work", "task": task, **said}
        return writes(labour_record, who=who, hours=hours, date=date, **said)

    return works


@pytest.fixture
def rate(writes):
    def rate(pounds, since=NEW_YEAR, **said):
        return writes(labour_rate_set, rate=Decimal(pounds), since=since, **said)

    return rate


def book(marl, year=2026):
    return labour_book(holding=marl, harvest_year=year)


def told(lines):
    return {line.name: (line.hours, line.cost) for line in lines}


def test_hours_are_summed_by_task_and_by_person(marl, works):
    works("Ann", 4, "cutting")
    works("ann ", 2, "carting")
    works("Ben", 3, "cutting")
    said = book(marl)
    assert told(said.by_task) == {"cutting": (7, None), "carting": (2, None)}
    assert told(said.by_person) == {"Ann": (6, None), "Ben": (3, None)}
    assert (said.hours, said.without_rate) == (9, 9)


def test_tasks_come_in_the_order_of_the_year(marl, works):
    for task in ("threshing", "", "sowing", "cutting"):
        works("Ann", 1, task, date=D(2026, 8, 5) if task else D(2026, 8, 6))
    years = [line.name for year in (2026, 2027) for line in book(marl, year).by_task]
    assert years == ["cutting", "threshing", "", "sowing"]


def test_the_rate_that_says_most_counts_and_the_later_of_two(marl, works, rate):
    rate("10")
    rate("12", since=D(2026, 6, 1))
    rate("15", task="threshing")
    rate("14", who="Ann")
    works("Ben", 1, "cutting")
    works("Ben", 1, "cutting", date=D(2026, 5, 1))
    works("Ben", 1, "threshing", date=D(2026, 11, 1))
    works("ANN", 1, "threshing", date=D(2026, 11, 1))
    costs = [each.cost for each in book(marl).worked]
    assert costs == [10, 12, 15, 14]


def test_work_before_any_rate_has_none(marl, works, rate):
    rate("10", since=D(2026, 9, 1))
    works("Ben", 2, "cutting")
    works("Ben", 1, "cutting", date=D(2026, 9, 2))
    said = book(marl)
    assert (said.cost, said.without_rate) == (10, 2)
    assert told(said.by_task)["cutting"] == (3, None)


def test_a_day_s_threshing_is_shared_among_what_the_drum_gave(
    marl, works, rate, threshing
):
    rate("10")
    works("Ann", 13, "threshing", date=THRESHED)
    said = told(book(marl).by_lot)
    assert said["R-26-1"] == (pytest.approx(8), pytest.approx(80))
    assert said["G-26-1"] == (pytest.approx(5), pytest.approx(50))


def test_hours_given_to_a_lot_are_its_own(marl, works, threshing):
    reed = Lot.objects.get(code="R-26-1")
    works("Ann", 3, "straw", date=D(2027, 1, 5), lot=reed)
    assert told(book(marl).by_lot) == {"R-26-1": (3, None)}


def test_winter_s_work_is_of_the_harvest_before_it(marl, works):
    works("Ann", 1, "threshing", date=D(2027, 1, 5))
    works("Ann", 1, "sowing", date=D(2026, 10, 5))
    assert labour_years(holding=marl) == [2027, 2026]
    assert [each.entry.task for each in book(marl, 2026).worked] == ["threshing"]


def test_hours_worked_for_neighbours_are_not_ours(marl, works):
    works("Dan", 5, "carting", owed=Labour.Owed.TO_US)
    works("Dan", 4, "carting", owed=Labour.Owed.TO_THEM)
    said = book(marl)
    assert (said.hours, said.elsewhere) == (4, 5)


def test_what_came_of_the_harvest_is_weighed_beside_it(marl, works, threshing):
    assert (book(marl).straw_kg, book(marl).area_ha) == (4000, 2.0)


def test_a_rate_to_come_or_of_less_than_nothing_is_refused(rate):
    with pytest.raises(ValidationError, match="still to come"):
        rate("10", since=D(2027, 3, 1))
    with pytest.raises(ValidationError):
        rate("-1")


def test_the_need_is_of_what_is_sown(marl, writes, sowing, works):
    marl.looked_at_as_of = D(2026, 3, 1)
    marl.save()
    need = labour_needed(holding=marl)
    assert need.question.harvest_year == 2026
    assert need.question.area == 2.0
    assert "sowing" not in {each.task for each in need.tasks}


def test_the_need_is_of_the_plan_where_nothing_is_sown(marl):
    years = [{"year": 2027, "crop": "autumn_wheat"}]
    SavedAnswer.objects.create(
        holding=marl,
        question="cropping",
        subject=marl.pk,
        day=TODAY,
        tables_sha256="",
        engine_version="",
        inputs_sha256="",
        seed=1,
        said={
            "fields": [
                {"field": "A", "area_ha": 3.0, "years": years},
                {
                    "field": "B",
                    "area_ha": 9.0,
                    "years": [{"year": 2027, "crop": "ley"}],
                },
            ]
        },
    )
    need = labour_needed(holding=marl)
    assert (need.question.harvest_year, need.question.area) == (2027, 3.0)
    assert need.tasks[0].task == "sowing"


def test_own_hours_of_past_harvests_tell_the_need(marl, sowing, works, writes):
    for _ in range(3):
        works("Ann", 10, "carting", sowing=sowing)
    marl.looked_at_as_of = D(2027, 3, 1)
    marl.save()
    later = type(sowing).objects.get(pk=sowing.pk)
    later.pk, later.harvest_year, later.date = None, 2027, D(2026, 10, 1)
    later.save(force_insert=True)
    need = labour_needed(holding=marl)
    carting = next(each for each in need.tasks if each.task == "carting")
    assert (carting.harvests, carting.likely) == (1, 30)


def test_nothing_sown_or_planned_needs_nothing(marl):
    assert labour_needed(holding=marl) is None


def test_a_second_run_on_a_day_shares_its_hours(marl, works, writes, threshing, cut):
    gave = (Outturn("reed", 6500, "R2"),)
    writes(threshing_record, stook_set=cut.stook_set, date=THRESHED, outturn=gave)
    works("Ann", 13, "threshing", date=THRESHED)
    said = told(book(marl).by_lot)
    assert said["R2"][0] == pytest.approx(6.5)
    assert sum(hours for hours, _cost in said.values()) == pytest.approx(13)
