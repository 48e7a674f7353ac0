"""Buyers' terms for milling wheat, as the engine has them."""

import dataclasses

from sheafwright.feeds.grain import buyers_terms
from sheafwright.records.models import GrainTerms

COLUMNS = {
    "protein_full": ("protein_full_pct", 1),
    "protein_least": ("protein_least_pct", 1),
    "protein_gbp_per_point": ("protein_off", 1),
    "hagberg_full": ("hagberg_full_s", 1),
    "hagberg_least": ("hagberg_least_s", 1),
    "hagberg_gbp_per_s": ("hagberg_off", 1),
    "weight_full": ("weight_full_kg_per_hl", 1),
    "weight_least": ("weight_least_kg_per_hl", 1),
    "weight_gbp_per_kg": ("weight_off", 1),
    "moisture_most": ("moisture_most_pct", 100),
    "moisture_refused": ("moisture_refused_pct", 100),
    "moisture_gbp_per_point": ("moisture_off", 1),
    "admixture_most": ("admixture_most_pct", 1),
}
"""Of the engine's terms: the column of ours, and what it is divided by."""


def terms_of(said):
    """The engine's `Terms` of a `GrainTerms`, the tables' own where it says nothing."""
    own = {
        name: getattr(said, column) / by
        for name, (column, by) in COLUMNS.items()
        if getattr(said, column) is not None
    }
    return dataclasses.replace(buyers_terms(), **own)


def terms_now(*, holding):
    """The last `GrainTerms` of each buyer, one's own usual ones first."""
    said = GrainTerms.objects.filter(holding=holding).select_related("customer")
    last = {each.customer_id: each for each in said}
    return sorted(last.values(), key=lambda x: (x.customer_id is not None, str(x)))
