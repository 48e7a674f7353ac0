"""A roof's file is read, or refused in one sentence that names the file and the key."""

import dataclasses
import datetime
import itertools
import json
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheafwright.answers.roof import roof
from sheafwright.core.errors import SheafwrightError, UnreadableInput
from sheafwright.feeds.holding import DEMO
from sheafwright.feeds.roof import (
    RoofQuestion,
    read_roof,
    roof_of_bytes,
    roof_question,
    roof_said,
)

PLAIN = {"outline_m": [[0, 0], [12, 0], [12, 7], [0, 7]], "pitch_deg": 50}
DORMER = {
    "kind": "gable_dormer",
    "side": 1,
    "width_m": 2,
    "face_m": 0.5,
    "pitch_deg": 50,
}


def test_a_file_of_two_keys_is_a_hipped_roof_in_combed_reed(tmp_path):
    path = tmp_path / "roof.toml"
    path.write_text("outline_m = [[0, 0], [12, 0], [12, 7], [0, 7]]\npitch_deg = 50\n")
    question = read_roof(path)
    assert question.ends == ("hip",) * 4
    assert question.pitch_deg == (50,) * 4
    assert (question.material, question.work) == ("combed_reed", "new_coat")


def test_gables_stand_at_the_ends_of_wings_either_way_round():
    for corners in (PLAIN["outline_m"], PLAIN["outline_m"][::-1]):
        question = roof_question(PLAIN | {"outline_m": corners, "ends": "gable"}, "x")
        length = [math.dist(a, b) for a, b in itertools.pairwise(corners)]
        assert [end == "gable" for end in question.ends][:3] == [n == 7 for n in length]


def test_a_corner_said_again_at_the_end_closes_the_outline():
    corners = [*PLAIN["outline_m"], [0, 0]]
    assert len(roof_question(PLAIN | {"outline_m": corners}, "x").outline_m) == 4


def test_one_rate_is_both_the_least_and_the_most():
    assert roof_question(PLAIN | {"kg_per_m2": 34}, "x").kg_per_m2 == (34, 34)


REFUSED = [
    ({"colour": 1}, "has colour, which nothing reads"),
    ({"outline_m": 9}, "outline_m is 9; it should be corners such as"),
    ({"outline_m": [[0, 0], [1, "2"], [3, 3]]}, "it should be corners such as"),
    ({"outline_m": [[0, 0], [9, 0]]}, "outline_m: The outline has 2 corners"),
    (
        {"outline_m": [[0, 0], [900, 0], [0, 9]]},
        "outline_m: The outline is 900 m across",
    ),
    (
        {"outline_m": [[[0, 0], [9, 0], [9, 9]], [[2, 2], [3, 2], [3, 3]]]},
        "a roof round a court should be parted into pieces without a hole",
    ),
    (
        {"outline_m": [[0, 0], [9, 6], [9, 0], [0, 6]]},
        "outline_m: The outline crosses itself: side 1 meets side 3",
    ),
    ({"pitch_deg": "steep"}, "pitch_deg is 'steep'; it should be a number"),
    ({"pitch_deg": 10**400}, "it should be a number"),
    ({"outline_m": [[0, 0], [9, 0], [9, 10**400]]}, "it should be corners such as"),
    ({"outline_m": [[1e17, 0], [9e17, 0], [9, 9]]}, "it should be corners such as"),
    ({"kg_per_m2": [10**400, 10**401]}, "it should be a number, or two"),
    ({"pitch_deg": [50, 50]}, "one for each of the 4 sides"),
    (
        {"pitch_deg": 90},
        "pitch_deg: The pitch of side 1 is 90°; it should be 5° to 80°",
    ),
    ({"pitch_deg": math.nan}, "pitch_deg is nan"),
    ({"ends": "round"}, "ends is 'round'; it should be hip, gable, or a list"),
    ({"ends": ["hip", "gable"]}, "each of the 4 sides"),
    (
        {"outline_m": [[0, 0], [9, 0], [4, 7]], "ends": "gable"},
        "ends: No side of this outline is the end of a wing",
    ),
    ({"material": "slate"}, "material is 'slate'; it should be combed_reed or long"),
    ({"work": "new"}, "it should be new_coat, over_coat, ridge or patch"),
    ({"fixing": 3}, "fixing is 3; it should be spars or sways"),
    ({"work": "patch"}, "patch_m2 should say how large a patch is"),
    ({"patch_m2": 3}, "patch_m2 should say how large a patch is"),
    ({"thickness_mm": 5}, "thickness_mm is 5; it should be a number from 50 to 1000"),
    ({"kg_per_m2": [40, 30]}, "two with the lower first"),
    ({"name": 4}, "name is 4; it should be a text on one line"),
    ({"features": "many"}, "features should be written as"),
    ({"features": [{"kind": "turret"}]}, "1: kind is 'turret'; it should be gable"),
    ({"features": [DORMER | {"side": 9}]}, "side is 9; it should be a side of the out"),
    ({"features": [DORMER | {"from_m": 1}]}, "has from_m, which nothing reads"),
    ({"features": [{"kind": "eyebrow", "side": 1}]}, "lacks height_m, pitch_deg, wi"),
    ({"features": [DORMER | {"width_m": 99}]}, "width_m is 99; it should be a number"),
]


