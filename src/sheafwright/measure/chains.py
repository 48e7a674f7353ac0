"""Runs of straw, column by column, made chains, and chains made stems.

A chain ends where it meets another. There the ends are paired by the way they go: the
stems that cross go on straight, and where two pairings would do as well, none is taken.
"""

import dataclasses
import itertools

import numpy as np

from sheafwright.measure.mask import STEP_X_MM, STEP_Y_MM

SHORT_MM, CRUMB_MM = 12.0, 4.0
WIDER = 1.15
"""Than the chains beside it: then a chain is several stems at once."""
TRIM_MM, FIT_MM = 8.0, 70.0
"""An end's way is fitted within these of its end."""
BETWEEN_MM = 150.0
GAP_MM = 14.0
"""Chains this far apart may still be one stem."""
Y_SD_MM, Y_SD_PER_MM = 0.4, 0.005
SLOPE_SD, SLOPE_SD_PER_MM = 0.008, 0.00008
WIDTH_SD_MM = 0.6
FAR, SURE = 30.0, 6.0
"""The cost at which two ends are no longer one stem's, and below which they surely are.
"""
BENT = 0.09
"""Ends whose slopes differ by more are one stem only if it bends where they meet."""
BEND_MM = 4.0
BETWEEN = "between"
"""What is unsure of a short piece that lies between stems: it may be a leaf."""
CLEAR = 6.0
"""How much worse the next best pairing must be."""


@dataclasses.dataclass
class Chain:
    """Runs one after another: columns, and rows from and to."""

    columns: list = dataclasses.field(default_factory=list)
    tops: list = dataclasses.field(default_factory=list)
    bottoms: list = dataclasses.field(default_factory=list)
    before: list = dataclasses.field(default_factory=list)
    """Chains that it goes on from."""
    after: list = dataclasses.field(default_factory=list)

    def add(self, column, top, bottom):
        """One more run."""
        self.columns.append(column)
        self.tops.append(top)
        self.bottoms.append(bottom)

    def done(self):
        """Its columns, middles and widths as arrays, now that it has ended."""
        self.x = np.array(self.columns) * STEP_X_MM
        tops, bottoms = np.array(self.tops), np.array(self.bottoms)
        self.y = (tops + bottoms - 1) / 2 * STEP_Y_MM
        self.across = (bottoms - tops) * STEP_Y_MM
        self.slope = np.gradient(self.y, self.x) if len(self.x) > 1 else np.zeros(1)
        usual = float(np.median(self.slope))
        self.width = float(np.median(self.across) / np.hypot(1, usual))
        return self

    @property
    def length(self):
        """Along x. [mm]"""
        return self.x[-1] - self.x[0] + STEP_X_MM


def find_chains(straw):
    """All chains of a mask, from left to right."""
    edges = np.diff(np.pad(straw, ((1, 1), (0, 0))).astype(np.int8), axis=0)
    columns, starts = np.nonzero(edges.T == 1)
    _, ends = np.nonzero(edges.T == -1)
    first = np.searchsorted(columns, np.arange(straw.shape[1] + 1))
    chains, open_chains = [], []
    for column in range(straw.shape[1]):
        span = slice(first[column], first[column + 1])
        runs = list(zip(starts[span].tolist(), ends[span].tolist(), strict=True))
        open_chains = _went_on(chains, open_chains, column, runs)
    return [chain.done() for chain in chains]


def _went_on(chains, open_chains, column, runs):
    """Add a column's runs to the chains they go on from; the chains now open."""
    meets = [[chain for chain in open_chains if _overlap(chain, *run)] for run in runs]
    shared = [id(chain) for met in meets for chain in met]
    still = []
    for run, met in zip(runs, meets, strict=True):
        if len(met) == 1 and shared.count(id(met[0])) == 1:
            chain = met[0]
        else:
            chain = Chain(before=list(met))
            chains.append(chain)
            for each in met:
                each.after.append(chain)
        chain.add(column, *run)
        still.append(chain)
    return still


def _overlap(chain, top, bottom):
    return min(bottom, chain.bottoms[-1]) > max(top, chain.tops[-1])


@dataclasses.dataclass
class Knot:
    """Where chains meet: those that come from the left, and go on to the right."""

    left: list
    right: list


@dataclasses.dataclass
class Trace:
    """One stem's chains from left to right, and what is unsure of them."""

    parts: list
    unsure: str = ""
    """One of ``answers.straw.WHY``, `BETWEEN`, or nothing."""


def join_chains(chains):
    """Traces of stems from chains; chains of several stems at once lie in knots."""
    chains = _without_crumbs(chains)
    tangled = _tangled(chains)
    knots = _knots(chains, tangled)
    follows, unsure = {}, {}
    for knot in knots:
        _pair(knot, follows, unsure)
    single = [c for c in chains if id(c) not in tangled]
    _pair_loose(single, follows)
    yield from _traces(single, follows, unsure)
    for chain in chains:
        # A knot that no stem leads to would be left out, and nobody told.
        if id(chain) in tangled and not _leads_on(chain, tangled):
            yield Trace([chain], "tangled")
        elif id(chain) in tangled and _lies_between(chain):
            yield Trace([chain], BETWEEN)


