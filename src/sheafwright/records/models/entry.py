"""What every entry in the record has."""

import uuid

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _


class Entry(models.Model):
    # Made by the phone or the page before it is sent: sent twice, it is one entry.
    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    holding = models.ForeignKey(
        "accounts.Holding", models.PROTECT, related_name="+", editable=False
    )
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+", editable=False
    )
    made_at = models.DateTimeField(auto_now_add=True)
    note = models.CharField(_("note"), max_length=500, blank=True)

    class Meta:
        abstract = True


def perhaps_of(model, label, related_name):
    """What an entry may be about, and need not."""
    return models.ForeignKey(
        model,
        models.PROTECT,
        verbose_name=label,
        null=True,
        blank=True,
        related_name=related_name,
    )


def between(least, most):
    return [MinValueValidator(least), MaxValueValidator(most)]


PERCENT = between(0, 100)
