"""A sharp bend turns at one place, a curve little by little."""

import numpy as np

from sheafwright.measure.bends import sharpest_bend
from sheafwright.measure.nodes import find_nodes, node_near


def line(turns):
    """A line of steps of 1 mm that turns so far at each. [°]"""
    way = np.radians(np.cumsum(turns))
    return np.cumsum(np.stack([np.cos(way), np.sin(way)], axis=1), axis=0)


def test_a_turn_at_one_place_is_sharp_and_is_found_there():
    turns = np.zeros(400)
    turns[150] = -25
    bend = sharpest_bend(line(turns))
    assert bend.sharp
    assert abs(bend.angle_deg - 25) < 0.1
    assert abs(bend.at_mm - 149) <= 1


def test_a_curve_is_not_sharp_though_it_turns_as_far():
    turns = np.zeros(400)
    turns[100:160] = 25 / 60
    assert not sharpest_bend(line(turns)).sharp


def test_a_straight_piece_too_short_to_judge_has_no_bend():
    assert sharpest_bend(line(np.zeros(20))).angle_deg == 0


def straw_light(rings=(), grey=()):
    light = np.tile([0.6, 0.45, 0.2], (300, 1))
    for at in rings:
        light[at - 1 : at + 2] *= 0.6
    for at in grey:
        light[at - 2 : at + 3] = 0.2
    return light


def test_dark_rings_are_nodes_and_grey_specks_are_not():
    nodes, _ = find_nodes(straw_light(rings=(80, 200), grey=(140,)), np.full(300, 4.0))
    assert nodes == [80, 200]


def test_a_node_that_is_hidden_is_not_told():
    thick = np.full(300, 4.0)
    thick[70:90] = np.nan
    nodes, _ = find_nodes(straw_light(rings=(80, 200)), thick)
    assert nodes == [200]


def test_a_bend_finds_its_node_near_it_and_none_far_off():
    nodes, scores = find_nodes(straw_light(rings=(80,)), np.full(300, 4.0))
    assert node_near(84, nodes, scores) == 80
    assert node_near(120, nodes, scores) is None
