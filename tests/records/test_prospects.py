"""What is told of a standing crop, and by what."""

import datetime

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from sheafwright.records.models import (
    Field,
    PastCrop,
    SavedAnswer,
    Sowing,
    WeatherSource,
)
from sheafwright.records.saved import standing
from sheafwright.records.selectors.ground_before import Lacks
from sheafwright.records.selectors.prospects import prospects
from sheafwright.records.selectors.stand import By
from sheafwright.records.services.crop import (
    observation_record,
    plant_count_record,
    weed_walk_record,
)
from sheafwright.records.services.ground import past_crop_add
from sheafwright.records.services.seed import germination_test_add

SPRING = datetime.date(2026, 3, 20)


@pytest.fixture
def told(marl, sowing):
    """What is told of Long Meadow on a day."""

    def told(day=SPRING):
        marl.looked_at_as_of = day
        marl.save()
        sowings = list(standing(marl))
        return prospects(holding=marl, sowings=sowings)[sowing.pk]

    return told


@pytest.fixture
def known_ground(marl, ann, write, long_meadow):
    """Medium soil after beans, where 650 mm fall."""
    long_meadow.soil_kind = Field.SoilKind.MEDIUM
    long_meadow.save()
    write(past_crop_add, field=long_meadow, harvest_year=2025, crop=PastCrop.Crop.BEANS)
    source = WeatherSource.objects.create(holding=marl, made_by=ann, name="The house")
    _keep(marl, "rain", source, {"rain_mm_per_year": 650})


def _keep(marl, question, about, said):
    SavedAnswer.objects.create(
        holding=marl,
        question=question,
        subject=about.pk,
        day=SPRING,
        seed=1,
        said=said,
    )


def _count(write, sowing, plants, day=SPRING):
    write(plant_count_record, sowing=sowing, date=day, counts=plants, place_m2=0.25)


def test_what_nobody_said_of_the_ground_is_asked_for(told):
    assert told().grown.supplied.lacks == {Lacks.SOIL, Lacks.LAST_CROP, Lacks.RAIN}


def test_ground_that_is_known_gives_its_nitrogen(told, known_ground):
    answer = told().grown.supplied.answer
    assert (answer.index, answer.beside_sound) == (2, "sound")


def test_rain_that_could_not_be_told_is_said(told, known_ground):
    SavedAnswer.objects.update(said={"refused": "Too few years."})
    supplied = told().grown.supplied
    assert (supplied.answer, supplied.refused) == (None, "Too few years.")


def test_the_plants_are_as_counted_and_judged_by_what_was_aimed_for(
    told, write, sowing
):
    _count(write, sowing, [16, 17, 16, 17] * 3)
    told = told()
    assert (told.grown.plants.value, told.grown.plants.by) == (66, By.SEEN)
    # Sown so early, a few more than 80 are aimed for.
    assert told.counted.answer.verdict == "short"
    assert told.is_count_fresh


def test_an_old_count_asks_for_nothing_more(told, write, sowing):
    _count(write, sowing, [20, 22, 18, 20])
    assert not told(SPRING + datetime.timedelta(61)).is_count_fresh


def test_a_count_that_cannot_be_judged_is_said_in_a_sentence(told, write, sowing):
    _count(write, sowing, [4000])
    assert told().counted.sentence.endswith("2,000.")


def test_plants_come_of_the_seed_rate_where_the_seed_is_tested(
    told, write, sowing, known_ground
):
    sowing.rate_kg_per_ha = 120
    sowing.save()
    assert told().grown.plants.by is By.USUAL
    lot = sowing.seed_lot
    lot.thousand_grain_weight_g = 48
    lot.save()
    write(germination_test_add, seed_lot=lot, date=SPRING, came_up=[95, 95, 95, 95])
    plants = told().grown.plants
    # 250 seeds to the square metre, of which some never make a plant.
    assert plants.by is By.RATE
    assert 100 < plants.value < 0.95 * 250


def test_height_is_as_seen_or_as_the_variety_had_it_here(told, write, sowing):
    assert told().grown.height.by is By.USUAL
    earlier = Sowing.objects.get(pk=sowing.pk)
    earlier.pk = earlier.id = None
    earlier._state.adding = True
    earlier.date, earlier.harvest_year = datetime.date(2023, 10, 1), 2024
    earlier.save()
    day = datetime.date(2024, 7, 1)
    write(observation_record, sowing=earlier, date=day, height_cm=120)
    height = told().grown.height
    assert (height.value, height.by) == (120, By.VARIETY)
    write(observation_record, sowing=sowing, date=SPRING, height_cm=30)
    assert told().grown.height.by is By.SEEN


def test_clover_is_as_last_seen_this_year(told, write, sowing):
    for day, height in ((SPRING, 6), (datetime.date(2026, 5, 2), 18)):
        write(weed_walk_record, sowing=sowing, date=day, clover_height_cm=height)
    assert told(datetime.date(2026, 5, 3)).clean.green_butts


def test_money_is_told_of_reed_and_grain_by_the_area_sown(told, marl, sowing):
    band = {"p10": 1.0, "p50": 2.0, "p90": 3.0}
    said = {"product": "reed", "product_t_per_ha": band, "grain_t_per_ha": band}
    _keep(marl, "yield", sowing, said)
    reed, grain = 2.0 * sowing.area_ha, 2.0 * sowing.area_ha
    assert told().likely_gbp == pytest.approx(_worth(reed, grain))


def _worth(reed_t, grain_t):
    from sheafwright.feeds.tables import shipped

    prices = shipped("worth")["perfect_crop"]
    return (
        reed_t * prices["reed_gbp_per_t"].value
        + grain_t * prices["grain_gbp_per_t"].value
    )


def test_many_crops_take_as_many_queries_as_one(told, marl, ann, write, sowing):
    told()

    def queries():
        sowings = list(standing(marl))
        with CaptureQueriesContext(
            connection,
        ) as asked:
            prospects(holding=marl, sowings=sowings)
        return len(sowings), len(asked)

    one = queries()
    for number in range(4):
        field = Field.objects.create(
            holding=marl, made_by=ann, name=f"F{number}", area_ha=2, soil_kind="light"
        )
        another = Sowing.objects.get(pk=sowing.pk)
        another.pk = another.id = None
        another._state.adding = True
        another.field = field
        another.save()
        _count(write, another, [40, 41])
    assert queries() == (5, one[1])
