"""The day's small entries: the gauge, hours, and where the weather is from."""

import contextlib
import tempfile
from pathlib import Path

from django.utils.translation import gettext as _

from sheafwright.records.files import bytes_of, kept
from sheafwright.records.models import (
    GaugeReading,
    Labour,
    LabourRate,
    WeatherSource,
)
from sheafwright.records.services.checks import not_ahead, refuse, says_something
from sheafwright.records.services.entry import entry_add

MOST_BYTES = 30 * 2**20
"""A century of hours, packed or by the day, is smaller."""
PARTS = ("record", "columns", "forecast")


def gauge_reading_record(
    *, holding, date, rain_mm=None, tmin_c=None, tmax_c=None, **said
):
    not_ahead(holding, date)
    says_something("rain_mm", rain_mm, tmin_c, tmax_c)
    if tmin_c is not None and tmax_c is not None and tmin_c > tmax_c:
        refuse("tmin_c", _("The lowest is above the highest; they look swapped."))
    return entry_add(
        GaugeReading,
        holding=holding,
        date=date,
        rain_mm=rain_mm,
        tmin_c=tmin_c,
        tmax_c=tmax_c,
        **said,
    )


def labour_record(*, holding, date, **said):
    not_ahead(holding, date)
    return entry_add(Labour, holding=holding, date=date, **said)


def labour_rate_set(*, holding, since, who="", **said):
    """Say what an hour costs from a day on; the next rate of the same ends it."""
    not_ahead(holding, since, "since")
    who = " ".join(who.split())
    return entry_add(LabourRate, holding=holding, since=since, who=who, **said)


def weather_source_set(
    *, id, holding, made_by, name, record, columns=None, forecast=None, note=""
):
    """Work the answers out from this record, once it is one that can be read.

    Parameters
    ----------
    record, columns, forecast : file
        As they were sent; the columns file only for a CSV of no layout we know.
    """
    sent = zip(PARTS, (record, columns, forecast), strict=True)
    parts = {part: _content(file, part) for part, file in sent if file}
    _check_readable(parts, {"record": record, "columns": columns, "forecast": forecast})
    with contextlib.ExitStack() as stack:
        names = {
            part: stack.enter_context(kept(f"weather/{id}-{part}", content))
            for part, content in parts.items()
        }
        return entry_add(
            WeatherSource,
            id=id,
            holding=holding,
            made_by=made_by,
            name=name,
            note=note,
            **names,
        )


def _content(file, part):
    return bytes_of(file, MOST_BYTES, part)


def _check_readable(parts, sent):
    """Refuses, in the readers' own words, what the engine could not read."""
    from sheafwright.feeds.forecast.read import parse
    from sheafwright.feeds.weather import read

    with tempfile.TemporaryDirectory() as folder:
        paths = {
            part: _laid_out(Path(folder), part, sent[part], content)
            for part, content in parts.items()
        }
        read(paths["record"], paths.get("columns"))
        if "forecast" in parts:
            parse(parts["forecast"], sent["forecast"].name)


def _laid_out(folder, part, sent, content):
    """The file under the name that the person knows it by, which refusals quote."""
    (folder / part).mkdir()
    path = folder / part / Path(sent.name).name
    path.write_bytes(content)
    return path
