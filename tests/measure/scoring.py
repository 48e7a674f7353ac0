"""How far what was measured lies from what was made."""

import dataclasses

import numpy as np

from sheafwright.measure.terms import terms

LENGTH_MM, DIAMETER_MM = 3.0, 0.3
NODE_MM = 8.0


@dataclasses.dataclass
class Score:
    """Of one or more photographs."""

    made: int = 0
    measured: int = 0
    length: list = dataclasses.field(default_factory=list)
    diameter: list = dataclasses.field(default_factory=list)
    taper: list = dataclasses.field(default_factory=list)
    lab: list = dataclasses.field(default_factory=list)
    within: list = dataclasses.field(default_factory=list)
    """Whether each error lies within what was told of it."""
    dog_legs: np.ndarray = dataclasses.field(default_factory=lambda: np.zeros(3, int))
    """Found rightly, found wrongly, missed; so are the rest."""
    nodes: np.ndarray = dataclasses.field(default_factory=lambda: np.zeros(3, int))
    damage: dict = dataclasses.field(default_factory=dict)

    def add(self, made, found):
        """Compare what was made in one photograph with what was found."""
        self.made += len(made)
        self.measured += len(found)
        for stem in found:
            self._compare(nearest(made, stem), stem)

    def _compare(self, true, stem):
        self._sized(self.length, stem.length, true.length_mm)
        for size, mm in (
            (stem.butt, true.butt_mm),
            (stem.middle, true.middle_mm),
            (stem.top, true.top_mm),
        ):
            if size is not None:
                self._sized(self.diameter, size, mm)
        taper = (true.butt_mm - true.top_mm) / (true.length_mm - 60) * 1000
        self.taper.append(stem.taper_mm_per_m - taper)
        self.within.append(abs(self.taper[-1]) <= stem.taper_error_mm_per_m)
        self.lab.append(float(np.linalg.norm(np.subtract(stem.lab, true.lab))))
        self.dog_legs += _counts(stem.dog_leg, true.dogleg is not None)
        if stem.dog_leg and true.dogleg is not None:
            error = abs(stem.bend.angle_deg - abs(true.dogleg[0]))
            self.within.append(error <= terms().bend_error_deg)
        self.nodes += _node_counts(stem.nodes_mm, true.nodes)
        for name, found, there in (
            ("crushed", stem.damage.crushed_mm, true.crushed),
            ("split", stem.damage.split_mm, true.splits),
            ("mouldy", stem.damage.mouldy_mm, true.mould),
            ("leaf", stem.leaf_mm, true.leaf is not None),
        ):
            counts = self.damage.setdefault(name, np.zeros(3, int))
            counts += _counts(bool(found), bool(there))

    def _sized(self, errors, size, mm):
        errors.append(size.mm - mm)
        self.within.append(abs(size.mm - mm) <= size.error_mm)

    def __str__(self):
        """All figures, one after another."""
        kinds = {"dog-legs": self.dog_legs, "nodes": self.nodes, **self.damage}
        told = [f"{self.measured} of {self.made} stems"]
        for name in ("length", "diameter", "taper", "lab"):
            most = np.abs(getattr(self, name)).max()
            told.append(
                f"{name}: 19 in 20 within {self.p95(name):.3f}, most {most:.2f}"
            )
        told.append(f"within what is told {np.mean(self.within):.3f}")
        for name, counts in kinds.items():
            shares = "/".join(map(str, counts))
            told.append(f"{name}: found/wrong/missed {shares}, F1 {f1(counts):.3f}")
        return "; ".join(told)

    def p95(self, name):
        """The error that 19 in 20 keep within."""
        return float(np.percentile(np.abs(getattr(self, name)), 95))

    def wrong(self):
        """Lengths that are wildly off."""
        return [error for error in self.length if abs(error) > 5 * LENGTH_MM]


def nearest(made, stem):
    """The made stem along which a measured one runs."""

    def away(true):
        gaps = stem.line[::20, None, :] - true.line[None, ::4, :2]
        return np.median(np.hypot(*gaps.transpose(2, 0, 1)).min(axis=1))

    return min(made, key=away)


def f1(counts):
    """Of found rightly, found wrongly, missed."""
    right, wrong, missed = counts
    return 2 * right / max(2 * right + wrong + missed, 1)


def _counts(found, there):
    return np.array([found and there, found and not there, there and not found], int)


def _node_counts(found, true):
    left = list(true)
    right = 0
    for at in found:
        near = [node for node in left if abs(node - at) < NODE_MM]
        if near:
            left.remove(near[0])
            right += 1
    return np.array([right, len(found) - right, len(left)])
