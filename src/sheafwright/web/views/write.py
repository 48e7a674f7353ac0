"""One page for every kind of entry: its form, and the service that writes it."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import Http404, JsonResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.core.errors import SheafwrightError
from sheafwright.web.access import for_right
from sheafwright.web.forms.entry import form_class, initial
from sheafwright.web.forms.kinds import KINDS


@for_right(Right.DO_WORK)
def write(request, membership, kind):
    what = KINDS.get(kind)
    if what is None or not membership.may(what.right):
        raise Http404
    make = form_class(what, membership)
    if request.method != "POST":
        given = {name: request.GET[name] for name in request.GET}
        form = make(initial=initial(what, membership, given))
    else:
        form = make(request.POST, request.FILES)
        if form.is_valid() and _written(form, what, membership):
            return _thanks(request, what, membership)
    if request.method == "POST" and _wants_json(request):
        return JsonResponse({"says": _said(form)}, status=400)
    context = {"form": form, "kind": what}
    status = 400 if form.is_bound else 200
    return render(request, "web/write.html", context, status=status)


def _written(form, what, membership):
    try:
        what.write(holding=membership.holding, made_by=membership.person, **form.said())
    except ValidationError as error:
        _put(form, error)
    except SheafwrightError as error:
        form.add_error(None, str(error))
    return form.is_valid()


def _put(form, error):
    """Each of a service's errors beside its field, or above the form."""
    if not hasattr(error, "error_dict"):
        form.add_error(None, error)
        return
    for name, errors in error.error_dict.items():
        form.add_error(name if name in form.fields else None, errors)


def _thanks(request, what, membership):
    if _wants_json(request):
        return JsonResponse({"written": request.POST["id"]})
    messages.success(request, _("Written down."))
    return redirect(f"web:{what.page}", membership.holding.slug)


def _wants_json(request):
    return request.headers.get("accept", "").startswith("application/json")


def _said(form):
    return " ".join(str(e) for errors in form.errors.values() for e in errors)
