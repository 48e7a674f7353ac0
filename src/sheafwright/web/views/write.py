"""One page for every kind of entry: its form, and the service that writes it."""

import functools

from django.contrib import messages
from django.http import Http404, JsonResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.records.services.settle import late_write
from sheafwright.web.access import for_right
from sheafwright.web.errors import told_on
from sheafwright.web.forms.entry import form_class, initial
from sheafwright.web.forms.kinds import KINDS

LATE = "X-Kept"
"""Header of an entry that a phone kept while it had no signal."""

ENDED = {"flour": "milling"}
"""A kind of entry that there was to the kind that took its place."""


@for_right(Right.DO_WORK)
def write(request, kind):
    membership, what = request.membership, KINDS.get(kind)
    if what is None and request.method == "POST" and _wants_json(request):
        return _ended(kind)
    if what is None or not membership.may(what.right):
        raise Http404
    make = form_class(what, membership)
    if request.method == "POST":
        form = make(request.POST, request.FILES)
        if form.is_valid():
            waits = _written(form, kind, request)
        if form.is_valid():
            page = what.page_after(form.cleaned_data)
            return _thanks(request, what, page, waits)
        if _wants_json(request):
            return JsonResponse({"says": _refusal(form)}, status=400)
    else:
        begun = initial(what, membership, make.base_fields, request.GET.dict())
        form = make(initial=begun)
    warned = what.warnings(membership.holding, request.POST or request.GET)
    context = {
        "form": form,
        "kind": what,
        "care": [*what.cautions, *warned],
        "act": _("Write it down"),
    }
    return render(
        request, "web/write.html", context, status=400 if form.is_bound else 200
    )


def _ended(kind):
    """To a phone that kept an entry of a kind that there is no longer."""
    says = _("This kind of entry is no longer taken.")
    if kind in ENDED:
        says = _(
            "This kind of entry is no longer taken: write it as “%(title)s” instead."
        ) % {"title": KINDS[ENDED[kind]].title}
    return JsonResponse({"says": says, "ended": True}, status=404)


def _written(form, kind, request):
    """Write it; why it waits to be settled, if it came late and doesn't fit."""
    membership = request.membership
    who = {"holding": membership.holding, "made_by": membership.person}
    write = functools.partial(KINDS[kind].write, **who, **form.said())
    with told_on(form):
        if LATE in request.headers:
            id, said = form.cleaned_data["id"], _readable(form)
            return late_write(id=id, what=kind, said=said, write=write, **who)
        write()
    return ""


def _readable(form):
    """Each label and what was said there, for whoever settles it."""
    return {
        str(field.label): str(form.cleaned_data[field.name])
        for field in form.visible_fields()
        if form.cleaned_data.get(field.name) not in (None, "")
    }


def _thanks(request, what, page, waits):
    tells = what.then(request.membership.holding) if what.then else None
    page = reverse(f"web:{page}", args=[request.membership.holding.slug])
    if _wants_json(request):
        return JsonResponse(
            {"written": request.POST["id"], "says": waits or tells or "", "next": page}
        )
    messages.success(request, _("Written down."))
    if tells:
        messages.warning(request, tells)
    return redirect(page)


def _wants_json(request):
    return request.headers.get("accept", "").startswith("application/json")


def _refusal(form):
    return " ".join(str(each) for errors in form.errors.values() for each in errors)
