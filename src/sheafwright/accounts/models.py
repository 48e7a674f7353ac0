"""People, their holdings, and who is what to which."""

import uuid
import zoneinfo

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from sheafwright.accounts.rights import RIGHTS, Role


class Units(models.TextChoices):
    METRIC = "metric", _("hectares, kilograms, millimetres")
    IMPERIAL = "imperial", _("acres, hundredweights, inches")


class PersonManager(BaseUserManager):
    def get_by_natural_key(self, username):
        return self.get(email__iexact=username)


class Person(AbstractBaseUser):
    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    email = models.EmailField(_("e-mail"), unique=True)
    name = models.CharField(_("name"), max_length=80)
    units = models.CharField(
        _("units"), max_length=8, choices=Units, default=Units.METRIC
    )
    is_active = models.BooleanField(default=True)

    objects = PersonManager()
    USERNAME_FIELD = "email"
    REQUIRED_FIELDS = ("name",)

    def __str__(self):
        return self.name


def is_time_zone(name):
    if name not in zoneinfo.available_timezones():
        raise ValidationError(
            _("%(name)s is no time zone; it should be one such as Europe/London."),
            params={"name": name},
        )


class Holding(models.Model):
    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    name = models.CharField(_("name"), max_length=80)
    slug = models.SlugField(max_length=60, unique=True)
    time_zone = models.CharField(
        _("time zone"),
        max_length=60,
        default="Europe/London",
        validators=[is_time_zone],
    )
    latitude_deg = models.FloatField(
        _("latitude"),
        null=True,
        blank=True,
        validators=[MinValueValidator(-66), MaxValueValidator(66)],
    )
    altitude_m = models.FloatField(
        _("altitude"),
        null=True,
        blank=True,
        validators=[MinValueValidator(-400), MaxValueValidator(4000)],
    )
    currency = models.CharField(_("currency"), max_length=3, default="GBP")
    looked_at_as_of = models.DateField(null=True, blank=True, editable=False)
    """The day that an invented holding stands still on; a real one has none."""
    last_write = models.UUIDField(null=True, editable=False)
    """Another one after each: what was found before it may be so no longer."""

    def __str__(self):
        return self.name


class Membership(models.Model):
    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    person = models.ForeignKey(Person, models.PROTECT, related_name="memberships")
    holding = models.ForeignKey(Holding, models.PROTECT, related_name="memberships")
    role = models.CharField(_("role"), max_length=10, choices=Role)

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("person", "holding"), name="one_role_in_a_holding"
            ),
        )

    def __str__(self):
        return f"{self.person}, {self.role} at {self.holding}"

    def may(self, right):
        return right in RIGHTS[Role(self.role)]


class Token(models.Model):
    """A key by which a person's own program may speak for that person."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    person = models.ForeignKey(Person, models.CASCADE, related_name="tokens")
    label = models.CharField(_("what it is for"), max_length=80)
    # The key itself is shown once and never kept.
    key_sha256 = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField(auto_now_add=True)
    ended_at = models.DateTimeField(null=True, blank=True)

    def __str__(self):
        return self.label
