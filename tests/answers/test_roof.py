"""What a roof takes: its sizes by hand, its straw as a band, what is warned of."""

import json
import re
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheafwright.answers.roof import roof
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.holding import DEMO
from sheafwright.feeds.roof import read_roof, roof_question
from sheafwright.feeds.telling import Reader, Said, again, read_by, refusal
from told import FOREIGN, METRIC, loose

HERE = Path(__file__).parent
SCHEMA = json.loads((HERE / "schemas/roof.json").read_text("utf-8"))
SNAPSHOT = json.loads((HERE / "snapshots/roof.json").read_text("utf-8"))
PLAIN = {"outline_m": [[0, 0], [12, 0], [12, 7], [0, 7]], "pitch_deg": 50}
DORMER = {"side": 1, "width_m": 2, "face_m": 0.5, "pitch_deg": 50, "back_m": 0.5}
EYEBROW = {"kind": "eyebrow", "side": 1, "width_m": 2, "height_m": 0.4, "pitch_deg": 40}
CONE = {"kind": "conical_end", "side": 2}
IMPERIAL = Reader("imperial")


def asked(*features, **changes):
    said = PLAIN | {"features": list(features)} | changes
    return roof(roof_question(said, "cottage.toml"))


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


def near(got, kept):
    """Whether a JSON is another, its numbers to a part in ten thousand."""
    if isinstance(kept, dict):
        return got.keys() == kept.keys() and all(near(got[k], kept[k]) for k in kept)
    if isinstance(kept, list):
        return len(got) == len(kept) and all(map(near, got, kept))
    if isinstance(kept, float | int):
        return got == pytest.approx(kept, rel=1e-4, abs=0.011)
    return got == kept


def test_the_demos_roof_is_what_it_was():
    assert near(valid(roof(read_roof(DEMO / "roof.toml"))), SNAPSHOT)


def test_a_hipped_cottage_is_sized_as_by_hand_and_takes_what_the_craft_says():
    said = valid(asked())
    assert said["area_m2"] == pytest.approx(130.6808, abs=5e-5)
    assert said["squares"] == pytest.approx(14.0664, abs=5e-5)
    assert (said["ridge_m"], said["eaves_m"], said["verges_m"]) == (5, 38, 0)
    assert said["hips_m"] == pytest.approx(4 * 6.4729, abs=2e-4)
    assert said["rise_m"] == pytest.approx(4.1711, abs=5e-5)
    # 25 to 30 bundles of 28 lb to the square, 1.5 to 3 to the foot of ridge.
    ridge = 5 / 0.3048
    least = (25 * 14.0664 + 1.5 * ridge) * 12.70058636
    most = (30 * 14.0664 + 3 * ridge) * 12.70058636 * 1.1
    assert said["combed_reed_t"]["low"] == pytest.approx(least / 1000, abs=0.001)
    assert said["combed_reed_t"]["high"] == pytest.approx(most / 1000, abs=0.001)
    assert said["bundles"]["low"] == 377
    assert said["trailer_loads"] == {"low": 2, "likely": 2, "high": 3}


def test_the_sentence_says_it():
    assert asked().sentence == (
        "The roof has 130.7 m², 14.1 squares, and 5.0 m of ridge. A new coat of combed "
        "reed, 356 mm thick, with its ridge, takes about 5.7 t (4.8 t to 6.6 t). That "
        "is 445 bundles of 12.7 kg (377 to 519). Its coat wants 290 m of sways and 485 "
        "hooks, its ridge 247 to 493 spars. No standard says what a square takes: put "
        "in what you know of your work."
    )


def test_a_house_of_forty_squares_takes_1000_to_1200_bundles_before_waste():
    side = (371.61216 / 1.555724) ** 0.5
    corners = [[0, 0], [side, 0], [side, side], [0, side]]
    straw = asked(outline_m=corners).straw
    assert straw.coat.low / 12.70058636 == pytest.approx(1000, rel=1e-4)
    assert straw.coat.high / 12.70058636 == pytest.approx(1200, rel=1e-4)


