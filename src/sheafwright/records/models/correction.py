"""What was put right of a fact: what it said before, who changed it, when and why."""

import functools
import operator

from django.core.serializers.json import DjangoJSONEncoder
from django.db import models
from django.utils.translation import gettext_lazy as _

from sheafwright.records.models.entry import Entry

THINGS = ("field", "certificate", "seed_lot", "rick", "machine", "enquiry")
"""What facts are put right of."""


def _only_one(names):
    """That one of these is said, and no other."""
    return functools.reduce(
        operator.or_,
        (models.Q(**{f"{n}__isnull": n != said for n in names}) for said in names),
    )


def _of(kind):
    """One of the things that may be put right; the others stay empty."""
    return models.ForeignKey(
        f"records.{kind}",
        models.PROTECT,
        null=True,
        blank=True,
        related_name="corrections",
    )


class Correction(Entry):
    """A thing itself says what is right; this, for ever, what it said before."""

    date = models.DateField(_("date"))
    field = _of("Field")
    certificate = _of("Certificate")
    seed_lot = _of("SeedLot")
    rick = _of("Rick")
    machine = _of("Machine")
    enquiry = _of("Enquiry")
    was = models.JSONField(encoder=DjangoJSONEncoder)
    """Name of each fact that changed to what it said."""
    now = models.JSONField(encoder=DjangoJSONEncoder)
    why = models.CharField(_("why"), max_length=300)

    class Meta:
        ordering = ("date", "made_at")
        constraints = (
            models.CheckConstraint(
                condition=_only_one(THINGS), name="one_thing_is_put_right"
            ),
        )

    @property
    def thing(self):
        return next(filter(None, (getattr(self, name) for name in THINGS)))