def _without_crumbs(chains):
    """Chains without the ragged bits at free ends, into which a cut may part."""
    crumbs = {
        id(chain)
        for chain in chains
        if chain.length < CRUMB_MM and bool(chain.before) != bool(chain.after)
    }
    for chain in chains:
        chain.before = [each for each in chain.before if id(each) not in crumbs]
        chain.after = [each for each in chain.after if id(each) not in crumbs]
    return [chain for chain in chains if id(chain) not in crumbs]


def _lies_between(chain):
    """Whether a chain leads from one to another that both go on beside it."""
    one_each = len(chain.before) == len(chain.after) == 1
    return (
        one_each and len(chain.before[0].after) > 1 and len(chain.after[0].before) > 1
    )


def _leads_on(chain, tangled):
    """Whether any chain that is a stem's own meets this one."""
    return any(id(each) not in tangled for each in (*chain.before, *chain.after))


def _is_tangle(chain):
    """Whether a chain is several stems at once, or a scrap where some meet."""
    sides = chain.before, chain.after
    if not any(sides):
        return False
    if chain.length < SHORT_MM:
        return all(sides)
    if min(map(len, sides)) > 1 and chain.length < BETWEEN_MM:
        return True
    return _wider(chain, "left", chain.before) or _wider(chain, "right", chain.after)


def _wider(chain, side, others):
    """Whether a chain is wider by this end than each of those it parts into there."""
    if len(others) < 2:
        return False
    other_side = "right" if side == "left" else "left"
    widest = max(way(each, other_side)[3] for each in others)
    return way(chain, side)[3] > WIDER * widest


def _tangled(chains):
    """Chains that are several stems at once, by id."""
    tangled = {id(chain) for chain in chains if _is_tangle(chain)}
    single = [chain.width for chain in chains if id(chain) not in tangled]
    usual = WIDER * float(np.median(single)) if single else np.inf
    for chain in chains:
        sides = chain.before, chain.after
        between = all(side and all(id(c) in tangled for c in side) for side in sides)
        # Between two tangles a wide chain is two stems that go on side by side.
        if between and chain.length < BETWEEN_MM and chain.width > usual * WIDER:
            tangled.add(id(chain))
    return tangled


def _knots(chains, tangled):
    """Ends that meet, by knot."""
    groups = _Groups()
    for chain in chains:
        if id(chain) in tangled:
            groups.join((id(chain), "left"), (id(chain), "right"))
        for after in chain.after:
            groups.join((id(chain), "right"), (id(after), "left"))
    knots = {}
    for chain in chains:
        # An end that meets no other is in no group: it is a free end.
        for side, met in (("right", chain.after), ("left", chain.before)):
            if met and id(chain) not in tangled:
                knot = groups.root((id(chain), side))
                knot = knots.setdefault(knot, Knot([], []))
                (knot.left if side == "right" else knot.right).append(chain)
    return list(knots.values())


class _Groups:
    """Things that belong together, as pairs say so."""

    def __init__(self):
        self.parent = {}

    def root(self, each):
        """The one that stands for all of its group."""
        while self.parent.setdefault(each, each) != each:
            each = self.parent[each]
        return each

    def join(self, one, other):
        """Put the groups of these two together."""
        self.parent[self.root(one)] = self.root(other)


def way(chain, side):
    """Where an end goes: its x, y there, slope and width. [mm]"""
    from_end = chain.x[-1] - chain.x if side == "right" else chain.x - chain.x[0]
    trim = max(min(TRIM_MM, chain.length / 3), shared(chain, side))
    used = (from_end >= trim) & (from_end <= trim + FIT_MM)
    x_end = chain.x[-1] if side == "right" else chain.x[0]
    if used.sum() < 3:
        used = np.ones(len(chain.x), bool)
    if used.sum() < 2:
        return x_end, float(chain.y[0]), 0.0, chain.width
    slope, y_end = np.polyfit(chain.x[used] - x_end, chain.y[used], 1)
    width = np.median(chain.across[used]) / np.hypot(1, slope)
    return x_end, float(y_end), float(slope), float(width)


def shared(chain, side):
    """How far from an end where others join a chain it is still theirs too. [mm]"""
    others = chain.after if side == "right" else chain.before
    from_end = chain.x[-1] - chain.x if side == "right" else chain.x - chain.x[0]
    wide = chain.across > 1.2 * np.median(chain.across)
    wide &= from_end < chain.length / 3
    if len(others) < 2 or not wide.any():
        return 0.0
    return float(from_end[wide].max())