def test_an_over_coat_takes_less_and_warns_of_what_it_adds():
    over, new = asked(work="over_coat"), asked()
    assert valid(over)["combed_reed_t"]["high"] < valid(new)["combed_reed_t"]["low"]
    assert over.warnings[-1].startswith("A coat over an old one adds 0.27 kN/m²")
    assert over.straw.fixing == "spars"
    assert over.straw.sways == 0


def test_a_ridge_alone_lays_no_coat_and_a_patch_no_ridge():
    ridge = valid(asked(work="ridge"))
    assert ridge["coat_laid_kg"]["high"] == 0
    assert ridge["thickness_mm"] is ridge["coat_kn_per_m2"] is None
    # 5 m at 6 rows of rods of 8 ft.
    assert ridge["liggers"] == 13
    patch = valid(asked(work="patch", patch_m2=9.290304))
    assert patch["ridge_laid_kg"]["high"] == 0
    assert patch["spars"] == {"low": 150, "likely": 200, "high": 250}
    assert patch["hazel_gads"] == {"low": 19, "likely": 34, "high": 63}


def test_a_patch_is_no_larger_than_its_roof():
    with pytest.raises(OutOfRange, match=r"whole roof 130\.7 m²"):
        asked(work="patch", patch_m2=131)


def test_long_straw_loses_more_in_the_drawing_and_has_its_own_key():
    said = valid(asked(material="long_straw"))
    assert said["combed_reed_t"] is None
    laid = said["coat_laid_kg"]["low"] + said["ridge_laid_kg"]["low"]
    assert said["long_straw_t"]["low"] == pytest.approx(1.1 * laid / 1000, abs=0.001)


def test_a_thinner_coat_is_packed_alike_and_an_own_rate_is_yours():
    whole, half = asked().straw, asked(thickness_mm=177.8).straw
    assert half.coat.low == pytest.approx(whole.coat.low / 2)
    own = asked(kg_per_m2=[30, 34], thickness_mm=350)
    assert own.straw.coat.high == pytest.approx(34 * 130.6808, rel=1e-6)
    assert [step.standing for step in own.working if " laid, " in step.says] == [
        "given"
    ]
    assert "No standard" not in own.sentence
    assert "No standard" in asked().sentence


def test_a_rate_that_no_coat_can_have_is_refused():
    with pytest.raises(OutOfRange, match=r"would weigh 20 kg/m³; it should weigh 60"):
        asked(kg_per_m2=7, thickness_mm=350)


def test_the_same_ridge_is_told_to_be_more_than_a_usual_share():
    cottage = roof(read_roof(DEMO / "roof.toml"))
    (step,) = (step for step in cottage.working if "of its straw" in step.says)
    assert step.says.startswith("That is 22% of its straw; 8% to 15% is usual")
    assert step.says.endswith("The two don't agree, so the ridge may well take less.")


def test_walls_are_spread_to_the_drip():
    walls = [[0.5, 0.5], [11.5, 0.5], [11.5, 6.5], [0.5, 6.5]]
    spread = valid(asked(outline_m=walls, overhang_m=0.5))
    assert spread["area_m2"] == pytest.approx(130.6808, abs=5e-5)
    dormer = DORMER | {"kind": "gable_dormer", "along_m": 5}
    one = asked(dormer, outline_m=walls, overhang_m=0.5).shape.standing[0]
    # 5 m along the wall, and half a metre up from the drip.
    assert one.front[:2, :2].tolist() == [[4.5, 0.5], [6.5, 0.5]]


def test_an_outline_given_clockwise_is_the_same_roof_with_its_sides_as_given():
    pitch = [50, 55, 50, 60]
    one = asked(DORMER | {"kind": "gable_dormer"}, pitch_deg=pitch)
    mirrored = [[-x, y] for x, y in PLAIN["outline_m"]]
    two = asked(DORMER | {"kind": "gable_dormer"}, pitch_deg=pitch, outline_m=mirrored)
    assert two.shape.seen_from_below
    assert near(valid(two), valid(one))


