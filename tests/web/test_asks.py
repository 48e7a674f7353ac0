"""Questions answered on the spot: the page says what the answer module says."""

import datetime
import html
import re
from pathlib import Path

import pytest
from django.apps import apps
from django.core.files.uploadedfile import SimpleUploadedFile
from django.template.loader import render_to_string

from sheafwright.accounts.models import Units
from sheafwright.answers.drill import DrillQuestion, TrayTest, drill_calibration
from sheafwright.answers.grain import GrainQuestion, grain_choice
from sheafwright.answers.rick_size import Bay, Oblong, Round, rick_size
from sheafwright.answers.seed_increase import IncreaseQuestion, seed_increase
from sheafwright.answers.sowing import sowing
from sheafwright.answers.sowing_question import SowingQuestion
from sheafwright.answers.working import Step
from sheafwright.feeds.holding import DEMO
from sheafwright.feeds.telling import Reader, mark, read_by
from sheafwright.records.models import GerminationTest
from sheafwright.web.asks import ASKS

SOWN = datetime.date(2026, 10, 10)
SEED = {"weight": "48", "germination": "92", "sown": "2026-10-10", "soil": "medium"}
ROOF = {"pitch": "50", "ends": "hip", "material": "combed_reed", "work": "new_coat"}
GROUND = {"after": "other", "tillering": "free"}
SAID = {
    "seed-rate": SEED | GROUND | {"row_spacing": "7 in", "purpose": "straw"},
    "drill": {
        "wanted": "1.2 cwt/acre",
        "setting": "42",
        "catches": "510 498 505 g",
        "width": "3 m",
        "distance": "12 m",
    },
    "seed-increase": SEED | GROUND | {"seed": "5 kg", "area": "2 ha"},
    "rick-size": {
        "sheaves": "1400",
        "shape": "round",
        "length": "5 m",
        "eaves": "3 m",
        "top": "2.5 m",
    },
    "carting": {"hands": "4", "carts": "1"},
    "grain-choice": {
        "mass": "6.5 t",
        "moisture": "14",
        "protein": "12.6",
        "hagberg": "260",
        "specific_weight": "62 lb/bu",
        "admixture": "1",
        "kind": "wholemeal",
    },
    "roof": ROOF | {"length": "12 m", "width": "7 m"},
    "roof-l": ROOF | {"length": "12", "width": "6", "wing": "6", "out": "5"},
    "roof-t": ROOF | {"length": "12", "width": "6", "wing": "6", "out": "5"},
    "roof-u": ROOF | {"length": "14", "left": "10", "wing": "4", "yard": "6"},
    "roof-corners": ROOF | {"corners": "0 0; 12 0; 12 7; 0 7"},
    "roof-file": {"file": DEMO / "roof.toml"},
}
LOT = {"thousand_grain_weight": 48, "germination": 0.92, "soil": "loam", "sown": SOWN}


@pytest.fixture
def ask(client, ann):
    """Ask as Ann: `ask(question, **said)` answers the page's status and its words."""
    client.force_login(ann)

    def ask(question, **said):
        said = SAID[question] | said
        if isinstance(said.get("file"), Path):
            sent = SimpleUploadedFile("roof.toml", said["file"].read_bytes())
            said["file"] = sent
        answer = client.post(f"/marl-hollow/ask/{question}/", said)
        words = html.unescape(re.sub(r"<[^>]+>|\s+", " ", answer.text))
        return answer.status_code, re.sub(r"\s+", " ", words)

    return ask


def _foreign(words):
    return f"⟦{words}⟧"


def test_a_working_and_a_caution_are_told_when_they_are_read():
    step = Step(mark("Weighed."), "You", "given")
    care = ASKS["drill"].care
    with read_by(Reader("metric", _foreign)):
        page = render_to_string("web/parts/_steps.html", {"working": [step]})
        assert ASKS["drill"].cautions == [f"⟦{care}⟧"]
    assert "⟦Weighed.⟧" in page
    assert "⟦You⟧; ⟦given⟧." in page
    assert ASKS["drill"].cautions == [care]


@pytest.fixture
def tested(seed_lot, ann):
    """W-25, weighed and counted."""
    seed_lot.thousand_grain_weight_g = 48
    seed_lot.save()
    GerminationTest.objects.create(
        holding=seed_lot.holding,
        made_by=ann,
        seed_lot=seed_lot,
        date=datetime.date(2026, 8, 20),
        came_up=[92, 92, 92, 92],
    )
    return seed_lot


