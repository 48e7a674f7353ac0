"""The crop's parameter sets, from the tables to the core's dataclasses."""

from sheafwright.core.errors import OutOfRange
from sheafwright.core.inputs.crop import (
    CuttingWindow,
    DateErrors,
    DoubtPrior,
    GrainFilling,
    Phases,
    SignLadder,
    VernalisationRule,
    WangEngel,
)
from sheafwright.feeds.tables import build, build_shipped, shipped
from sheafwright.feeds.telling import listed

FILLING_FORMS = ("filling_above_9", "filling_above_0")


def variety_classes():
    """Names of the classes of variety, the most in need of cold first."""
    return tuple(shipped("vernalisation")["latest_sowing"])


def phases(variety_class, tall=True):
    """`Phases` of a class of variety, tall and old or modern."""
    table = shipped("development")
    stature = table["tall" if tall else "modern"]
    rows = table["phases"] | stature | _cold_of(variety_class)
    where = listed(["development.toml", "vernalisation.toml"])
    return build(Phases, rows, where)


def latest_sowing(variety_class):
    """Last day of the year on which the class is ever called safe to sow."""
    _cold_of(variety_class)
    return shipped("vernalisation")["latest_sowing"][variety_class].value


def grain_filling_forms():
    """The candidate forms of `GrainFilling`, in the order of the prior's weights."""
    table = shipped("development")
    return tuple(
        build(GrainFilling, table[form] | table["filling_stages"], "development.toml")
        for form in FILLING_FORMS
    )


def wang_engel(tall=True):
    """`WangEngel`, for tall and old or for modern wheats."""
    table = shipped("development")
    rows = (
        table["wang_engel"] | table["wang_engel_tall" if tall else "wang_engel_modern"]
    )
    return build(WangEngel, rows, "development.toml")


def cutting_window():
    """`CuttingWindow` of a binder."""
    return build_shipped(CuttingWindow, "development", "cutting_window")


def vernalisation_rule():
    """`VernalisationRule`."""
    return build_shipped(VernalisationRule, "vernalisation", "rule")


def doubt_prior():
    """`DoubtPrior` before the grower's own dates."""
    return build_shipped(DoubtPrior, "learning", "prior")


def date_errors():
    """`DateErrors` of the grower's own dates."""
    return build_shipped(DateErrors, "learning", "date_errors")


def sign_ladders():
    """A `SignLadder` for each kind of sign."""
    return {kind: build_shipped(SignLadder, "signs", kind) for kind in shipped("signs")}


def _cold_of(variety_class):
    """Rows of how cold works on a class."""
    table = shipped("vernalisation")
    if variety_class not in variety_classes():
        raise OutOfRange(
            "{said} is not a class of variety; it should be one of {classes}.",
            said=repr(variety_class),
            classes=", ".join(variety_classes()),
        )
    return table["cold"] | table[variety_class]
