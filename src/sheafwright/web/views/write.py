"""One page for every kind of entry: its form, and the service that writes it."""

from django.contrib import messages
from django.http import Http404, JsonResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.web.access import for_right
from sheafwright.web.errors import told_on
from sheafwright.web.forms.entry import form_class, initial
from sheafwright.web.forms.kinds import KINDS


@for_right(Right.DO_WORK)
def write(request, kind):
    membership, what = request.membership, KINDS.get(kind)
    if what is None or not membership.may(what.right):
        raise Http404
    make = form_class(what, membership)
    if request.method == "POST":
        form = make(request.POST, request.FILES)
        if _is_written(form, what, membership):
            return _thanks(request, what, membership)
        if _wants_json(request):
            return JsonResponse({"says": _refusal(form)}, status=400)
    else:
        form = make(initial=initial(what, membership, request.GET.dict()))
    context = {"form": form, "kind": what, "act": _("Write it down")}
    return render(
        request, "web/write.html", context, status=400 if form.is_bound else 200
    )


def _is_written(form, what, membership):
    if form.is_valid():
        with told_on(form):
            what.write(
                holding=membership.holding, made_by=membership.person, **form.said()
            )
    return form.is_valid()


def _thanks(request, what, membership):
    if _wants_json(request):
        return JsonResponse({"written": request.POST["id"]})
    messages.success(request, _("Written down."))
    return redirect(f"web:{what.page}", membership.holding.slug)


def _wants_json(request):
    return request.headers.get("accept", "").startswith("application/json")


def _refusal(form):
    return " ".join(str(each) for errors in form.errors.values() for each in errors)
