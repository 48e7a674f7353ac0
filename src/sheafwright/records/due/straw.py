"""What made the good straw: lots whose stems were measured, by how they were grown."""

import datetime
import math

from sheafwright import __version__
from sheafwright.records.due import Due, tables_sha256
from sheafwright.records.selectors.straw_grown import straw_grown

KEPT = "straw_history"
ENOUGH = 0.8
"""Share of the days in the stook of which the rain must be known. [0–1]"""


def straw_due(holding, source=None, common=None):
    """`Due` of a holding; None where no stem was measured yet.

    Parameters
    ----------
    holding : Holding
    source : WeatherSource, optional
        That tells the rain on the stooks.
    common : dict, optional
        What every answer of the source rests on.
    """
    grown = straw_grown(holding=holding)
    if not grown:
        return None
    asks = {
        "tables": tables_sha256(),
        "engine": __version__,
        "lots": [each.to_json() for each in grown],
    }
    if source:
        asks |= {name: common[name] for name in ("files", "gauge", "as_of")}

    def answer(_folder):
        from sheafwright.answers.straw_history import HistoryQuestion, straw_history

        rain = _rain_by_day(source, asks) if source else {}
        lots = tuple(_lot(each, rain) for each in grown)
        return straw_history(HistoryQuestion(lots)), None

    return Due(KEPT, holding, asks, answer)


def _lot(grown, rain):
    from sheafwright.answers.straw_history import LotGrown

    cut, index = grown.cut, grown.nitrogen_index
    known = {n: value for n, value in grown.means.items() if value is not None}
    return LotGrown(
        lot=grown.lot.code,
        field=grown.field,
        variety=grown.lot.variety,
        harvest_year=grown.lot.harvest_year,
        stems=grown.stems,
        nitrogen_index=math.nan if index is None else float(index),
        cut_day=float(cut.timetuple().tm_yday) if cut else math.nan,
        rain_on_stooks_mm=_fell(rain, cut, grown.carried),
        **known,
    )


def _fell(rain, cut, carried):
    """From the day after the cut to the day it was carried; NaN where unknown. [mm]"""
    if cut is None or carried is None or carried <= cut:
        return math.nan
    days = (cut + datetime.timedelta(n + 1) for n in range((carried - cut).days))
    known = [rain[day] for day in days if day in rain]
    if len(known) < ENOUGH * (carried - cut).days:
        return math.nan
    return sum(known)


def _rain_by_day(source, asks):
    """By the record, and by the holding's own gauge where that was read. [mm]"""
    from sheafwright.feeds.weather import read

    columns = source.columns.path if source.columns else None
    record = read(source.record.path, columns, asks["as_of"])
    fell = record.values.get("rain", ())
    days = (record.first + datetime.timedelta(n) for n in range(len(fell)))
    rain = {d: float(mm) for d, mm in zip(days, fell, strict=True) if mm == mm}
    own = {day: mm for day, mm, *_ in asks["gauge"] if mm is not None}
    return rain | own
