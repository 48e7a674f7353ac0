"""What every page knows: whose it is, where one may go, and whether a rick is hot."""

import functools

from django.urls import NoReverseMatch, resolve, reverse
from django.utils.translation import gettext_lazy as _

from sheafwright.accounts.rights import Right

PAGES = (
    ("today", _("Today")),
    ("ground", _("Ground")),
    ("seed", _("Seed")),
    ("growing", _("Growing")),
    ("cutting", _("Cutting")),
    ("stooks", _("Stooks")),
    ("ricks", _("Ricks")),
    ("threshing", _("Threshing")),
    ("straw", _("Straw")),
    ("grain", _("Grain")),
    ("bought", _("Bought")),
    ("book", _("Record book")),
    ("settings", _("Settings")),
)
"""The pages of a holding, in the order of the year's work."""


def page(request):
    """The holding, this person's pages, rights and units."""
    membership = getattr(request, "membership", None)
    if membership is None:
        return {}
    return {
        "holding": membership.holding,
        "navigation": [
            (address, title, address == request.path)
            for title, address in pages_for(membership)
        ],
        "may": {right.name.lower(): membership.may(right) for right in Right},
        "units": request.user.units,
    }


def pages_for(membership):
    """Title and address of each page that there is and this person may open."""
    slug = membership.holding.slug
    return [
        (title, reverse(f"web:{name}", args=[slug]))
        for name, title in PAGES
        if (right := right_of(name)) and membership.may(right)
    ]


@functools.cache
def right_of(name):
    """The right that a holding's page asks for; None if there is no such page."""
    try:
        address = reverse(f"web:{name}", args=["a"])
    except NoReverseMatch:
        return None
    return resolve(address).func.right
