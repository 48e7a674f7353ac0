"""What does the drill sow, and where should it be set?"""

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sheafwright.answers.drill import (
    CAUTION,
    DrillQuestion,
    TrayTest,
    drill_calibration,
    wheel_distance,
)
from sheafwright.web.asks.ask import Ask, number, quantity, told
from sheafwright.web.forms.fields import QuantitiesField
from sheafwright.web.sheets import Section
from sheafwright.web.tables import Column, Table
from sheafwright.web.templatetags.said import UNKNOWN, rate


def _catches(label, required=True):
    return lambda membership: QuantitiesField(
        quantity="mass",
        family=membership.person.units,
        label=label,
        required=required,
    )


def _drill(membership, wanted, width, distance, turns, round_wheel, **tested):
    answer = drill_calibration(
        DrillQuestion(
            wanted=wanted,
            distance=_run(distance, turns, round_wheel),
            width=width,
            tests=_trays(**tested),
        )
    )
    units = membership.person.units
    columns = (
        Column(_("Setting")),
        Column(_("Catches"), True),
        Column(_("It sows"), True),
        Column(_("Between"), True),
        Column(_("More catches"), True),
    )
    rows = tuple(
        (
            f"{each.setting:g}",
            str(each.catches),
            rate(each.rate, units),
            _between(each.interval, units),
            UNKNOWN if each.more is None else str(each.more),
        )
        for each in answer.tested
    )
    return told(answer, Section(table=Table(columns, rows), working=answer.working))


def _run(distance, turns, round_wheel):
    if distance is not None:
        return distance
    if None in (turns, round_wheel):
        says = _("Type how far it ran, or the wheel's turns and how far it is round.")
        raise ValidationError({"distance": says})
    return wheel_distance(round_wheel, turns)


def _trays(setting, catches, setting_2, catches_2):
    tests = [TrayTest(setting, tuple(catches))]
    if (setting_2 is None) != (not catches_2):
        says = _("A second setting goes with what was caught there: type both.")
        raise ValidationError({"setting_2": says})
    if catches_2:
        tests.append(TrayTest(setting_2, tuple(catches_2)))
    return tuple(tests)


def _between(interval, units):
    if interval is None:
        return UNKNOWN
    return _("%(low)s and %(high)s") % {
        "low": rate(interval.low, units),
        "high": rate(interval.high, units),
    }


DRILL = Ask(
    gettext_lazy("Set the drill"),
    {
        "wanted": quantity("rate", gettext_lazy("rate that is wanted")),
        "setting": number(gettext_lazy("setting of the drill"), min_value=0),
        "catches": _catches(gettext_lazy("what each run caught")),
        "width": quantity(
            "distance",
            gettext_lazy("width of the coulters that were caught from"),
        ),
        "distance": quantity(
            "distance", gettext_lazy("how far each run went"), required=False
        ),
        "turns": number(gettext_lazy("or turns of the land wheel"), required=False),
        "round_wheel": quantity(
            "distance", gettext_lazy("round the wheel"), required=False
        ),
    },
    {
        "setting_2": number(
            gettext_lazy("a second setting"), required=False, min_value=0
        ),
        "catches_2": _catches(
            gettext_lazy("what each run caught there"), required=False
        ),
    },
    _drill,
    CAUTION,
)