def test_a_gabled_dormer_of_the_roofs_own_pitch_adds_lines_and_no_area():
    plain, with_one = asked(), asked(DORMER | {"kind": "gable_dormer"})
    assert valid(with_one)["area_m2"] == pytest.approx(valid(plain)["area_m2"])
    more = {
        k: with_one.shape.lines[k] - plain.shape.lines[k] for k in plain.shape.lines
    }
    # At 50° both ways the valleys run as far back as half the width, and the eaves
    # 0.5 m over the tangent.
    assert more["ridge"] == pytest.approx(0.5 / 1.191754 + 1, abs=1e-5)
    assert more["valley"] == pytest.approx(2 * 1.849399, abs=1e-5)
    assert more["eaves"] == pytest.approx(2 * 0.5 / 1.191754, abs=1e-5)
    assert more["verge"] == pytest.approx(2 * 1.555724, abs=1e-5)


def test_a_hipped_dormer_has_hips_and_eaves_in_front_for_verges():
    plain = asked().shape.lines
    lines = asked(DORMER | {"kind": "hipped_dormer"}).shape.lines
    assert lines["verge"] == plain["verge"]
    assert lines["hip"] - plain["hip"] == pytest.approx(2 * 1.849399, abs=1e-5)
    assert lines["ridge"] - plain["ridge"] == pytest.approx(0.5 / 1.191754, abs=1e-5)


def test_a_conical_end_is_half_a_cone_for_a_gable():
    said = valid(asked(CONE))
    cone = 3.14159265 * 3.5**2 / 2
    assert said["plan_m2"] == pytest.approx(84 + cone, abs=1e-3)
    assert said["area_m2"] == pytest.approx((84 + cone) * 1.555724, abs=1e-3)
    assert said["eaves_m"] == pytest.approx(24 + 7 + 3.14159265 * 3.5, abs=1e-3)
    assert said["verges_m"] == 0
    assert said["ridge_m"] == pytest.approx(12 - 3.5)


def test_a_half_hip_cuts_a_gable_short():
    said = valid(asked({"kind": "half_hip", "side": 2, "from_m": 2}, ends="gable"))
    assert said["area_m2"] == pytest.approx(130.6808, abs=5e-5)
    assert said["ridge_m"] == pytest.approx(12 - 2.171138 / 1.191754, abs=1e-4)
    assert said["verges_m"] == pytest.approx(2 * 2 / 0.7660444 + 10.89007, abs=1e-4)


GABLED = DORMER | {"kind": "gable_dormer"}
SHALLOW = {"kind": "hipped_dormer", "pitch_deg": 20, "face_m": 0}
ONE_GABLE = ["gable", "hip", "hip", "hip"]
REFUSED = [
    (GABLED, {"ends": ONE_GABLE}, "stands on a gable"),
    (GABLED | {"width_m": 9}, {}, "does not lie whole on its slope"),
    (GABLED | {"along_m": 0.5}, {}, "does not lie whole on its slope"),
    (DORMER | SHALLOW, {}, "no room for its hips"),
    (EYEBROW | {"pitch_deg": 50}, {}, "should be less than the 50° of the slope"),
    (CONE, {"pitch_deg": [50, 50, 60, 50]}, "can have no conical end"),
    (
        {"kind": "half_hip", "side": 1, "from_m": 1},
        {"pitch_deg": [90, 50, 50, 50], "ends": ONE_GABLE},
        "has no slope",
    ),
]


@pytest.mark.parametrize(("feature", "changes", "part"), REFUSED)
def test_a_feature_that_cannot_stand_there_is_refused(feature, changes, part):
    with pytest.raises(OutOfRange, match=re.escape(part)) as caught:
        asked(feature, **changes)
    assert not list(loose(refusal(caught.value)))


def test_features_have_room_of_their_own():
    one = DORMER | {"kind": "gable_dormer", "along_m": 5}
    asked(one, one | {"along_m": 7.1})
    with pytest.raises(OutOfRange, match="lie upon one another"):
        asked(one, one | {"along_m": 6.5})
    with pytest.raises(OutOfRange, match="lie upon one another"):
        asked(one, one)
    with pytest.raises(OutOfRange, match="two ends"):
        asked(CONE, {"kind": "half_hip", "side": 2, "from_m": 1})


def test_a_cone_has_no_room_in_an_inner_corner():
    # A wing that comes round to within 1.5 m of another, its end 4 m wide.
    plan = [(0, 0), (20, 0), (20, 10), (9.5, 10), (9.5, 6), (16, 6), (16, 4), (8, 4)]
    plan += [(8, 10), (0, 10)]
    with pytest.raises(OutOfRange, match="would run into the roof beside it"):
        asked({"kind": "conical_end", "side": 4}, outline_m=plan)


