"""Who may open a page of a holding, decided in one place."""

import functools
import zoneinfo

from django.contrib.auth.views import redirect_to_login
from django.utils import timezone

from sheafwright.accounts.selectors import membership_with
from sheafwright.records.reader import reading


def for_right(right):
    """Wrap a view of ``/<slug>/…`` so that only those with this right see it.

    The view is called as ``view(request, **rest)``, with ``request.membership`` and in
    the holding's own time zone and the person's units; ``slug`` is used up here.
    """

    def wrap(view):
        @functools.wraps(view)
        def allowed(request, slug, **rest):
            if not request.user.is_authenticated:
                return redirect_to_login(request.get_full_path())
            request.membership = membership_with(
                person=request.user, slug=slug, right=right
            )
            zone = zoneinfo.ZoneInfo(request.membership.holding.time_zone)
            with timezone.override(zone), reading(request.user.units):
                return view(request, **rest)

        allowed.right = right
        return allowed

    return wrap
