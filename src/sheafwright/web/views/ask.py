"""One page for every question that is answered as soon as it is asked."""

from django.http import Http404
from django.shortcuts import render

from sheafwright.accounts.rights import Right
from sheafwright.web.access import for_right
from sheafwright.web.asks import ASKS, beside_action
from sheafwright.web.errors import told_on


@for_right(Right.SEE_WORK)
def ask(request, question):
    asked = ASKS.get(question)
    if asked is None:
        raise Http404
    make, told = asked.form_class(request.membership, request.POST), None
    if request.method == "POST":
        form = make(request.POST, request.FILES)
        if form.is_valid():
            with told_on(form):
                told = asked.tell(request.membership, **form.cleaned_data)
    else:
        form = make(initial=request.GET.dict())
    context = {
        "ask": asked,
        "form": form,
        "fields": [form[name] for name in asked.fields],
        "folds": list(_folds(asked, form, request.POST)),
        "beside": [beside_action(request, name) for name in asked.beside],
        "told": told,
    }
    refused = form.is_bound and not told
    return render(request, "web/ask.html", context, status=400 if refused else 200)


def _folds(asked, form, typed):
    """Summary and fields of each fold, and whether something was said in it."""
    said = set(form.changed_data) if form.is_bound else set()
    for summary, fields in asked.folds(typed):
        yield summary, [form[name] for name in fields], bool(said & fields.keys())
