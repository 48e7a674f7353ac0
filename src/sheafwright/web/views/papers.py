"""Papers and files, made when they are asked for."""

import io

from django.core.exceptions import ValidationError
from django.http import FileResponse, Http404
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.records.clock import today
from sheafwright.records.models import FlourBags, Observation
from sheafwright.records.models.store import STRAW
from sheafwright.records.papers.almanac import almanac_of
from sheafwright.records.papers.drum_day import drum_day_of
from sheafwright.records.papers.events import events_of
from sheafwright.records.papers.flour_label import flour_labels_of
from sheafwright.records.papers.harvest_day import harvest_day_of
from sheafwright.records.papers.labels import labels_of
from sheafwright.records.papers.record_book import record_book_of
from sheafwright.records.papers.rick_card import rick_card_of
from sheafwright.records.papers.stook_card import stook_card_of
from sheafwright.records.selectors.lots import lots_held
from sheafwright.web.access import for_right
from sheafwright.web.forms.book import PeriodForm, year_to
from sheafwright.web.forms.papers import CountForm, LabelsForm

MOST_YEARS = 5
"""Of the record in one paper or file."""
MOST_LOTS = 25
"""On one sheet of labels, where no lot is named."""


@for_right(Right.SEE_BOOK)
def book_pdf(request):
    from sheafwright.documents.record_book import record_book_pdf

    return as_file(record_book_pdf(_book(request)), "record-book.pdf")


@for_right(Right.SEE_BOOK)
def book_csv(request):
    from sheafwright.documents.record_book_csv import record_book_zip

    made = record_book_zip(_book(request))
    return as_file(made, "record-book.zip", as_attachment=True)


@for_right(Right.SEE_BOOK)
def book_epcis(request):
    from sheafwright.documents.epcis import epcis_document
    from sheafwright.documents.typst import as_json

    holding = request.membership.holding
    begins, ends = period_of(request)
    said = epcis_document(
        events_of(holding=holding, begins=begins, ends=ends),
        base_url=request.build_absolute_uri(f"/{holding.slug}/"),
        made_at=timezone.localtime(),
    )
    return as_file(
        as_json(said).encode(),
        "events.jsonld",
        as_attachment=True,
        content_type="application/ld+json",
    )


@for_right(Right.SEE_WORK)
def almanac(request):
    from sheafwright.documents.almanac import almanac_pdf

    said = almanac_of(holding=request.membership.holding, units=request.user.units)
    return as_file(almanac_pdf(said), "almanac.pdf")


@for_right(Right.SEE_WORK)
def harvest_sheet(request):
    from sheafwright.documents.harvest_day import harvest_day_pdf

    said = harvest_day_of(holding=request.membership.holding, units=request.user.units)
    return as_file(harvest_day_pdf(said), "harvest-day.pdf")


@for_right(Right.SEE_WORK)
def drum_day(request):
    from sheafwright.documents.drum_day import drum_day_pdf

    said = drum_day_of(holding=request.membership.holding, units=request.user.units)
    return as_file(drum_day_pdf(said), "drum-day.pdf")


@for_right(Right.SEE_WORK)
def rick_card(request, rick_id):
    from sheafwright.documents.rick_card import rick_card_pdf

    holding, units = request.membership.holding, request.user.units
    said = rick_card_of(holding=holding, id=rick_id, units=units)
    return as_file(rick_card_pdf(said), "rick-card.pdf")


@for_right(Right.SEE_WORK)
def labels(request):
    """Of the lot that is asked for, else of all the straw in store."""
    from sheafwright.documents.labels import labels_pdf

    holding = request.membership.holding
    form = LabelsForm(request.GET, holding=holding)
    _must_be_right(form)
    lot, count = form.cleaned_data["lot"], form.cleaned_data["count"]
    lots = [lot] if lot else _straw(holding)

    def address_of(lot):
        page = reverse("web:lot", args=[holding.slug, lot.pk])
        return request.build_absolute_uri(page)

    said = labels_of(holding=holding, lots=lots, count=count, address_of=address_of)
    return as_file(labels_pdf(said), "labels.pdf")


@for_right(Right.SEE_WORK)
def flour_labels(request, flour_bags_id):
    """A label a bag, if nobody says how many."""
    from sheafwright.documents.flour_label import flour_labels_pdf

    holding = request.membership.holding
    filled = FlourBags.objects.select_related("lot", "holding")
    bags = get_object_or_404(filled, holding=holding, pk=flour_bags_id)
    form = CountForm(request.GET)
    _must_be_right(form)

    def address_of(lot):
        page = reverse("web:lot", args=[holding.slug, lot.pk])
        return request.build_absolute_uri(page)

    said = flour_labels_of(
        bags=bags, count=form.cleaned_data["count"], address_of=address_of
    )
    return as_file(flour_labels_pdf(said), "flour-labels.pdf")


@for_right(Right.SEE_WORK)
def stook_card(request):
    from sheafwright.documents.stook_card import stook_card_pdf

    said = stook_card_of(holding=request.membership.holding)
    return as_file(stook_card_pdf(said), "stook-card.pdf")


@for_right(Right.SEE_WORK)
def photo(request, observation_id):
    seen = get_object_or_404(
        Observation, holding=request.membership.holding, pk=observation_id
    )
    return as_picture(seen.photo)


def _book(request):
    begins, ends = period_of(request)
    return record_book_of(
        holding=request.membership.holding,
        begins=begins,
        ends=ends,
        units=request.user.units,
    )


def period_of(request):
    a_year = year_to(today(request.membership.holding))
    form = PeriodForm(request.GET or None, initial=a_year)
    if form.is_bound:
        _must_be_right(form)
    begins, ends = form.said()
    if (ends - begins).days > MOST_YEARS * 366:
        raise ValidationError(
            _("That is too long for one paper: ask for %(most)d years at most.")
            % {"most": MOST_YEARS}
        )
    return begins, ends


def _must_be_right(form):
    if not form.is_valid():
        raise ValidationError(
            [
                f"{form[name].label}: {error}"
                for name, errors in form.errors.items()
                for error in errors
            ]
        )


def _straw(holding):
    held = lots_held(holding=holding, kinds=STRAW, most=MOST_LOTS)
    lots = [each.lot for each in held.lots]
    if not lots:
        raise ValidationError(_("No straw is in store: there is nothing to label."))
    return lots


def as_picture(file):
    """A photograph that is kept; not found, where there is none."""
    try:
        return FileResponse(file.open(), content_type="image/jpeg")
    except (ValueError, FileNotFoundError):
        # None was taken, or a backup was restored without it.
        raise Http404 from None


def as_file(content, name, **how):
    return FileResponse(io.BytesIO(content), filename=name, **how)
