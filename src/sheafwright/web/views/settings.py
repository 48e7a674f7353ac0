from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from sheafwright.accounts.models import Membership, Token
from sheafwright.accounts.rights import Right
from sheafwright.accounts.services import (
    holding_place_change,
    membership_end,
    person_let_in,
    token_end,
    token_make,
)
from sheafwright.records.models import WeatherSource
from sheafwright.web.access import for_right
from sheafwright.web.errors import told_on
from sheafwright.web.forms.settings import PersonForm, PlaceForm, TokenForm


@for_right(Right.RUN)
def settings(request):
    holding = request.membership.holding
    return _page(request, PersonForm(), PlaceForm(instance=holding))


@for_right(Right.RUN)
@require_POST
def person_add(request):
    holding, form = request.membership.holding, PersonForm(request.POST)
    if form.is_valid():
        with told_on(form):
            person_let_in(holding=holding, **form.cleaned_data)
    if not form.is_valid():
        return _page(request, form, PlaceForm(instance=holding))
    return redirect("web:settings", holding.slug)


@for_right(Right.RUN)
@require_POST
def person_remove(request, membership_id):
    holding = request.membership.holding
    membership = get_object_or_404(Membership, holding=holding, pk=membership_id)
    membership_end(membership=membership)
    return redirect("web:holdings")


@for_right(Right.RUN)
@require_POST
def place(request):
    holding = request.membership.holding
    form = PlaceForm(request.POST, instance=holding)
    if form.is_valid():
        with told_on(form):
            holding_place_change(holding=holding, **form.cleaned_data)
    if not form.is_valid():
        return _page(request, PersonForm(), form)
    return redirect("web:settings", holding.slug)


def _page(request, person_form, place_form):
    holding = request.membership.holding
    bound = person_form.is_bound or place_form.is_bound
    context = {
        "people": holding.memberships.select_related("person").order_by("person__name"),
        "person_form": person_form,
        "place_form": place_form,
        "weather": WeatherSource.objects.filter(holding=holding).first(),
    }
    return render(request, "web/settings.html", context, status=400 if bound else 200)


@login_required
def keys(request):
    """A person's keys, by which a program of theirs may speak for them."""
    form = TokenForm(request.POST or None)
    if form.is_valid():
        with told_on(form):
            _token, key = token_make(person=request.user, **form.cleaned_data)
            messages.success(request, _("Copy the key now: %s") % key)
        if form.is_valid():
            return redirect("web:keys")
    mine = Token.objects.filter(person=request.user, ended_at=None)
    context = {"form": form, "tokens": mine, "act": _("Make a key")}
    return render(
        request, "web/keys.html", context, status=400 if form.is_bound else 200
    )


@login_required
@require_POST
def key_end(request, token_id):
    token_end(token=get_object_or_404(Token, person=request.user, pk=token_id))
    return redirect("web:keys")
