"""Does the rick stand far enough from what would burn with it, or set it alight?"""

import dataclasses

from sheafwright.answers.working import step_from_rows
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds import ricks
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import joined, mark, measured, say

FARTHEST = 10_000
"""[m]"""
CLOSE = {
    "buildings": mark(
        "It stands {distance} from the nearest building; the usual advice is {advised} "
        "or more."
    ),
    "road": mark(
        "It stands {distance} from the nearest road or path; the usual advice is "
        "{advised} or more."
    ),
    "rick": mark(
        "It stands {distance} from the next rick; the usual advice is {advised} or "
        "more."
    ),
}
ADVISED = {
    "buildings": mark("Ricks are kept {advised} or more from buildings."),
    "road": mark("Ricks are kept {advised} or more from roads and paths."),
    "rick": mark("Ricks are kept {advised} or more apart."),
}
FAR_ENOUGH = mark("It stands as far off as is usually advised.")


@dataclasses.dataclass(frozen=True)
class Gap:
    """From the rick to one thing."""

    what: str
    """One of ``CLOSE``."""
    distance: float
    """[m]"""
    advised: float
    """At the least. [m]"""

    @property
    def too_close(self):
        """Whether it is less than is advised."""
        return self.distance < self.advised


@dataclasses.dataclass(frozen=True)
class RickApart:
    """The answer, of the distances that were given."""

    gaps: tuple[Gap, ...]

    @property
    def sentence(self):
        """Each gap that is too small; nothing where no distance was given."""
        close = [gap for gap in self.gaps if gap.too_close]
        if not close:
            return say(FAR_ENOUGH) if self.gaps else ""
        return joined(
            *(
                say(
                    CLOSE[gap.what],
                    distance=measured(gap.distance, "m"),
                    advised=measured(gap.advised, "m"),
                )
                for gap in close
            )
        )

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        rows = shipped("ricks")["apart"]
        return tuple(
            step_from_rows(
                say(ADVISED[gap.what], advised=measured(gap.advised, "m")),
                rows[gap.what],
            )
            for gap in self.gaps
        )


def rick_apart(**distances):
    """The `RickApart` of a rick.

    Parameters
    ----------
    **distances : float or None
        To each of ``CLOSE``; None where nobody measured it. [m]
    """
    advised = ricks.apart()
    known = {what: each for what, each in distances.items() if each is not None}
    for each in known.values():
        # Written so that NaN is refused too.
        if not 0 <= each <= FARTHEST:
            raise OutOfRange(
                "A distance of {distance} can't be right; it should be from {least} "
                "to {most}.",
                distance=measured(each, "m"),
                least=measured(0, "m"),
                most=measured(FARTHEST, "m"),
            )
    gaps = (Gap(what, each, getattr(advised, what)) for what, each in known.items())
    return RickApart(tuple(gaps))
