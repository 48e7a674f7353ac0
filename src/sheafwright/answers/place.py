"""How does the field differ from its station?

The record is corrected by what is most likely, and what stays in doubt is drawn: wide
before the grower has read a gauge and a thermometer in the field, narrower after.
"""

import dataclasses

import numpy as np

from sheafwright.answers import wording
from sheafwright.answers.working import Step, step_from_rows
from sheafwright.core.weather.place import (
    Belief,
    Days,
    Place,
    PlaceDraws,
    correct,
    learn_place,
)
from sheafwright.feeds import readings
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import joined, say


@dataclasses.dataclass(frozen=True)
class AtPlace:
    """A station's record brought to the field."""

    record: object
    """The `WeatherRecord`, corrected by the likeliest differences."""
    doubt: Place
    """What may differ still, about nothing."""
    step: Step


def at_place(record, readings_path=None):
    """The `AtPlace` of a record.

    Parameters
    ----------
    record : sheafwright.feeds.weather.record.WeatherRecord
    readings_path : path, optional
        The grower's own readings; days after the record's last are not looked at.
    """
    nothing = np.full(record.days, np.nan)
    station = Days(*(record.values.get(name, nothing) for name in Days._fields))
    field = Days(nothing, nothing, nothing)
    if readings_path is not None:
        own = readings.own_readings(readings_path)
        field = own.aligned(record.first, record.days)
    believed = learn_place(field, station, readings.place_prior())
    likely = PlaceDraws(
        np.exp(believed.log_rain_ratio.mean),
        believed.tmin_offset.mean,
        believed.tmax_offset.mean,
    )
    corrected = correct(station, likely)._asdict()
    return AtPlace(
        dataclasses.replace(record, values=record.values | corrected),
        Place(*(Belief(np.zeros_like(b.mean), b.sd) for b in believed)),
        _step(likely, believed, field, readings_path),
    )


def _step(likely, believed, field, readings_path):
    days = int(np.isfinite(np.stack(field)).any(axis=0).sum())
    says = wording.station_and_field(
        days,
        float(likely.rain_ratio),
        float(believed.log_rain_ratio.sd),
        float(likely.tmin_offset + likely.tmax_offset) / 2,
        float(np.hypot(believed.tmin_offset.sd, believed.tmax_offset.sd)) / 2,
    )
    prior = step_from_rows(says, *shipped("place")["prior"].values())
    if not days:
        return prior
    # Where the path is a name of ours it may be told in other languages, too.
    source = joined(say(str(readings_path)), prior.source, by="; ")
    return dataclasses.replace(prior, source=source)
