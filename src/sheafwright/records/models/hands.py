"""Who comes to help and when; the machines, what was seen of them, who was shown them.

What changes is not written over: of two words on the same, the later counts.
"""

from django.db import models
from django.utils.translation import gettext_lazy as _

from sheafwright.records.models.entry import Entry, between, perhaps_of


class MayDo(models.Model):
    """The tasks that a hand may be given."""

    may_bind = models.BooleanField(_("may work on the binder"), default=False)
    may_stook = models.BooleanField(_("may stook"), default=False)
    may_cart = models.BooleanField(_("may cart"), default=False)
    may_thresh = models.BooleanField(_("may work at the drum"), default=False)

    class Meta:
        abstract = True


class Hand(Entry, MayDo):
    """Somebody who works here now and then, whether they sign in or not."""

    name = models.CharField(_("name"), max_length=80)
    farm = models.CharField(_("from which neighbour's farm"), max_length=80, blank=True)
    """Blank for our own people."""
    person = models.ForeignKey(
        "accounts.Person", models.PROTECT, null=True, blank=True, related_name="+"
    )
    """As whom they sign in, if they do."""

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("holding", "name"), name="one_hand_of_a_name"
            ),
        )
        ordering = ("name",)

    def __str__(self):
        return self.name


class HandTasks(Entry, MayDo):
    """From a day on a hand may do these, or comes no more."""

    hand = models.ForeignKey(
        Hand, models.PROTECT, verbose_name=_("who"), related_name="tasks_since"
    )
    since = models.DateField(_("since"))
    gone = models.BooleanField(_("comes no more"), default=False)

    class Meta:
        ordering = ("since", "made_at")


class Half(models.TextChoices):
    MORNING = "morning", _("morning")
    AFTERNOON = "afternoon", _("afternoon")


class Coming(Entry):
    """Whether a hand can come, on one day or on each day of several."""

    class When(models.TextChoices):
        DAY = "day", _("all day")
        MORNING = Half.MORNING.value, Half.MORNING.label
        AFTERNOON = Half.AFTERNOON.value, Half.AFTERNOON.label

    hand = models.ForeignKey(
        Hand, models.PROTECT, verbose_name=_("who"), related_name="comings"
    )
    date = models.DateField(_("day, or first day"))
    until = models.DateField(_("and each day until"), null=True, blank=True)
    when = models.CharField(
        _("part of the day"), max_length=10, choices=When, default=When.DAY
    )
    can_come = models.BooleanField(_("can come"), default=True)

    class Meta:
        ordering = ("made_at",)


class Machine(Entry):
    class Kind(models.TextChoices):
        BINDER = "binder", _("binder")
        DRUM = "drum", _("threshing drum")
        COMB = "comb", _("reed comb")
        ELEVATOR = "elevator", _("elevator")
        CART = "cart", _("cart or trailer")
        TRACTOR = "tractor", _("tractor")
        OTHER = "other", _("another machine")

    kind = models.CharField(_("kind"), max_length=10, choices=Kind)
    name = models.CharField(_("name"), max_length=80)
    cut_width_m = models.FloatField(
        _("width it cuts"), null=True, blank=True, validators=between(0.5, 6)
    )
    speed_km_per_h = models.FloatField(
        _("speed at work, km/h"), null=True, blank=True, validators=between(0.5, 15)
    )
    deck_length_m = models.FloatField(
        _("length of its deck, if it carries"),
        null=True,
        blank=True,
        validators=between(1, 15),
    )
    deck_width_m = models.FloatField(
        _("width of its deck"), null=True, blank=True, validators=between(0.8, 4)
    )
    payload_kg = models.FloatField(
        _("what it may carry, by its plate"),
        null=True,
        blank=True,
        validators=between(100, 30_000),
    )
    shared_with = models.CharField(_("shared with"), max_length=120, blank=True)
    holder = models.CharField(_("who has it"), max_length=80, blank=True)
    stands = models.CharField(_("where it stands"), max_length=80, blank=True)
    """Holder and place as they were when it was written down."""

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("holding", "name"), name="one_machine_of_a_name"
            ),
        )
        ordering = ("kind", "name")

    def __str__(self):
        return self.name


class MachineMove(Entry):
    """From a day on a machine stands somewhere else, or is gone for good."""

    machine = models.ForeignKey(
        Machine, models.PROTECT, verbose_name=_("machine"), related_name="moves"
    )
    since = models.DateField(_("since"))
    holder = models.CharField(
        _("who has it; nobody named if it is here"), max_length=80, blank=True
    )
    stands = models.CharField(_("where it stands"), max_length=80, blank=True)
    gone = models.BooleanField(_("gone for good"), default=False)

    class Meta:
        ordering = ("since", "made_at")


