"""Movements as flows: from which place to which, and how much."""

import dataclasses
from collections import defaultdict

from sheafwright.records.models import Line, Movement, Place


@dataclasses.dataclass(frozen=True)
class Flow:
    """What went from one place to another by one movement."""

    movement: Movement
    taken_from: Place
    given_to: Place
    grams: int


def flows(movements):
    """Every flow of the movements, exact to the gram.

    A movement of one giver or one taker leaves no doubt who gave to whom. Were there
    several of both, givers and takers are paired off in the order of their places, so
    that a reverse undoes just the flows of what it reverses.
    """
    lines = Line.objects.filter(movement__in=movements).select_related(
        "place", "movement__reverses"
    )
    by_movement = defaultdict(list)
    for line in lines:
        by_movement[line.movement].append(line)
    for movement, its_lines in by_movement.items():
        yield from _paired(movement, sorted(its_lines, key=lambda x: x.place_id))


def _paired(movement, lines):
    givers = [[line.place, -line.grams] for line in lines if line.grams < 0]
    for line in lines:
        wanted = line.grams
        while wanted > 0:
            giver, left = givers[0]
            amount = min(wanted, left)
            yield Flow(movement, giver, line.place, amount)
            wanted -= amount
            givers[0][1] -= amount
            if givers[0][1] == 0:
                del givers[0]


def net(found):
    """(from, to) to grams, what went back left out; only where something is left."""
    sums = defaultdict(int)
    for flow in found:
        there, back = (flow.taken_from, flow.given_to), (flow.given_to, flow.taken_from)
        if back in sums:
            sums[back] -= flow.grams
        else:
            sums[there] += flow.grams
    turned = {
        (pair if grams > 0 else pair[::-1]): abs(grams) for pair, grams in sums.items()
    }
    return {pair: grams for pair, grams in turned.items() if grams}
