"""What weeds and clover ask, from the tables."""

from sheafwright.core.inputs.weeds import Clover, Spell
from sheafwright.feeds.tables import build, shipped

JOBS = ("harrowing", "rogueing")


def spell(job):
    """`Spell` of one of ``JOBS``."""
    return build(Spell, job_rows(job), f"weeds.toml [{job}]")


def job_rows(job):
    """Its rows."""
    return shipped("weeds")[job]


def clover():
    """`Clover`."""
    return build(Clover, clover_rows(), "weeds.toml [clover]")


def clover_rows():
    """Its rows."""
    return shipped("weeds")["clover"]
