"""What weeds and clover ask, from the tables."""

from sheafwright.core.inputs.weeds import Clover, Spell
from sheafwright.feeds.tables import build_shipped, shipped

JOBS = ("harrowing", "rogueing")


def spell(job):
    """`Spell` of one of ``JOBS``."""
    return build_shipped(Spell, "weeds", job)


def job_rows(job):
    """Its rows."""
    return shipped("weeds")[job]


def clover():
    """`Clover`."""
    return build_shipped(Clover, "weeds", "clover")


def clover_rows():
    """Its rows."""
    return shipped("weeds")["clover"]