def _cost(left, right):
    """How unlike one stem's two ends are."""
    (x0, y0, s0, w0), (x1, y1, s1, w1) = way(left, "right"), way(right, "left")
    gap = max(x1 - x0, 0.0)
    steep = np.hypot(1, (s0 + s1) / 2)
    miss = (y1 - s1 * gap / 2 - y0 - s0 * gap / 2) / (Y_SD_MM + Y_SD_PER_MM * gap)
    turn = np.arctan(s1) - np.arctan(s0)
    turn, miss = turn / (SLOPE_SD + SLOPE_SD_PER_MM * gap), miss / steep
    wide = (w1 - w0) / WIDTH_SD_MM
    return miss**2 + turn**2 + wide**2


def _pair(knot, follows, unsure):
    """Pair a knot's ends, and say of which it is unsure."""
    pairs, margin = _best(knot)
    bent = _bent_pair(knot, pairs)
    # Where some stem ends on others, or bends unseen, only a good pair is sure.
    whole = len(knot.left) == len(knot.right) == len(pairs) + len(bent)
    doubted = [
        margin < CLEAR or (not whole and _cost(*pair) > SURE) for pair in pairs
    ] + [margin < CLEAR] * len(bent)
    pairs = [*pairs, *bent]
    for (left, right), doubt in zip(pairs, doubted, strict=True):
        follows[id(left)] = right
        if doubt:
            unsure[id(left)] = unsure[id(right)] = "tangled"
    paired = {id(each) for pair in pairs for each in pair}
    for chain in knot.left:
        if id(chain) not in {id(left) for left, _ in pairs}:
            unsure.setdefault((id(chain), "right"), "hidden_end")
    for chain in knot.right:
        if id(chain) not in paired:
            unsure.setdefault((id(chain), "left"), "hidden_end")


def _bent_pair(knot, pairs):
    """The two ends that are left over, if they are one stem that bends in the knot."""
    left = [c for c in knot.left if all(c is not pair[0] for pair in pairs)]
    right = [c for c in knot.right if all(c is not pair[1] for pair in pairs)]
    if len(left) == len(right) == 1 and _meet(left[0], right[0]):
        return [(left[0], right[0])]
    return []


def _meet(left, right):
    """Whether two ends' ways meet within the gap, and both are as wide."""
    (x0, _, s0, w0), (x1, _, s1, w1) = way(left, "right"), way(right, "left")
    at = meeting_x(left, right)
    inside = x0 - BEND_MM <= at <= x1 + BEND_MM
    return inside and abs(s1 - s0) > BENT and abs(w1 - w0) < WIDTH_SD_MM


def meeting_x(left, right):
    """Where the ways of two ends meet. [mm]"""
    (x0, y0, s0, _), (x1, y1, s1, _) = way(left, "right"), way(right, "left")
    turn = s1 - s0
    if abs(turn) < BENT:
        return (x0 + x1) / 2
    return ((y0 - s0 * x0) - (y1 - s1 * x1)) / turn


def _best(knot):
    """The best pairs, and by how much the next best are worse."""
    from scipy.optimize import linear_sum_assignment

    left, right = knot.left, knot.right
    if not left or not right:
        return [], np.inf
    costs = np.array([[_cost(a, b) for b in right] for a in left])
    if costs.shape == (1, 1):
        return ([(left[0], right[0])] if costs[0, 0] < FAR else []), np.inf
    n, m = costs.shape
    full = np.full((n + m, m + n), FAR / 2)
    full[:n, :m] = costs
    full[n:, m:] = 0
    rows, columns = linear_sum_assignment(full)
    best = full[rows, columns].sum()
    kept = [(r, c) for r, c in zip(rows, columns, strict=True) if r < n and c < m]
    margin = min((_without(full, pair) - best for pair in kept), default=np.inf)
    return [(left[r], right[c]) for r, c in kept], margin


def _without(full, pair):
    """The least cost if this pair may not be."""
    from scipy.optimize import linear_sum_assignment

    other = full.copy()
    other[pair] = 1e6
    rows, columns = linear_sum_assignment(other)
    return other[rows, columns].sum()


def _pair_loose(single, follows):
    """Pair ends that a small gap parts, such as a dark patch."""
    followed = {id(chain) for chain in follows.values()}
    ends = [c for c in single if id(c) not in follows and not c.after]
    starts = [c for c in single if id(c) not in followed and not c.before]
    for left, right in itertools.product(ends, starts):
        gap = right.x[0] - left.x[-1]
        free = id(left) not in follows and id(right) not in followed
        if free and 0 < gap <= GAP_MM and _cost(left, right) < FAR / 2:
            follows[id(left)] = right
            followed.add(id(right))


def _traces(single, follows, unsure):
    followed = {id(chain) for chain in follows.values()}
    for chain in single:
        if id(chain) in followed:
            continue
        parts = [chain]
        while id(parts[-1]) in follows:
            parts.append(follows[id(parts[-1])])
        yield Trace(parts, _doubt(parts, unsure))


def _doubt(parts, unsure):
    for part in parts:
        if id(part) in unsure:
            return unsure[id(part)]
    ends = unsure.get((id(parts[0]), "left")), unsure.get((id(parts[-1]), "right"))
    return next(filter(None, ends), "")
