"""What would a perfect crop of this field bring, in money and in tonnes?"""

import dataclasses

from sheafwright.answers.working import Step, step_from_rows
from sheafwright.feeds.tables import build, shipped


@dataclasses.dataclass(frozen=True)
class Yields:
    """The rows of the table."""

    reed_t_per_ha: float
    reed_gbp_per_t: float
    grain_t_per_ha: float
    grain_gbp_per_t: float


@dataclasses.dataclass(frozen=True)
class PerfectCrop:
    """The answer."""

    reed_t: float
    grain_t: float
    gbp: float
    step: Step


def yields():
    """The table's `Yields`."""
    return build(Yields, yield_rows(), "worth.toml [perfect_crop]")


def yield_rows():
    """Its rows."""
    return shipped("worth")["perfect_crop"]


def perfect_crop(area_ha):
    """The `PerfectCrop` of so many hectares."""
    each = yields()
    reed, grain = area_ha * each.reed_t_per_ha, area_ha * each.grain_t_per_ha
    gbp = reed * each.reed_gbp_per_t + grain * each.grain_gbp_per_t
    says = (
        f"A perfect crop of {area_ha:.1f} ha is taken as {reed:.1f} t of reed at "
        f"£{each.reed_gbp_per_t:.0f} and {grain:.1f} t of grain at "
        f"£{each.grain_gbp_per_t:.0f}: £{gbp:,.0f}."
    )
    return PerfectCrop(reed, grain, gbp, step_from_rows(says, *yield_rows().values()))
