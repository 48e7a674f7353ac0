"""A roof drawn: to one scale, whole, what is hidden left out; and it renders."""

import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest
import vl_convert
from shapely import Polygon, unary_union

from sheafwright.answers.roof import roof
from sheafwright.charts.roof import roof_svg
from sheafwright.charts.roof_view import cuts, hull, lines, parts, turned
from sheafwright.charts.save import save_svg
from sheafwright.charts.theme import PALE_RAIN, PALE_STRAW
from sheafwright.core.errors import UnreadableInput
from sheafwright.core.roof.surface import height, raise_roof
from sheafwright.feeds.holding import DEMO
from sheafwright.feeds.roof import read_roof, roof_question
from sheafwright.feeds.telling import read_by
from told import FOREIGN

SVG = "{http://www.w3.org/2000/svg}"
PLAIN = [(0, 0), (12, 0), (12, 7), (0, 7)]
LOW_WING = [(0, 0), (12, 0), (12, 2), (15, 2), (15, 5), (12, 5), (12, 7), (0, 7)]
AHEAD = np.array([0.0, 1.0])


@pytest.fixture(scope="module")
def drawn():
    return roof_svg(roof(read_roof(DEMO / "roof.toml")))


def seen_from(corners, pitch, into=AHEAD):
    made = raise_roof(corners, pitch)
    seen = turned(made.nodes, into)
    where = cuts(seen, made.arcs)
    return made, seen, where


def texts(drawn):
    return [
        "".join(each.itertext()) for each in ET.fromstring(drawn).iter(f"{SVG}text")
    ]


def test_it_is_a_picture_with_a_title(drawn):
    root = ET.fromstring(drawn)
    assert root.get("role") == "img"
    assert root[0].text.startswith("Plan and elevation of a roof of 142.8 m²")


def test_it_renders(drawn):
    assert vl_convert.svg_to_png(drawn).startswith(b"\x89PNG")


def test_each_side_has_its_number_and_length(drawn):
    said = texts(drawn)
    lengths = (12, 6, 4, 4, 5, 4, 3, 6)
    assert {f"{n}: {m} m" for n, m in enumerate(lengths, 1)} <= set(said)
    assert "From side 1" in said


def test_the_lines_of_the_roof_and_no_others_are_explained(drawn):
    assert {"ridge", "hip", "valley", "eaves", "verge"} <= set(texts(drawn))
    assert "against a wall" not in texts(drawn)
    hipped = roof_svg(roof(roof_question({"outline_m": PLAIN, "pitch_deg": 50}, "x")))
    assert not {"valley", "verge"} & set(texts(hipped))


def test_plan_and_elevation_have_the_scale_that_the_bar_says():
    question = roof_question({"outline_m": PLAIN, "pitch_deg": 50}, "x")
    drawn = roof_svg(roof(question))
    (bar,) = re.findall(r"v5h([\d.]+)v-5", drawn)
    (said,) = (each for each in texts(drawn) if re.fullmatch(r"\d+ m", each))
    scale = float(bar) / float(said.split()[0])
    ends = re.findall(r'class="roof-ridge" d="M([\d.]+) ([\d.]+)L([\d.]+) ', drawn)
    # Of the 5 m of ridge, in the plan and again from side 1; the third explains it.
    for x, _, to_x in ends[:2]:
        assert abs(float(to_x) - float(x)) == pytest.approx(5 * scale, abs=0.15)
    points = [
        float(y)
        for path in re.findall(r'<path d="M([^"]+)Z"', drawn)
        for y in re.findall(r" ([\d.]+)", path)
    ]
    above = [y for y in points if y > max(float(e[1]) for e in ends[:2]) - 0.1]
    assert np.ptp(above) == pytest.approx(4.1711 * scale, abs=0.2)


def test_from_the_front_a_hipped_roof_is_one_trapezium():
    found = list(parts(*seen_from(PLAIN, 50)))
    (front,) = found
    assert front.plane == 0
    assert Polygon(front.corners).area == pytest.approx(
        (12 + 5) / 2 * 4.171138, rel=1e-5
    )