@pytest.mark.parametrize(("changes", "part"), REFUSED, ids=lambda each: str(each)[:40])
def test_what_is_wrong_is_said_with_the_file_and_the_key(changes, part):
    with pytest.raises(SheafwrightError) as caught:
        roof_question(PLAIN | changes, "cottage.toml")
    assert part in str(caught.value)
    assert str(caught.value).startswith("cottage.toml")
    assert str(caught.value).endswith(".")


@pytest.mark.parametrize("lacking", PLAIN)
def test_a_file_without_corners_or_pitch_is_refused(lacking):
    with pytest.raises(SheafwrightError, match=f"lacks {lacking}"):
        roof_question({k: v for k, v in PLAIN.items() if k != lacking}, "x")


def test_what_is_no_toml_or_no_text_or_not_there_is_refused(tmp_path):
    path = tmp_path / "roof.toml"
    for content in (b"outline_m = [", b"\xff\xfe"):
        path.write_bytes(content)
        with pytest.raises(SheafwrightError, match=r"roof\.toml .*\.$"):
            read_roof(path)
    with pytest.raises(SheafwrightError, match="cannot be read"):
        read_roof(tmp_path / "none.toml")


ODD = [None, True, -1, 0, 1e9, math.nan, math.inf, "", "x", "hip", [], [[]], [1], [[1]],
       {}, {"a": 1}, [{}], [True], [["x", "y"]], datetime.date(2026, 1, 1)]  # fmt: skip
KEYS = [*PLAIN, "ends", "features", "overhang_m", "material", "work", "thickness_mm",
        "fixing", "patch_m2", "stem_m", "bundle_kg", "load_kg", "kg_per_m2", "name",
        ""]  # fmt: skip


@pytest.mark.parametrize("odd", ODD, ids=repr)
def test_whatever_a_key_holds_is_answered_or_refused_in_a_sentence(odd):
    asked = [PLAIN | {key: odd} for key in KEYS]
    asked += [
        PLAIN | {"features": [DORMER | {key: odd}]} for key in [*DORMER, "back_m"]
    ]
    for said in asked:
        try:
            roof(roof_question(said, "x")).to_json()
        except SheafwrightError as error:
            assert str(error).endswith(".")


def test_what_a_file_says_is_kept_as_a_file_would_say_it():
    asked = read_roof(DEMO / "roof.toml")
    kept = json.loads(json.dumps(roof_said(asked)))
    # Their own features may lack a size, which is no number, and so unlike itself.
    assert repr(roof_question(kept, "x")) == repr(asked)
    plain = roof_question(PLAIN, "x")
    assert roof_said(plain).keys() == {"outline_m", "pitch_deg", "ends"}


def test_bytes_are_read_as_the_file_is():
    path = DEMO / "roof.toml"
    assert repr(roof_of_bytes(path.read_bytes(), "x")) == repr(read_roof(path))
    with pytest.raises(UnreadableInput, match="x holds bytes that are no text"):
        roof_of_bytes(b"\xff\xfe", "x")


@pytest.mark.parametrize("text", [b"pitch_deg = " + b"9" * 5000, b"a = " + b"[" * 9000])
def test_what_is_too_long_or_too_deep_to_read_is_a_sentence(text):
    with pytest.raises(UnreadableInput, match="x is not a TOML file"):
        roof_of_bytes(text, "x")


numbers = st.integers() | st.floats() | st.integers(0, 90)
anything = st.recursive(
    st.none() | st.booleans() | numbers | st.text(max_size=8)
    | st.sampled_from(["hip", "gable", "half_hip", "conical_end", "eyebrow", "ridge"]),
    lambda inner: st.lists(inner, max_size=5)
    | st.dictionaries(st.sampled_from(["kind", "side", "from_m"]), inner),
    max_leaves=12,
)  # fmt: skip
spots = st.lists(st.tuples(st.integers(-9, 9), st.integers(-9, 9)).map(list))
roofs = st.fixed_dictionaries(
    {"outline_m": spots | anything, "pitch_deg": st.integers(30, 95) | anything},
    optional={f.name: anything for f in dataclasses.fields(RoofQuestion)[2:]},
)


@given(roofs)
@settings(max_examples=300, deadline=None)
def test_whatever_a_program_sends_is_a_roof_or_a_sentence(said):
    try:
        roof(roof_question(said, "x"))
    except SheafwrightError as error:
        assert str(error).endswith(".")
