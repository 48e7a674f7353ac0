"""Pieces of straw in a flat picture are joined, doubted, or called leaf."""

import numpy as np

from sheafwright.measure.chains import find_chains, join_chains
from sheafwright.measure.damage import find_damage
from sheafwright.measure.mask import STEP_Y_MM, Mask
from sheafwright.measure.profile import Profile
from sheafwright.measure.stems import _leaf_of, _with_leaves

COLUMNS, ROWS = 400, 200


def drawn(*pieces):
    """A mask in which each piece lies from x to x, about y, so wide. [mm]

    Where it lies and its width are functions of x, or numbers.
    """
    straw = np.zeros((ROWS, COLUMNS), bool)
    y = (np.arange(ROWS) + 0.5) * STEP_Y_MM
    for first, last, middle, width in pieces:
        for x in range(first, last):
            at, wide = (f(x) if callable(f) else f for f in (middle, width))
            straw[:, x] |= np.abs(y - at) < wide / 2
    return straw


def traces(straw):
    return list(join_chains(find_chains(straw)))


def test_a_stem_whose_end_is_ragged_is_whole():
    straw = drawn((50, 300, 20, 4))
    straw[78:82, 50] = False
    found = traces(straw)
    assert [trace.unsure for trace in found] == [""]
    assert len(found[0].parts[0].x) >= 249


def test_stems_that_cross_are_two():
    found = traces(
        drawn((20, 380, 25, 4), (20, 380, lambda x: 25 + 0.1 * (x - 200), 4))
    )
    assert sum(trace.unsure == "" for trace in found) == 2


def test_a_stem_whose_end_lies_on_another_is_told_of():
    found = traces(
        drawn((20, 380, 20, 4), (200, 350, lambda x: 20 + 0.15 * (x - 200), 4))
    )
    assert sorted(trace.unsure for trace in found) == ["", "hidden_end"]


def test_none_is_sure_where_one_ends_on_another_that_bends_there():
    bent = (20, 380, lambda x: 20 + 0.05 * max(x - 200, 0), 4)
    other = (190, 380, lambda x: 22 + 0.2 * (x - 200), 4)
    assert all(trace.unsure for trace in traces(drawn(bent, other)))


def hanging(width):
    """A stem, and on it a piece of such a width."""
    stem = (20, 380, 20, 4)
    straw = drawn(stem, (200, 230, lambda x: 20 + 0.6 * (x - 200), width))
    mask = Mask(straw, 0.0, 0.0, 0.5)
    leaves = [_leaf_of(trace, mask) for trace in traces(straw)]
    return [leaf for leaf in leaves if leaf is not None]


def test_a_piece_that_narrows_is_a_leaf_from_its_wide_end():
    (leaf,) = hanging(lambda x: 5 * (232 - x) / 32)
    base, tip = leaf
    assert base[0] < tip[0]
    assert np.hypot(*(tip - base)) > 15


def test_a_piece_as_wide_throughout_is_no_leaf():
    assert not hanging(4)


def test_a_leaf_far_from_any_stem_is_given_to_none():
    leaf = np.array([[10.0, 10.0], [40.0, 10.0]])
    assert _with_leaves([], [leaf]) == ([], 1)


def straw(**what):
    """A sound stem of 300 mm, but for what is said of it."""
    n = 300
    sound = {
        "s": np.arange(n),
        "line": np.column_stack([np.arange(n), np.zeros(n)]),
        "diameter": np.full(n, 4.0),
        "alone": np.ones(n, bool),
        "light": np.tile([0.6, 0.45, 0.2], (n, 1)),
        "across": np.full((n, 17), 0.5),
        "length": float(n),
    }
    return Profile(**(sound | what))


def harm_of(**what):
    return find_damage(straw(**what), np.full(300, 4.0), nodes=[])


def thick(first, last):
    diameter = np.full(300, 4.0)
    diameter[first:last] = 5.5
    return diameter


def grey(first, last):
    light = np.tile([0.6, 0.45, 0.2], (300, 1))
    light[first:last] = 0.2
    return light


def test_sound_straw_is_not_harmed():
    assert harm_of() == harm_of().__class__(0.0, 0.0, 0.0)


def test_flat_straw_is_crushed_and_mouldy_straw_that_looks_wide_is_not():
    assert harm_of(diameter=thick(100, 140)).crushed_mm == 40
    both = harm_of(diameter=thick(100, 140), light=grey(95, 145))
    assert both.mouldy_mm > 40
    assert both.crushed_mm == 0


def test_another_stems_shadow_is_no_mould():
    alone = np.ones(300, bool)
    alone[110:120] = False
    assert harm_of(light=grey(105, 125)).mouldy_mm > 15
    assert harm_of(light=grey(105, 125), alone=alone).mouldy_mm == 0


def test_a_dark_line_along_is_a_split():
    across = np.full((300, 17), 0.5)
    across[80:140, 9] = 0.35
    assert 45 < harm_of(across=across).split_mm < 75
