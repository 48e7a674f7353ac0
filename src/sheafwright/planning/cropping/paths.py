"""All that one field may grow, as a network: every way through it keeps the rules.

A way leads from the field's state through one arc a year. States with the same future
are one node, so that the network is small, and a linear program over it is as tight as
one over every possible row of crops.
"""

from functools import lru_cache
from typing import NamedTuple

from sheafwright.planning.cropping.rotation import LEY, WHEAT, broken, grown


class Growing(NamedTuple):
    """What stands on a hectare in one year: all that its worth and work go by."""

    crop: str
    status: int
    harvest: int = 0
    """After the ley, for wheat; 0 else."""
    second: bool = False
    """A wheat after a wheat."""
    new: bool = False
    """A ley newly sown."""
    left: int = 0
    """Years of ley that stand when the plan ends."""


class Arc(NamedTuple):
    """One crop in one year on the way from a node to the next."""

    year: int
    """Position."""
    start: int
    end: int
    growing: Growing


class Paths(NamedTuple):
    """The network: node 0 is the field as it is now, the last node is the end."""

    nodes: int
    arcs: tuple[Arc, ...]


@lru_cache(maxsize=4096)
def paths(state, choices, rotation, in_force):
    """`Paths` of a field, or None where nothing keeps the rules.

    Parameters
    ----------
    state : State
    choices : tuple of tuple of (str, str, int)
        By year: crop, its kind, its status.
    rotation : Rotation
    in_force : frozenset of str
        Rules to keep.
    """
    layers = _layers(state, choices, rotation, in_force)
    nodes, ends = [()], dict.fromkeys(layers[-1], 0)
    # From the end: states whose arcs are alike are one node.
    for year, layer in reversed(list(enumerate(layers[:-1]))):
        known, merged = {}, {}
        for each, arcs in layer.items():
            ahead = frozenset((g, ends[to]) for g, to in arcs if to in ends)
            if not ahead:
                continue
            if ahead not in known:
                known[ahead] = len(nodes)
                nodes.append((year, sorted(ahead)))
            merged[each] = known[ahead]
        ends = merged
    return _numbered(nodes) if ends else None


def reached(state, choices, rotation, in_force):
    """States in which a field may be, by year, whether or not it can go on."""
    return [set(layer) for layer in _layers(state, choices, rotation, in_force)]


def _layers(state, choices, rotation, in_force):
    """By year, and after the last: {state: [(growing, next state)]}."""
    layers = [{state: []}]
    for year, offered in enumerate(choices):
        last = year == len(choices) - 1
        ahead = {}
        for each, arcs in layers[-1].items():
            for crop, kind, status in offered:
                if in_force.isdisjoint(broken(each, kind, rotation)):
                    to = grown(each, kind, rotation)
                    arcs.append((_growing(each, to, crop, kind, status, last), to))
                    ahead[to] = []
        layers.append(ahead)
    return layers


def _growing(state, to, crop, kind, status, last):
    if kind == WHEAT:
        return Growing(crop, status, harvest=to.arable, second=state.wheats > 0)
    if kind == LEY:
        return Growing(crop, status, new=not state.ley, left=to.ley if last else 0)
    return Growing(crop, status)


def _numbered(nodes):
    """Nodes were found from the end on; they are numbered from the start on."""
    last = len(nodes) - 1
    arcs = [
        Arc(year, last - place, last - end, growing)
        for place, (year, ahead) in reversed(list(enumerate(nodes[1:], 1)))
        for growing, end in ahead
    ]
    return Paths(len(nodes), tuple(arcs))
