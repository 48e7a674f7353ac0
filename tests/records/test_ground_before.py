"""What stood before a crop, as the nitrogen of its ground is judged by it."""

import datetime

import pytest

from sheafwright.answers.soil_supply import Ley
from sheafwright.records.models import PastCrop
from sheafwright.records.selectors.ground import field_now
from sheafwright.records.selectors.ground_before import Lacks, before
from sheafwright.records.services.ground import input_apply, ley_add, past_crop_add

SOWN, TODAY = datetime.date(2025, 10, 5), datetime.date(2026, 3, 1)
CLOVER = {"what": "clover", "sward": "clover", "use": "grazed"}


@pytest.fixture
def stood(marl, long_meadow):
    """What stood before the harvest of 2026."""

    def stood(is_sown=True):
        field = field_now(holding=marl, id=long_meadow.pk).field
        return before(field, 2026, SOWN if is_sown else TODAY, is_sown)

    return stood


def _bore(write, field, year, crop=PastCrop.Crop.BEANS):
    write(past_crop_add, field=field, harvest_year=year, crop=crop)


def _lay(write, field, sown, ploughed, **said):
    days = {
        "sown": sown and datetime.date(sown, 4, 1),
        "ploughed": ploughed and datetime.date(ploughed, 9, 10),
    }
    write(ley_add, field=field, **days, **(CLOVER | said))


def test_of_a_field_of_which_nothing_is_said_the_last_crop_is_asked(stood):
    assert stood().lacks == {Lacks.LAST_CROP}


def test_the_last_years_crop_counts(stood, write, long_meadow):
    _bore(write, long_meadow, 2024, PastCrop.Crop.ROOTS)
    _bore(write, long_meadow, 2025)
    assert (stood().last_crop, stood().ley, stood().lacks) == ("beans", None, set())


def test_a_crop_of_two_years_ago_leaves_a_year_unsaid(stood, write, long_meadow):
    _bore(write, long_meadow, 2024)
    assert stood().lacks == {Lacks.LAST_CROP}


def test_a_wheat_of_the_record_is_a_cereal(stood, sowing):
    sowing.harvest_year = 2025
    sowing.save()
    assert stood().last_crop == "cereals"


def test_a_ley_ploughed_for_the_crop_was_the_last(stood, write, long_meadow):
    _bore(write, long_meadow, 2022)
    _lay(write, long_meadow, 2023, 2025)
    told = stood()
    assert (told.last_crop, told.lacks) == (None, set())
    assert told.ley == Ley(2, "clover", "grazed", crops_since=1)


def test_a_ley_is_counted_back_over_the_crops_since(stood, write, long_meadow):
    _lay(write, long_meadow, 2019, 2023)
    _bore(write, long_meadow, 2024)
    _bore(write, long_meadow, 2025, PastCrop.Crop.OATS)
    assert stood().ley == Ley(4, "clover", "grazed", crops_since=3)
    assert stood().last_crop == "cereals"


def test_a_ley_ploughed_after_sowing_is_none_of_its(stood, write, long_meadow):
    _bore(write, long_meadow, 2025)
    write(
        ley_add,
        field=long_meadow,
        sown=datetime.date(2025, 4, 1),
        ploughed=SOWN + datetime.timedelta(20),
        **CLOVER,
    )
    assert stood().ley is None


@pytest.mark.parametrize("unsaid", [{"sward": ""}, {"use": ""}])
def test_of_a_ley_its_sward_and_use_are_asked(stood, write, long_meadow, unsaid):
    _lay(write, long_meadow, 2023, 2025, **unsaid)
    assert stood().lacks == {Lacks.LEY}
    _lay(write, long_meadow, 2023, 2025)
    assert stood().lacks == set()


def test_a_ley_that_lies_is_the_last_of_what_may_be_sown(stood, write, long_meadow):
    _lay(write, long_meadow, 2023, None)
    assert stood(is_sown=False).ley == Ley(3, "clover", "grazed", crops_since=1)
    assert stood().ley is None


def test_a_ley_written_down_again_as_ploughed_lies_no_more(stood, write, long_meadow):
    _lay(write, long_meadow, 2022, None)
    _lay(write, long_meadow, 2022, 2024)
    _bore(write, long_meadow, 2025)
    assert stood(is_sown=False).ley == Ley(2, "clover", "grazed", crops_since=2)


@pytest.mark.parametrize(
    ("product", "day", "counts"),
    [
        ("farmyard manure", datetime.date(2025, 9, 1), True),
        ("Well rotted muck", datetime.date(2025, 9, 1), True),
        ("hen manure", datetime.date(2025, 9, 1), False),
        ("ground limestone", datetime.date(2025, 9, 1), False),
        ("farmyard manure", datetime.date(2025, 3, 1), False),
        ("farmyard manure", datetime.date(2026, 2, 1), False),
    ],
)
def test_manure_since_the_last_harvest_counts(
    stood, write, long_meadow, product, day, counts
):
    write(
        input_apply,
        field=long_meadow,
        date=day,
        product=product,
        quantity_kg=20_000,
        evidence="own",
    )
    assert stood().manure_t_per_ha == (20 / long_meadow.area_ha if counts else 0)
