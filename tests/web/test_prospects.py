"""A field's page and Growing: what lacks, and what is told once it is said."""

import datetime
import re

import pytest

from sheafwright.records.models import Ley, SavedAnswer, WeatherSource
from sheafwright.records.services.crop import plant_count_record
from sheafwright.records.services.ground import ley_add

SPRING = datetime.date(2026, 3, 20)
BAND = {"p10": 1.0, "p50": 2.0, "p90": 3.0}


@pytest.fixture
def as_ann(client, ann, marl, sowing):
    marl.looked_at_as_of = SPRING
    marl.save()
    client.force_login(ann)
    return client


@pytest.fixture
def field_page(as_ann, long_meadow):
    """What the page of Long Meadow says, and where its buttons lead."""

    def look():
        page = as_ann.get(f"/marl-hollow/fields/{long_meadow.pk}/").content.decode()
        return _words(page), re.findall(r'href="/marl-hollow/write/([^"]*)"', page)

    return look


@pytest.fixture
def growing(as_ann):
    return lambda: _words(as_ann.get("/marl-hollow/growing/").content.decode())


def _words(page):
    main = page[page.index("<main") : page.index("</main>")]
    return " ".join(
        re.sub(r"<[^>]*>", " ", main).translate({0xA0: " ", 0x2060: ""}).split()
    )


def _keep(marl, question, about, said, chart=""):
    SavedAnswer.objects.create(
        holding=marl,
        question=question,
        subject=about.pk,
        day=SPRING,
        seed=1,
        said=said,
        chart=chart,
    )


def _rain(marl, ann):
    source = WeatherSource.objects.create(holding=marl, made_by=ann, name="The house")
    _keep(marl, "rain", source, {"rain_mm_per_year": 550})


def _lodging(marl, sowing, measured=1.0):
    crop = {"sown": "2025-09-28", "plants_per_m2": 150, "height_m": 1.2}
    change = {"change": "less_nitrogen", "settled": True, "chance_over_tenth": 0.3}
    said = {
        "sentence": "It is likelier. What helps is less nitrogen.",
        "chance_over_tenth": 0.62,
        "against_reference": {"chance_over_tenth": 0.4},
        "changes": [change | {"crop": crop | {"nitrogen_index": 1}}],
        "gusts_measured_share": measured,
        "by_date": [{"date": "2026-06-01"}],
        "working": [],
    }
    _keep(marl, "lodging", sowing, said, chart="<svg id='lies'></svg>")


def _yield(marl, sowing, **said):
    usual = {
        "sentence": "Told.",
        "product": "reed",
        "own_harvests": 0,
        "book_worth_own_harvests": 2.0,
        "too_rich": False,
        "working": [],
    }
    parts = ("straw", "product", "grain")
    bands = {f"{part}_t_per_ha": BAND for part in parts}
    _keep(marl, "yield", sowing, usual | bands | said)


def test_what_is_not_said_of_the_ground_is_asked_for_with_its_buttons(
    field_page, long_meadow
):
    says, buttons = field_page()
    assert (
        "Say what kind of soil it is, what it bore for the harvest of 2025 and which "
        "weather record it has: what the ground gives and the crop may yield turns on "
        "it."
    ) in says
    for button in (
        f"field-correction/?field={long_meadow.pk}",
        f"past-crop/?field={long_meadow.pk}&amp;harvest_year=2025",
        "weather/",
    ):
        assert button in buttons


def test_a_rich_ley_is_warned_of(field_page, marl, ann, writes, long_meadow):
    _rain(marl, ann)
    long_meadow.soil_kind = "deep_clay"
    long_meadow.save()
    writes(
        ley_add,
        field=long_meadow,
        what="white clover",
        sward=Ley.Sward.CLOVER,
        use=Ley.Use.GRAZED,
        sown=datetime.date(2021, 4, 1),
        ploughed=datetime.date(2025, 9, 1),
    )
    says, _buttons = field_page()
    assert "Index 5" in says
    assert "More makes soft straw, and lodging: take a root crop" in says
    assert "ploughed 1 Sep 2025; much clover; grazed" in says
    assert "A clover ley of 4 years" in says


