"""What every page knows: whose it is, where one may go, and whether a rick is hot."""

import functools

from django.urls import NoReverseMatch, resolve, reverse
from django.utils.translation import gettext_lazy as _

from sheafwright.accounts.rights import Right
from sheafwright.answers.rick_heat import CAUTION
from sheafwright.feeds.telling import told
from sheafwright.records.selectors.calls import call_lists, calls_of
from sheafwright.records.selectors.heat import ricks_in_danger

PAGES = (
    ("today", _("Today")),
    ("ground", _("Ground")),
    ("seed", _("Seed")),
    ("growing", _("Growing")),
    ("cutting", _("Cutting")),
    ("hands", _("Hands")),
    ("stooks", _("Stooks")),
    ("ricks", _("Ricks")),
    ("threshing", _("Threshing")),
    ("labour", _("Labour")),
    ("straw", _("Straw")),
    ("grain", _("Grain")),
    ("orders", _("Orders")),
    ("money", _("Money")),
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
    pages = pages_for(membership)
    return {
        "holding": membership.holding,
        "navigation": [
            (address, title, address == request.path) for title, address in pages
        ],
        "may": {right.name.lower(): membership.may(right) for right in Right},
        "units": request.user.units,
        "alarms": list(_alarms(membership)),
    }


def _alarms(membership):
    """Ricks in danger, on every page of the holding: whoever reads may stand there.

    Telephone numbers and the way to the page of ricks only for whom that page is.
    """
    holding, is_theirs = membership.holding, may_open("ricks", membership)
    dangers = ricks_in_danger(holding=holding)
    lists = call_lists(holding=holding) if dangers and is_theirs else {}
    for each in dangers:
        yield {
            "sentence": each.heat.sentence,
            "care": told(CAUTION),
            "calls": calls_of(lists, each.rick),
            "url": reverse("web:ricks", args=[holding.slug]) if is_theirs else "",
            "act": _act(membership),
        }


def _act(membership):
    may_write = membership.may(Right.DO_WORK)
    return _("Enter a reading") if may_write else _("See its temperatures")


def pages_for(membership):
    """Title and address of each page that there is and this person may open."""
    slug = membership.holding.slug
    return [
        (title, reverse(f"web:{name}", args=[slug]))
        for name, title in PAGES
        if may_open(name, membership)
    ]


def home_of(membership):
    """Address of the page that this person begins at; None if there is none."""
    for name in ("today", "book", "bought"):
        if may_open(name, membership):
            return reverse(f"web:{name}", args=[membership.holding.slug])
    return None


def may_open(name, membership):
    """Whether there is such a page of the holding, and it is for this person."""
    right = right_of(name)
    return right is not None and membership.may(right)


@functools.cache
def right_of(name):
    """The right that a holding's page asks for; None if there is no such page."""
    try:
        address = reverse(f"web:{name}", args=["a"])
    except NoReverseMatch:
        return None
    return resolve(address).func.right