def rows():
    models = apps.get_app_config("records").get_models()
    return {model: model.objects.count() for model in models}


def said_of(answer):
    return re.sub(r"\s+", " ", answer.sentence)


def test_every_ask_has_something_to_be_asked_with():
    assert SAID.keys() == ASKS.keys()


@pytest.mark.parametrize("question", ASKS)
def test_an_ask_is_answered_and_nothing_is_kept(question, ask, tested):
    before = rows()
    assert ask(question, seed_lot=tested.pk)[0] == 200
    assert rows() == before


def test_the_rate_is_the_answers(ask):
    answer = sowing(SowingQuestion(**LOT, row_spacing=17.78))
    _status, page = ask("seed-rate")
    assert said_of(answer) in page
    assert f"Plants to the m² that should come {answer.plants:.0f}" in page


def test_a_lot_is_sown_by_its_own_tests(ask, tested):
    _status, page = ask("seed-rate", seed_lot=tested.pk, weight="", germination="")
    answer = sowing(SowingQuestion(**LOT, row_spacing=17.78))
    assert said_of(answer) in page


def test_what_is_typed_goes_before_what_the_lot_tells(ask, tested):
    _status, page = ask("seed-rate", seed_lot=tested.pk, weight="40", germination="")
    lighter = SowingQuestion(**LOT | {"thousand_grain_weight": 40}, row_spacing=17.78)
    assert said_of(sowing(lighter)) in page


def test_a_rate_typed_in_hundredweights_is_judged(ask):
    _status, page = ask("seed-rate", rate="1.5 cwt/acre", area="5 acres", sack="50 kg")
    assert "188 kg/ha (1.50 cwt/acre, 12.0 st/acre)" in page
    assert "That is thick seed" in page
    assert "Sacks of 50.0 kg 9" in page


def test_a_bare_number_is_in_the_readers_own_units(ask, ann):
    ann.units = Units.IMPERIAL
    ann.save()
    _status, page = ask("seed-rate", row_spacing="7", rate="1.5")
    assert "1.50 cwt/acre (12.0 st/acre) is 392 seeds/m²" in page
    assert "rows stand 7.0 in apart" in page


def test_the_drills_setting_is_the_answers(ask):
    question = DrillQuestion(
        wanted=150.6,
        distance=12,
        width=3,
        tests=(TrayTest(42, (0.510, 0.498, 0.505)),),
    )
    answer = drill_calibration(question)
    _status, page = ask("drill", wanted="150.6 kg/ha")
    assert said_of(answer) in page
    assert "Stop the drive" in page


def test_the_wheels_turns_stand_for_a_run(ask):
    turned = ask("drill", distance="", turns="5", round_wheel="2.4 m")
    assert turned == ask("drill")


def test_two_settings_make_a_line(ask):
    tests = TrayTest(42, (0.510, 0.498, 0.505)), TrayTest(50, (0.61, 0.6, 0.605))
    question = DrillQuestion(wanted=150.6, distance=12, width=3, tests=tests)
    _status, page = ask(
        "drill", wanted="150.6", setting_2="50", catches_2="0.61, 0.6, 0.605"
    )
    assert said_of(drill_calibration(question)) in page


@pytest.mark.parametrize(
    "caught",
    [
        "510, 498, 505 g",
        "510 g 498 g 505 g",
        "510 g, 498, 505",
        "0.510; 0.498; 0.505",
        ".51 .498 .505 kg",
    ],
)
def test_catches_are_typed_as_people_type_them(caught, ask):
    assert ask("drill", catches=caught) == ask("drill")


def test_a_little_seed_grows_as_the_answer_says(ask):
    lot = SowingQuestion(**LOT, row_spacing=12.5)
    answer = seed_increase(IncreaseQuestion(seed=5, area=2, lot=lot))
    _status, page = ask("seed-increase")
    assert said_of(answer) in page
    for sentence in (*answer.cautions, *answer.rogueing):
        assert sentence in page
    assert page.count("chances in 10") >= answer.told > 1