def test_whether_it_will_stand_is_told_with_its_picture(
    field_page, as_ann, marl, sowing, long_meadow
):
    says, _buttons = field_page()
    assert "Whether it will stand was not worked out yet." in says
    _lodging(marl, sowing)
    says, _buttons = field_page()
    assert (
        "6 chances in 10 that more than a tenth of it goes down before it is cut; 4 "
        "chances in 10 on a usual field. What helps is less nitrogen."
    ) in says
    assert "nitrogen index 1 3 chances in 10" in says
    assert "gusts" not in says
    page = as_ann.get(f"/marl-hollow/fields/{long_meadow.pk}/").content.decode()
    assert "<svg id='lies'></svg>" in page


def test_gusts_that_were_made_are_said_to_be(growing, marl, sowing):
    _lodging(marl, sowing, measured=0.0)
    assert "The weather record has no gusts of its own" in growing()


def test_what_the_engine_refuses_is_shown(growing, field_page, marl, sowing):
    _keep(marl, "lodging", sowing, {"refused": "No wind is on record."})
    assert "No wind is on record." in growing()
    assert "No wind is on record." in field_page()[0]


@pytest.fixture
def known_ground(marl, ann, writes, long_meadow):
    _rain(marl, ann)
    long_meadow.soil_kind = "medium"
    long_meadow.save()
    said = {"sward": Ley.Sward.GRASS, "use": Ley.Use.CUT, "what": "ryegrass"}
    days = {
        "sown": datetime.date(2023, 4, 1),
        "ploughed": datetime.date(2025, 9, 1),
    }
    writes(ley_add, field=long_meadow, **said, **days)


def test_what_it_will_yield_is_told_in_the_readers_units(
    field_page, ann, marl, sowing, known_ground
):
    assert "Being worked out" in field_page()[0]
    _yield(marl, sowing, own_harvests=3)
    says, _buttons = field_page()
    assert (
        "Expect 2.00 t/ha of reed and 2.00 t/ha of grain: 8 chances in 10 that the "
        "reed comes to 1.00–3.00 t/ha."
    ) in says
    assert "Of all 2.00 ha that is 4.00 t of reed and 4.00 t of grain, about £" in says
    assert "3 harvests of your own count, and the book as about 2 more." in says
    assert "127 cm high as is usual" in says
    ann.units = "imperial"
    ann.save()
    says, _buttons = field_page()
    assert "tons/acre of reed" in says
    assert "50.0 in high as is usual" in says


def test_long_straw_is_given_no_price_that_nobody_knows(
    field_page, marl, sowing, known_ground
):
    _yield(marl, sowing, product="long straw", too_rich=True)
    says, _buttons = field_page()
    assert "4.00 t of long straw and 4.00 t of grain." in says
    assert "What lodges for too much nitrogen is not taken off." in says


def test_a_count_just_written_is_answered_on_growing(growing, writes, sowing):
    writes(
        plant_count_record,
        sowing=sowing,
        date=SPRING,
        counts=[16, 17, 16, 17] * 3,
        place_m2=0.25,
    )
    assert "66 plants/m² stand" in growing()
    assert "short of the 93 aimed for. Leave it" in growing()


def test_a_field_in_which_nothing_stands_tells_of_its_ground(
    field_page, sowing, known_ground
):
    sowing.delete()
    says, _buttons = field_page()
    assert "What the ground would give a wheat of 2026" in says
    assert "Will it stand?" not in says


def test_a_hand_is_told_what_lacks_but_has_no_button_to_it(
    client, as_ann, ben, long_meadow
):
    client.force_login(ben)
    page = client.get(f"/marl-hollow/fields/{long_meadow.pk}/").content.decode()
    assert "Say what kind of soil it is" in _words(page)
    assert "field-correction" not in page
