"""Prices and costs by the measures that their reader reckons in."""

from sheafwright.feeds.telling import by_family, say

ACRE = 0.40468564224
"""[ha]"""
TON = 1.0160469088
"""[t]"""


def per_area(gbp_per_ha):
    """Such as £420/ha, or £170/acre."""
    return by_family(
        say("£{gbp:,.0f}/ha", gbp=gbp_per_ha),
        say("£{gbp:,.0f}/acre", gbp=gbp_per_ha * ACRE),
    )


def per_weight(gbp_per_t):
    """Such as £800 a tonne, or £813 a ton."""
    return by_family(
        say("£{gbp:,.0f} a tonne", gbp=gbp_per_t),
        say("£{gbp:,.0f} a ton", gbp=gbp_per_t * TON),
    )
