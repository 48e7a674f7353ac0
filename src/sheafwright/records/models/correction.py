"""What was put right of a fact: what it said before, who changed it, when and why."""

from django.core.serializers.json import DjangoJSONEncoder
from django.db import models
from django.utils.translation import gettext_lazy as _

from sheafwright.records.models.entry import Entry


class Correction(Entry):
    """A thing itself says what is right; this, for ever, what it said before."""

    date = models.DateField(_("date"))
    field = models.ForeignKey(
        "records.Field",
        models.PROTECT,
        null=True,
        blank=True,
        related_name="corrections",
    )
    certificate = models.ForeignKey(
        "records.Certificate",
        models.PROTECT,
        null=True,
        blank=True,
        related_name="corrections",
    )
    seed_lot = models.ForeignKey(
        "records.SeedLot",
        models.PROTECT,
        null=True,
        blank=True,
        related_name="corrections",
    )
    was = models.JSONField(encoder=DjangoJSONEncoder)
    """Name of each fact that changed to what it said."""
    now = models.JSONField(encoder=DjangoJSONEncoder)
    why = models.CharField(_("why"), max_length=300)

    class Meta:
        ordering = ("date", "made_at")
        constraints = (
            models.CheckConstraint(
                condition=models.Q(field__isnull=False, certificate=None, seed_lot=None)
                | models.Q(field=None, certificate__isnull=False, seed_lot=None)
                | models.Q(field=None, certificate=None, seed_lot__isnull=False),
                name="one_thing_is_put_right",
            ),
        )

    @property
    def thing(self):
        return self.field or self.certificate or self.seed_lot
