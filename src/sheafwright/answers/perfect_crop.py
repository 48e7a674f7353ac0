"""What would a perfect crop of this field bring, in money and in tonnes?"""

import dataclasses

from sheafwright.answers.prices import per_weight
from sheafwright.answers.working import Step, step_from_rows
from sheafwright.feeds.tables import build, shipped
from sheafwright.feeds.telling import measured, say


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
    says = say(
        "A perfect crop of {area} is taken as {reed} of reed at {reed_price} and "
        "{grain} of grain at {grain_price}: £{gbp:,.0f}.",
        area=measured(area_ha, "ha", ".1f"),
        reed=measured(reed, "t", ".1f"),
        reed_price=per_weight(each.reed_gbp_per_t),
        grain=measured(grain, "t", ".1f"),
        grain_price=per_weight(each.grain_gbp_per_t),
        gbp=gbp,
    )
    return PerfectCrop(reed, grain, gbp, step_from_rows(says, *yield_rows().values()))
