"""Certificates as they stand today, and the record of a period."""

import dataclasses
import datetime

from django.db.models import Q, QuerySet

from sheafwright.records.clock import today
from sheafwright.records.models import (
    Certificate,
    Cleaning,
    Complaint,
    Cut,
    Derogation,
    InputApplied,
    Line,
    Loss,
    Sale,
    Sowing,
    Threshing,
    VerminControl,
)
from sheafwright.records.selectors.ground import fields_of
from sheafwright.records.selectors.undone import not_undone

SOON_DAYS = 60
"""A certificate is renewed from so many days before it ends."""


@dataclasses.dataclass(frozen=True)
class CertificateNow:
    certificate: Certificate
    days_left: int
    """Less than nothing once it has run out."""

    @property
    def has_ended(self):
        return self.days_left < 0

    @property
    def ends_soon(self):
        return 0 <= self.days_left <= SOON_DAYS

    @property
    def leaves_straw_out(self):
        """Whether straw sold as organic would stand on it in vain."""
        return self.certificate.is_own and not self.certificate.covers_straw


@dataclasses.dataclass(frozen=True)
class BookOfPeriod:
    """Everything that an inspector asks for, from one day to another."""

    begins: datetime.date
    ends: datetime.date
    certificates: QuerySet
    """That held on any of its days, contractors' too."""
    fields: QuerySet
    """With their statuses, leys and inputs."""
    sowings: QuerySet
    derogations: QuerySet
    inputs: QuerySet
    cuts: QuerySet
    threshings: QuerySet
    sales: QuerySet
    losses: QuerySet
    lines: QuerySet
    """Of the material book, undone and undoing ones too, in their order."""
    cleanings: QuerySet
    complaints: QuerySet
    vermin_controls: QuerySet


def certificates_now(*, holding):
    """The last of each holder and code, our own first and then the soonest to end."""
    day, last = today(holding), {}
    for each in Certificate.objects.filter(holding=holding).order_by("expires"):
        last[each.holder, each.code] = each
    now = (CertificateNow(each, (each.expires - day).days) for each in last.values())
    return tuple(sorted(now, key=lambda c: (not c.certificate.is_own, c.days_left)))


def book_of_period(*, holding, begins, ends):
    """The record book from one day to another, both counted in."""

    def within(kind):
        return kind.objects.filter(holding=holding, date__range=(begins, ends))

    return BookOfPeriod(
        begins=begins,
        ends=ends,
        certificates=_certificates(holding, begins, ends),
        fields=fields_of(holding=holding),
        sowings=_sowings(holding, begins, ends),
        derogations=_derogations(holding, begins, ends),
        inputs=within(InputApplied).select_related("field"),
        cuts=not_undone(within(Cut)).select_related("sowing__field", "contractor"),
        threshings=not_undone(within(Threshing)).select_related("rick", "stook_set"),
        sales=not_undone(within(Sale)).select_related("lot"),
        losses=not_undone(within(Loss)).select_related("sowing__field"),
        lines=_lines(holding, begins, ends),
        cleanings=within(Cleaning).select_related("made_by"),
        complaints=within(Complaint).select_related("lot"),
        vermin_controls=within(VerminControl),
    )


def _certificates(holding, begins, ends):
    return Certificate.objects.filter(
        holding=holding, since__lte=ends, expires__gte=begins
    )


def _sowings(holding, begins, ends):
    """Sown in the period, or cut in it: the crop's seed is asked for either way."""
    found = Sowing.objects.filter(
        Q(date__range=(begins, ends)) | Q(cuts__date__range=(begins, ends)),
        holding=holding,
    )
    return found.select_related("field", "seed_lot__derogation").distinct()


def _derogations(holding, begins, ends):
    """Granted in the period, or for seed of its sowings."""
    seed = _sowings(holding, begins, ends).values("seed_lot__derogation")
    return Derogation.objects.filter(
        Q(date__range=(begins, ends)) | Q(pk__in=seed), holding=holding
    )


def _lines(holding, begins, ends):
    return (
        Line.objects.filter(
            movement__holding=holding, movement__date__range=(begins, ends)
        )
        .select_related("movement", "place")
        .order_by("movement__date", "movement__seq", "grams", "id")
    )
