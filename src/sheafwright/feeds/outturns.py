"""Usual outturns at the drum, from the tables."""

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds.tables import shipped


def usual_rows(combed):
    """The row of each product's usual range, of combed straw or of long straw."""
    return shipped("outturns")["combed" if combed else "long_straw"]


def usual_shares(combed):
    """Lowest and highest usual share of each product: {product: (low, high)}. [1]"""
    return {name: _range(row) for name, row in usual_rows(combed).items()}


def _range(row):
    low, high = row.value
    if not 0 <= low < high <= 1:
        raise UnreadableInput(
            "{where}: {name} is {value}; it should be two shares from 0 to 1, the "
            "lower first.",
            where=row.table,
            name=row.name,
            value=repr(row.value),
        )
    return low, high
