"""The rules of one field: what may be grown next, and what the ground then is."""

from typing import NamedTuple

WHEAT, CORN, ROOTS, LEY = "wheat", "corn", "roots", "ley"
THIRD_WHEAT, BREAK, BEHIND_LEY = "third_wheat", "break", "behind_ley"
RICH_LEY, YOUNG_LEY, REST = "rich_ley", "young_ley", "rest"
RULES = (THIRD_WHEAT, BREAK, BEHIND_LEY, RICH_LEY, YOUNG_LEY, REST)


class State(NamedTuple):
    """All that the rules ask of a field's past. Each count stops where it tells no
    more, so that fields with the same future share a state."""

    ley: int
    """Harvests of the ley that stands; 0 under the plough."""
    arable: int
    """Harvests since a ley; 0 while it stands."""
    rich: bool
    """Whether a long ley was ploughed and no roots came since."""
    wheats: int
    """Wheats running."""
    rest: int
    """Harvests since the last wheat; 0 after a wheat."""


def first_state(rotation):
    """The `State` of a field of which nothing is known: no ley, no wheat."""
    return State(0, _arable_end(rotation), False, 0, rotation.break_years)


def grown(state, kind, rotation):
    """The `State` after one harvest of a crop of this kind, allowed or not."""
    rest = min(state.rest + 1, rotation.break_years)
    wheats = 0
    if kind == WHEAT:
        wheats, rest = min(state.wheats + 1, rotation.wheats_running + 1), 0
    if kind == LEY:
        return State(min(state.ley + 1, _ley_end(rotation)), 0, False, 0, rest)
    arable = min(state.arable + 1, _arable_end(rotation))
    rich = (state.rich or state.ley >= rotation.long_ley) and kind != ROOTS
    # Later than that no wheat follows anyhow, be the ground rich or not.
    return State(0, arable, rich and arable < rotation.wheat_within, wheats, rest)


def broken(state, kind, rotation):
    """Rules that a crop of this kind would break here, the first to say first."""
    wheat, ley = kind == WHEAT, kind == LEY
    running = state.wheats > 0
    rich = state.rich or state.ley >= rotation.long_ley
    found = {
        THIRD_WHEAT: wheat and state.wheats >= rotation.wheats_running,
        BREAK: wheat and not running and state.rest < rotation.break_years,
        RICH_LEY: wheat and rich,
        BEHIND_LEY: wheat and state.arable + 1 > rotation.wheat_within,
        YOUNG_LEY: not ley and 0 < state.ley < rotation.least_ley,
        REST: not ley and state.arable >= rotation.arable_most,
    }
    return tuple(rule for rule, breaks in found.items() if breaks)


def _ley_end(rotation):
    return max(rotation.long_ley, rotation.least_ley)


def _arable_end(rotation):
    return max(rotation.wheat_within, rotation.arable_most)