def test_what_the_trade_does_not_accept_is_warned_of_by_its_sides():
    low = asked(EYEBROW | {"pitch_deg": 35}, pitch_deg=[44, 50, 44, 45])
    assert low.warnings[0].startswith("Sides 1, 3 slope at 44°: the trade accepts no ")
    assert low.warnings[1].startswith("The eyebrow of side 1 slopes at 35°")
    assert len(low.warnings) == 2
    assert asked(EYEBROW, pitch_deg=45).warnings == ()


def test_cautions_of_height_fire_and_control_go_with_every_answer():
    height, frame, fire, control = valid(asked())["cautions"]
    assert "Working at height kills" in height
    assert "competent" in frame
    assert "12 m to a boundary" in fire
    assert "building control" in control
    assert control.endswith("Local codes and trained people first.")


def test_stems_lie_flatter_than_the_rafters():
    assert valid(asked(stem_m=1.0, thickness_mm=350))["stem_slope_deg"] == 29.51
    with pytest.raises(OutOfRange, match="they should be longer"):
        asked(stem_m=0.3, thickness_mm=350)


def test_a_shaped_front_is_assumed_and_planes_are_not():
    working = asked(EYEBROW, DORMER | {"kind": "gable_dormer", "along_m": 9}).working
    found = {s.says.split()[1]: s.standing for s in working if " adds " in s.says}
    assert found == {"eyebrow": "assumed", "gabled": "closed form"}


KINDS = {
    "new": {},
    "over": {"work": "over_coat", "pitch_deg": 40},
    "ridge": {"work": "ridge"},
    "patch": {"work": "patch", "patch_m2": 9, "material": "long_straw"},
    "own": {"kg_per_m2": 34, "bundle_kg": 6, "load_kg": 900, "stem_m": 1},
    "small": {"outline_m": [[0, 0], [2, 0], [0, 1]], "pitch_deg": [44, 46, 46]},
}  # fmt: skip


def words(said):
    yield from (said["sentence"], *said["warnings"], *said["cautions"])
    yield from (step["says"] for step in said["working"])


@pytest.mark.parametrize("kind", KINDS)
def test_every_word_is_told_in_other_languages_and_units(kind):
    features = [] if kind == "small" else [EYEBROW | {"pitch_deg": 30}]
    answer = asked(*features, **KINDS[kind])
    with read_by(FOREIGN):
        said = answer.to_json()
    for each in words(said):
        assert isinstance(each, Said)
        assert not list(loose(each))
        assert "⟦" not in again(each)
        with read_by(IMPERIAL):
            assert not METRIC.search(again(each)), again(each)
            assert not re.search(r"kg/m", again(each)), again(each)


def test_who_reads_feet_reads_squares_and_hundredweights():
    with read_by(IMPERIAL):
        answer = asked()
        assert answer.sentence.replace("\u00a0", " ").startswith(
            "The roof has 1,407 sq ft, 14.1 squares, and 16.4 ft of ridge."
        )
        says = [step.says.replace("\u00a0", " ") for step in answer.working]
    assert "The coat has 6.25 to 7.50 cwt a square laid, 14.0 in thick." in says


sizes = st.floats(3, 20)


@given(sizes, sizes, st.floats(30, 70), st.sampled_from(["new_coat", "over_coat"]))
@settings(max_examples=40, deadline=None)
def test_a_band_is_in_order_and_larger_roofs_take_more(wide, deep, pitch, work):
    corners = [[0, 0], [wide, 0], [wide, deep], [0, deep]]
    more = [[x * 1.2, y * 1.2] for x, y in corners]
    small, large = (
        asked(outline_m=each, pitch_deg=pitch, work=work) for each in (corners, more)
    )
    valid(small)
    for name in ("bought", "bundles", "spars", "gads", "loads"):
        low, likely, high = getattr(small.straw, name)
        assert low <= likely <= high
    assert all(
        a < b for a, b in zip(small.straw.bought, large.straw.bought, strict=True)
    )
