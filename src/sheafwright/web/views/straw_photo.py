"""Stems measured from photographs: sent, looked at, accepted; and shown for good."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import Http404
from django.shortcuts import redirect, render

from sheafwright.accounts.rights import Right
from sheafwright.documents.board import board_pdf, how_to
from sheafwright.measure.board import board as board_of
from sheafwright.measure.straw import can_measure
from sheafwright.records import tracing_wording as wording
from sheafwright.records.clock import today
from sheafwright.records.selectors.tracings import (
    is_accepted,
    last_board,
    photograph_of,
    tracing_of,
)
from sheafwright.records.services.tracings import tracing_accept, tracing_drop
from sheafwright.web.access import for_right
from sheafwright.web.asked import whole
from sheafwright.web.errors import sentence, told_on
from sheafwright.web.forms.entry import form_class, initial
from sheafwright.web.forms.straw_photo import TRACING
from sheafwright.web.templatetags.said import day_and_year
from sheafwright.web.tracing import columns, figures, parted, rows
from sheafwright.web.views.papers import as_file, as_picture

DROP = "drop"
"""What the button that throws photographs away sends as ``do``."""


@for_right(Right.DO_WORK)
def photographs_new(request):
    """The form; without what measures, one sentence that says how to get it."""
    membership = request.membership
    make = form_class(TRACING, membership)
    if request.method != "POST":
        form = make(initial=_begun(request, make))
        return _asked(request, form)
    form, made = make(request.POST, request.FILES), None
    if form.is_valid():
        who = {"holding": membership.holding, "made_by": membership.person}
        with told_on(form):
            made = TRACING.write(**who, **form.said())
    if made is None:
        return _asked(request, form, status=400)
    return redirect("web:tracing", slug=membership.holding.slug, tracing_id=made.pk)


def _begun(request, make):
    membership = request.membership
    begun = initial(TRACING, membership, make.base_fields, request.GET.dict())
    board = last_board(holding=membership.holding)
    if board["bar_mm"]:
        # As the ruler said it: rounded as pages do, it would be another board.
        board["bar_mm"] = f"{board['bar_mm']:g} mm"
    return board | begun


def _asked(request, form, status=200):
    usual, of_board = form.parts()
    context = {
        "form": form,
        "title": TRACING.title,
        "can_measure": can_measure(),
        "usual": usual,
        "of_board": of_board,
        "is_unusual": any(field.value() or field.errors for field in of_board),
        "how_to": how_to(board_of()),
    }
    return render(request, "web/straw_photo.html", context, status=status)


@for_right(Right.SEE_LOT)
def tracing(request, tracing_id):
    """What was traced: to look at, to accept, and to see ever after."""
    found = tracing_of(membership=request.membership, id=tracing_id)
    if found is None:
        raise Http404
    if request.method != "POST":
        return _shown(request, found)
    if not request.membership.may(Right.DO_WORK):
        raise Http404
    typed = (whole(text, digits=6) for text in request.POST.getlist("stem"))
    kept = {number for number in typed if number is not None}
    try:
        if request.POST.get("do") == DROP or not kept:
            return _dropped(request, found)
        return _accepted(request, found, kept)
    except ValidationError as error:
        return _shown(request, found, kept, sentence(error))


def _dropped(request, found):
    tracing_drop(holding=found.holding, tracing=found)
    messages.success(request, wording.thrown_away())
    return _to_lot(request, found)


def _accepted(request, found, kept):
    sample = tracing_accept(
        holding=found.holding,
        made_by=request.membership.person,
        tracing=found,
        stems=kept,
    )
    messages.success(request, wording.written(len(sample.stems)))
    return _to_lot(request, found)


def _to_lot(request, found):
    slug = request.membership.holding.slug
    return redirect("web:lot", slug=slug, lot_id=found.lot_id)


def _shown(request, found, kept=None, wrong=""):
    sample = found.sample if is_accepted(found) else None
    listed = rows(found, sample, kept)
    open_rows, folded_rows = parted(listed)
    struck = {row.number for row in listed if sample and not row.is_kept}
    said = found.said
    context = {
        "tracing": found,
        "sample": sample,
        "headline": wording.headline(found, sample),
        "odds": _odds(struck, sample),
        "of_lot": wording.of_lot(found, day_and_year(found.date)),
        "wrong": wrong,
        "not_used": [
            wording.not_used(each["name"], each["why"]) for each in said["refused"]
        ],
        "figures": figures(request, found, listed, struck),
        "open_rows": open_rows,
        "folded_rows": folded_rows,
        "all_sound": wording.all_sound(len(folded_rows)),
        "the_others": wording.the_others(len(folded_rows)),
        "columns": columns(),
        "left_out": wording.left_out(said["rejected"]),
        "is_a_draft": wording.is_a_draft(),
        "printer": "".join(said["warnings"][-1:]),
        "working": said["working"],
        "drop": DROP,
    }
    status = 400 if wrong else 200
    return render(request, "web/tracing.html", context, status=status)


def _odds(struck, sample):
    if sample is None:
        return wording.how_to_look()
    return wording.how_many_struck(len(struck)) if struck else ""


@for_right(Right.SEE_LOT)
def photograph(request, photograph_id):
    """A photograph as pages show it, or with ``?whole`` all of it."""
    found = photograph_of(membership=request.membership, id=photograph_id)
    if found is None:
        raise Http404
    return as_picture(found.whole if "whole" in request.GET else found.small)


@for_right(Right.SEE_WORK)
def board(request):
    """The board to print."""
    made = board_pdf(board_of(), made_on=today(request.membership.holding))
    return as_file(made, "board.pdf")