class Part(models.TextChoices):
    """Of a machine, as they are looked over before harvest."""

    CANVAS = "canvas", _("canvas")
    KNOTTER = "knotter", _("knotter")
    KNIFE = "knife", _("knife")
    BELTS = "belts", _("belts and chains")
    GUARDS = "guards", _("guards")


PARTS_OF = {
    Machine.Kind.BINDER: tuple(Part),
    Machine.Kind.DRUM: (Part.BELTS, Part.GUARDS),
    Machine.Kind.COMB: (Part.BELTS, Part.GUARDS),
    Machine.Kind.ELEVATOR: (Part.BELTS, Part.GUARDS),
}
"""What is looked over of each kind of machine; of another, whatever it has."""


class State(models.TextChoices):
    SOUND = "sound", _("sound")
    WORN = "worn", _("worn")
    BROKEN = "broken", _("broken or missing")


def _state(part):
    return models.CharField(part.label, max_length=6, choices=State, blank=True)


class MachineCheck(Entry):
    """What was found of each part; blank for one that was not looked at."""

    machine = models.ForeignKey(
        Machine, models.PROTECT, verbose_name=_("machine"), related_name="checks"
    )
    date = models.DateField(_("date"))
    canvas = _state(Part.CANVAS)
    knotter = _state(Part.KNOTTER)
    knife = _state(Part.KNIFE)
    belts = _state(Part.BELTS)
    guards = _state(Part.GUARDS)

    class Meta:
        ordering = ("date", "made_at")


class Spare(Entry):
    """How many spares of a part one holder has on a day."""

    class For(models.TextChoices):
        CANVAS = Part.CANVAS.value, Part.CANVAS.label
        KNOTTER = Part.KNOTTER.value, Part.KNOTTER.label
        KNIFE = Part.KNIFE.value, Part.KNIFE.label
        BELTS = Part.BELTS.value, Part.BELTS.label
        GUARDS = Part.GUARDS.value, Part.GUARDS.label
        TWINE = "twine", _("twine")
        OTHER = "other", _("something else")

    machine = models.ForeignKey(
        Machine, models.PROTECT, verbose_name=_("machine"), related_name="spares"
    )
    date = models.DateField(_("counted on"))
    part = models.CharField(_("spare for"), max_length=8, choices=For)
    what = models.CharField(_("what exactly"), max_length=120, blank=True)
    count = models.PositiveSmallIntegerField(
        _("how many"), validators=between(0, 10_000)
    )
    holder = models.CharField(
        _("who holds it; nobody named if it is here"), max_length=80, blank=True
    )

    class Meta:
        ordering = ("date", "made_at")


class Briefing(Entry):
    """A hand was shown a machine: how it is stopped, what to keep away from."""

    hand = models.ForeignKey(
        Hand, models.PROTECT, verbose_name=_("who was shown"), related_name="briefings"
    )
    machine = models.ForeignKey(
        Machine, models.PROTECT, verbose_name=_("machine"), related_name="briefings"
    )
    date = models.DateField(_("date"))
    by = models.CharField(_("by whom"), max_length=80)
    signed = models.BooleanField(_("signed by both"), default=False)

    class Meta:
        ordering = ("date", "made_at")


class Tying(Entry):
    """Sheaves watched behind a binder, and the twine that went."""

    machine = models.ForeignKey(
        Machine, models.PROTECT, verbose_name=_("binder"), related_name="tyings"
    )
    date = models.DateField(_("date"))
    cut = perhaps_of("records.Cut", _("block that was cut"), "tyings")
    sheaves = models.PositiveIntegerField(
        _("sheaves watched"), null=True, blank=True, validators=between(1, 1_000_000)
    )
    mis_ties = models.PositiveIntegerField(
        _("of them untied"), null=True, blank=True, validators=between(0, 1_000_000)
    )
    twine_kg = models.FloatField(
        _("twine used"), null=True, blank=True, validators=between(0.01, 10_000)
    )
    area_ha = models.FloatField(
        _("on how much ground"),
        null=True,
        blank=True,
        validators=between(0.001, 10_000),
    )
    """Of the twine; the block's own if it is not said."""

    class Meta:
        ordering = ("date", "made_at")


class Insurance(Entry):
    class Covers(models.TextChoices):
        EMPLOYERS = "employers", _("employers' liability")
        PUBLIC = "public", _("public liability")
        MACHINES = "machines", _("machines")

    covers = models.CharField(
        _("what it covers"), max_length=10, choices=Covers, default=Covers.EMPLOYERS
    )
    insurer = models.CharField(_("with whom"), max_length=120, blank=True)
    number = models.CharField(_("number"), max_length=60, blank=True)
    since = models.DateField(_("from"))
    runs_to = models.DateField(_("until"))

    class Meta:
        ordering = ("runs_to", "made_at")
