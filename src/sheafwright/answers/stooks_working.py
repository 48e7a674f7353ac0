"""How "can I cart?" was worked out, from the rows of the tables that were used."""

import datetime

from sheafwright.answers import wording
from sheafwright.answers.stook_days import kinds
from sheafwright.answers.working import GIVEN, Step, step_from_rows
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import joined

SURPRISE = 2.0
"""A reading so many of its errors from what it led to is a surprise. [1]"""


def stooks_steps(answer):
    """Every `Step` behind an answer, in the order that they were taken.

    Parameters
    ----------
    answer : sheafwright.answers.stooks.StooksAnswer
    """
    return (
        *answer.known.steps,
        Step(wording.cut_on(answer.question.cut), "You", GIVEN),
        *_began(),
        _wet_days(),
        *_air(answer.known.weather),
        _readings(answer),
        *_rates(answer.days),
        _summers(answer),
        answer.ahead.issued.step,
    )


def telling_steps(answer):
    """The few on which the day turns: what was read, the rates, the forecast.

    Parameters
    ----------
    answer : as in `stooks_steps`
    """
    return _readings(answer), *_rates(answer.days), answer.ahead.issued.step


def _rows(what):
    """The rows by which grain or straw dries: its own, or else the grain's."""
    own = shipped("stooks")["straw"] if what == "straw" else {}
    return shipped("losses")["drying"] | own


def _began():
    for what in kinds():
        names = ("at_cutting", "wet_day_gain_dry_basis", "fit_to_carry")
        rows = [_rows(what)[name] for name in names]
        says = wording.stooked(what, *(row.value for row in rows))
        yield step_from_rows(says, *rows)


def _wet_days():
    names = ("wet_day_mm", "soaking_mm", "carrying_rain_mm", "carrying_rain_before_mm")
    rows = [_rows("grain")[name] for name in names]
    return step_from_rows(wording.wet_days(*(row.value for row in rows)), *rows)


def _air(weather):
    air, dew = shipped("stooks")["air"], shipped("stooks")["dew"]
    says = wording.drying_air(air["warmth"].value, air["dampest"].value)
    yield step_from_rows(says, *air.values())
    for what, rows in shipped("moisture").items():
        yield step_from_rows(wording.curves(what, len(rows)), *rows.values())
    measured = weather.humidity is not None or weather.dewpoint is not None
    says = wording.dew(measured, dew["dewy_humidity"].value, dew["dew_mm"].value)
    yield step_from_rows(says, *dew.values())


def _readings(answer):
    readings = answer.question.readings
    says = joined(
        wording.readings(len(readings), len({each.date for each in readings})),
        *(
            wording.reading_surprise(what, reading.date)
            for reading in readings
            for what in kinds()
            if _surprises(answer, reading, what)
        ),
    )
    if not readings:
        return step_from_rows(says, shipped("stooks")["meter"]["rate_cv"])
    return step_from_rows(says, *shipped("stooks")["meter"].values())


def _surprises(answer, reading, what):
    """Whether what was read is far from what all readings together lead to."""
    read = getattr(reading, what)
    if read is None:
        return False
    day = min(reading.date, answer.known.as_of) - answer.question.cut
    expected = answer.days.moisture[what][:, day // datetime.timedelta(1)]
    error = shipped("stooks")["meter"]["reading_error"].value
    return abs(read - expected.mean()) > SURPRISE * error


def _rates(days):
    for what in kinds():
        row, rate = _rows(what)["rate_per_dry_day"], days.rate[what]
        says = wording.rate_learned(what, row.value, rate.mean(), rate.std())
        yield step_from_rows(says, row, _rows(what)["reference_evapotranspiration"])


def _summers(answer):
    rows = shipped("decision")["futures"]
    says = wording.summers(answer.question.summers, answer.ahead.n_years)
    return step_from_rows(says, rows["near"], rows["half_window"])
