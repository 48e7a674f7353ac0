"""Who may see which holding."""

from django.http import Http404

from sheafwright.accounts.models import Membership


def membership_with(*, person, slug, right):
    """The person's membership of a holding, if it gives the right.

    A holding that is another's looks just like one that is not there, so that no
    address tells a stranger what exists.
    """
    found = (
        Membership.objects.select_related("holding", "person")
        .filter(person_id=person.pk, holding__slug=slug)
        .first()
    )
    if found is None or not found.may(right):
        raise Http404
    return found


def memberships_of(*, person):
    return (
        Membership.objects.select_related("holding")
        .filter(person=person)
        .order_by("holding__name")
    )
