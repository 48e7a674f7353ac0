"""Days at drum and comb, from the tables."""

import dataclasses

from sheafwright.core.inputs.threshing import CombDay, CombStraw, Control, DrumDay
from sheafwright.feeds.tables import build_shipped


@dataclasses.dataclass(frozen=True)
class Threshing:
    """All of them."""

    comb_day: CombDay
    comb_straw: CombStraw
    drum_day: DrumDay
    control: Control


def threshing():
    """`Threshing` of the package."""
    return Threshing(
        **{
            field.name: build_shipped(field.type, "threshing", field.name)
            for field in dataclasses.fields(Threshing)
        }
    )
