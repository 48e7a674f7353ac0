"""How a germination test is judged, from the tables."""

from sheafwright.core.inputs.germination import GerminationRules, TrayRange
from sheafwright.feeds.tables import build, shipped, within
from sheafwright.feeds.telling import listed

TRAYS = {4: "four_trays", 2: "two_trays"}
"""Numbers of trays whose range is in the table."""


def germination_rules():
    """`GerminationRules`."""
    table = shipped("germination")
    where = listed(["germination.toml [test]", "[law]"])
    return build(GerminationRules, table["test"] | table["law"], where)


def tray_range(trays):
    """`TrayRange` of so many trays, or None where the table has none."""
    if trays not in TRAYS:
        return None
    upper, lower = (
        build(TrayRange, rows, within("germination.toml", TRAYS[trays]))
        for rows in tray_range_rows(trays)
    )
    return TrayRange(upper.lowest_mean + lower.lowest_mean, upper.widest + lower.widest)


def tray_range_rows(trays):
    """Rows of the upper and the lower part of a table of trays."""
    table = shipped("germination")
    return table[TRAYS[trays]], table[f"{TRAYS[trays]}_lower"]