@pytest.mark.parametrize(
    ("question", "name", "typed", "says"),
    [
        ("seed-rate", "weight", "", "Choose a seed lot, or type"),
        ("seed-rate", "weight", "480", "from 15 to 90 g"),
        ("seed-rate", "germination", "920", "from 1 to 100%"),
        ("seed-rate", "sown", "2026-06-10", "from 15 August to 15 April"),
        ("seed-rate", "row_spacing", "7 furlongs", "a unit we don't know"),
        ("drill", "catches", "", "This field is required."),
        ("drill", "catches", "510 g, much", "'much' is not a quantity"),
        ("drill", "catches", "510 l", "is not a quantity that fits here"),
        ("drill", "distance", "", "Type how far it ran"),
        ("drill", "turns", "-3", "Type how far it ran"),
        ("drill", "setting_2", "50", "type both"),
        ("drill", "catches_2", "500 g", "type both"),
        ("seed-increase", "seed", "0", "0 kg of seed can't be right"),
        ("seed-increase", "land", "5 kg", "is not a quantity that fits here"),
    ],
)
def test_what_is_wrong_is_said_in_a_sentence(question, name, typed, says, ask):
    more = {"distance": ""} if name == "turns" else {}
    status, page = ask(question, **{name: typed}, **more)
    assert status == 400
    assert says in page
    assert "Ask again" not in page


def test_what_was_typed_stays_when_it_is_refused(client, ann):
    client.force_login(ann)
    said = SAID["drill"] | {"setting_2": "50"}
    answer = client.post("/marl-hollow/ask/drill/", said)
    for value in said.values():
        assert f'value="{value}"' in answer.text
    # What is refused is not folded away.
    assert "<details open>" in answer.text


def test_anothers_seed_lot_is_no_choice(ask, tested, other_holding):
    tested.holding = other_holding
    tested.save()
    status, page = ask("seed-rate", seed_lot=tested.pk)
    assert status == 400
    assert "W-25" not in page and "one of the available choices" in page


def test_a_lot_that_nobody_weighed_is_not_guessed_at(ask, seed_lot):
    status, page = ask("seed-rate", seed_lot=seed_lot.pk, weight="")
    assert status == 400
    assert "the weight of a thousand grains" in page


def test_a_rick_holds_what_the_answer_says(ask):
    _status, page = ask("rick-size")
    assert said_of(rick_size(Round(5, 3, 2.5), 1400)) in page
    assert "a rick can slump" in page


@pytest.mark.parametrize(
    ("said", "shape"),
    [
        ({"shape": "gabled", "width": "4 m"}, Oblong(5, 4, 3, 2.5)),
        ({"shape": "hipped", "width": "4 m"}, Oblong(5, 4, 3, 2.5, hipped=True)),
        ({"shape": "bay", "width": "4 m", "top": ""}, Bay(5, 4, 3)),
    ],
)
def test_each_shape_is_its_own(said, shape, ask):
    _status, page = ask("rick-size", **said, built="loose", kg_per_sheaf="20 lb")
    answer = rick_size(shape, 1400, kg_per_sheaf=20 * 0.45359237, tight=False)
    assert said_of(answer) in page


@pytest.mark.parametrize(
    "said", [{"top": ""}, {"shape": "gabled"}, {"shape": "bay", "top": ""}]
)
def test_a_size_that_is_wanted_is_asked_for(said, ask):
    status, page = ask("rick-size", **said)
    assert (status, "Such a shape wants this size, too." in page) == (400, True)


def test_the_grain_is_chosen_for_by_its_tests(ask):
    grain = {"protein": 12.6, "hagberg": 260, "admixture": 1}
    weight = 62 * 0.45359237 / 36.36872 * 100
    asked = GrainQuestion(6500, 0.14, **grain, specific_weight=weight)
    status, page = ask("grain-choice")
    assert status == 200
    assert said_of(grain_choice(asked)).split(". ")[1] in page
    assert "Register the food business" in page
    assert "may not be sold, bartered or given away" in page


def test_what_the_choice_brings_is_told_to_the_penny(ask):
    _status, page = ask("grain-choice", flour_outlet="490 kg", flour_price="2.55")
    assert "Milled and sold as flour 500 kg £1,249.50 £674.85 £574.65" in page


def test_more_cannot_be_kept_than_there_is(ask):
    status, page = ask("grain-choice", seed="9 t")
    assert status == 400
    assert "there are only 6,175 kg" in page
