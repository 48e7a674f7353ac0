"""What the inspector asks for beside the material itself."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from sheafwright.records.models.entry import Entry, perhaps_of


class Certificate(Entry):
    """The holding's own, or a contractor's."""

    holder = models.CharField(_("whose"), max_length=120)
    is_own = models.BooleanField(_("this holding's own"), default=False)
    body = models.CharField(_("control body"), max_length=120)
    code = models.CharField(_("code"), max_length=40)
    number = models.CharField(_("number"), max_length=60, blank=True)
    scope = models.CharField(_("what it covers"), max_length=300)
    covers_straw = models.BooleanField(_("straw is on it"), default=False)
    since = models.DateField(_("from"))
    expires = models.DateField(_("until"))

    class Meta:
        ordering = ("-expires",)

    def __str__(self):
        return f"{self.holder}, {self.code}"


class Derogation(Entry):
    date = models.DateField(_("granted on"))
    variety = models.CharField(_("variety"), max_length=60)
    reason = models.CharField(_("reason"), max_length=300)
    reference = models.CharField(_("reference"), max_length=60)

    def __str__(self):
        return f"{self.reference}, {self.variety}"


class Cleaning(Entry):
    date = models.DateField(_("date"))
    what = models.CharField(_("what was cleaned"), max_length=120)
    machine = perhaps_of("records.Machine", _("if a machine, which"), "cleanings")
    how = models.CharField(_("how"), max_length=300)
    by = models.CharField(_("by whom"), max_length=80, blank=True)
    """Whoever writes it down, if nobody is named."""

    class Meta:
        ordering = ("date",)


class Complaint(Entry):
    date = models.DateField(_("date"))
    who = models.CharField(_("from whom"), max_length=120)
    lot = models.ForeignKey(
        "records.Lot", models.PROTECT, null=True, blank=True, related_name="complaints"
    )
    what = models.CharField(_("what about"), max_length=300)
    done = models.CharField(_("what was done"), max_length=300, blank=True)

    class Meta:
        ordering = ("date",)


class VerminControl(Entry):
    date = models.DateField(_("date"))
    where = models.CharField(_("where"), max_length=120)
    what = models.CharField(_("what was done"), max_length=300)

    class Meta:
        ordering = ("date",)