def test_what_is_seen_fills_the_outline_of_the_roof_and_overlaps_nowhere():
    made, seen, where = seen_from(LOW_WING, [50, 90, 50, 50, 50, 90, 50, 50])
    found = [Polygon(each.corners) for each in parts(made, seen, where)]
    whole = unary_union(found, grid_size=1e-7)
    assert sum(each.area for each in found) == pytest.approx(whole.area, abs=1e-5)
    main, wing = (8.5 + 12) / 2 * height(made), (1.5 + 3) / 2 * 1.5 * 1.191754
    assert whole.area == pytest.approx(main + wing, abs=1e-4)


def test_a_ridge_behind_a_higher_one_is_hidden_from_the_front_alone():
    # A wing at the back, lower than the main roof.
    corners = [(0, 0), (12, 0), (12, 8), (8, 8), (8, 13), (4, 13), (4, 8), (0, 8)]
    front = seen_from(corners, 50)
    ridges = [each.ends for each in lines(*front, {"ridge"})]
    assert all(ends[:, 1].min() == pytest.approx(height(front[0])) for ends in ridges)
    back = list(parts(*seen_from(corners, 50, -AHEAD)))
    assert 4 in {each.plane for each in back}
    assert not {each.plane for each in parts(*front)} & {4}


def test_nothing_hidden_is_drawn_of_the_far_eaves():
    made, seen, where = seen_from(PLAIN, 50)
    eaves = [each.ends for each in lines(made, seen, where, {"eaves"})]
    assert all(ends[:, 1].max() == 0 for ends in eaves)
    hips = [each.ends for each in lines(made, seen, where, {"hip"})]
    assert len({tuple(np.round(np.sort(ends, 0), 6).ravel()) for ends in hips}) == 2


def test_a_hull_goes_once_round():
    points = [(0, 0), (4, 0), (4, 3), (0, 3), (2, 1), (1, 2)]
    assert Polygon(hull(points)).area == 12
    assert len(hull(points)) == 4


def test_dormers_of_other_sides_stand_behind_the_slopes_before_them():
    dormer = {"kind": "gable_dormer", "width_m": 2, "face_m": 0.5, "pitch_deg": 50}
    fills = []
    for side in (1, 2, 3):
        said = {
            "outline_m": PLAIN,
            "pitch_deg": 50,
            "features": [dormer | {"side": side}],
        }
        drawn = roof_svg(roof(roof_question(said, "x")))
        elevation = drawn.split("From side 1")[1]
        fills.append(re.findall(r'<path d="M[^"]+Z" fill="(#\w+)"', elevation))
    front, beside, behind = fills
    assert front[-1] == PALE_RAIN
    assert PALE_RAIN not in beside + behind
    assert beside[0] == behind[0] == PALE_STRAW
    assert front[0] != PALE_STRAW


def test_a_mirrored_roof_is_drawn_mirrored():
    said = {"pitch_deg": 50, "features": [{"kind": "conical_end", "side": 2}]}
    pictures = [
        roof_svg(roof(roof_question(said | {"outline_m": corners}, "x")))
        for corners in (PLAIN, [(x, -y) for x, y in PLAIN])
    ]
    ridges = [re.findall(r'roof-ridge" d="([^"]+)"', each)[0] for each in pictures]
    assert ridges[0] == ridges[1]
    assert pictures[0].count("<path") == pictures[1].count("<path")


def test_another_language_has_every_word_of_it():
    with read_by(FOREIGN):
        drawn = roof_svg(roof(read_roof(DEMO / "roof.toml")))
    worded = [each for each in texts(drawn) if re.search("[a-z]{3}", each)]
    assert worded
    assert all("⟦" in each for each in worded)


@pytest.mark.parametrize("ending", ["svg", "png", "html"])
def test_it_is_saved_as_the_ending_says(drawn, ending, tmp_path):
    path = tmp_path / f"roof.{ending}"
    save_svg(drawn, path)
    begins = {"svg": b"<svg", "png": b"\x89PNG", "html": b"<!doctype"}
    assert path.read_bytes().startswith(begins[ending])


def test_another_ending_is_refused(drawn, tmp_path):
    with pytest.raises(UnreadableInput, match="should end in"):
        save_svg(drawn, tmp_path / "roof.pdf")
