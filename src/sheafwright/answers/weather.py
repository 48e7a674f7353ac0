"""What does a weather record hold, what is wrong with it, and what is it fit for?"""

import collections
import dataclasses
import datetime

from sheafwright.answers import wording
from sheafwright.feeds.telling import listed, mark, say, say_n, told
from sheafwright.feeds.weather import examine
from sheafwright.feeds.weather.checks import shipped_checks
from sheafwright.feeds.weather.gaps import (
    ALL_SEASON,
    METHOD,
    Gap,
    SpoiledSeason,
    gaps,
    spoiled_seasons,
    whole_seasons,
)
from sheafwright.feeds.weather.suspects import Suspect
from sheafwright.feeds.weather.variables import VARIABLES

MOST_GAPS = 1000
MOST_OF_A_CHECK = 20
FITNESS = {
    "stages": mark("when the crop ears, flowers and ripens"),
    "stooks": mark("how stooks dry, and what rain does to them"),
    "futures": mark("drawing possible summers"),
    "lodging": mark("wind and rain that lay a crop flat"),
    "humidity": mark("drying from the air's own humidity"),
    "evapotranspiration": mark("drying power with nothing put in its place"),
}
CALLED = {
    "stages": mark("stages"),
    "stooks": mark("stooks"),
    "futures": mark("futures"),
    "lodging": mark("lodging"),
    "humidity": mark("humidity"),
    "evapotranspiration": mark("evapotranspiration"),
}


@dataclasses.dataclass(frozen=True)
class WeatherReport:
    """The answer."""

    station: str
    layout: str
    latitude: float | None
    """North positive. [°]"""
    longitude: float | None
    """East positive. [°]"""
    altitude: float | None
    """[m]"""
    first: datetime.date
    last: datetime.date
    days: int
    present: dict[str, float]
    """Variable to the share of days measured, by its name outside. [0–1]"""
    filled: dict[str, int]
    """Variable to the days bridged, by its name outside."""
    gaps: tuple[Gap, ...]
    """The longest first."""
    suspects: tuple[Suspect, ...]
    seasons: int
    """Harvest years with every day on record."""
    seasons_refused: tuple[SpoiledSeason, ...]
    fit_for: tuple[str, ...]
    """Of ``FITNESS``."""

    @property
    def few_suspects(self):
        """The first of each check, so that one check can't hide another."""
        count = collections.Counter()
        few = []
        for each in self.suspects:
            count[each.check] += 1
            if count[each.check] <= MOST_OF_A_CHECK:
                few.append(each)
        return tuple(few)

    @property
    def sentence(self):
        """The answer in a sentence."""
        held = say(
            "{station}: {days} from {first} to {last}, {fit}",
            station=self.station,
            days=say_n("{n:,} day", "{n:,} days", self.days),
            first=wording.date(self.first),
            last=wording.date(self.last),
            fit=self._fit(),
        )
        refused = sum(each.days for each in self.suspects if each.refused)
        if not refused:
            return say("{held}.", held=held)
        return say_n(
            "{held}; {n:,} value left out as impossible.",
            "{held}; {n:,} values left out as impossible.",
            refused,
            held=held,
        )

    def _fit(self):
        if not self.fit_for:
            return say("not good enough for any of our answers")
        answers = listed([say(CALLED[name]) for name in self.fit_for])
        return say("good enough for {answers}", answers=answers)

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "station": self.station,
            "layout": self.layout,
            "latitude_deg": self.latitude,
            "longitude_deg": self.longitude,
            "altitude_m": self.altitude,
            "first": self.first.isoformat(),
            "last": self.last.isoformat(),
            "days": self.days,
            "present": self.present,
            "filled": {
                name: {"days": days, "method": told(METHOD)}
                for name, days in self.filled.items()
            },
            "gaps": [_gap(each) for each in self.gaps[:MOST_GAPS]],
            "gaps_total": len(self.gaps),
            "suspect": [_suspect(each) for each in self.few_suspects],
            "suspect_total": len(self.suspects),
            "seasons": self.seasons,
            "seasons_refused": [_season(each) for each in self.seasons_refused],
            "fit_for": list(self.fit_for),
        }


def weather_report(path, columns=None):
    """The report on a weather file, read through a columns file if one is given."""
    examined = examine(path, columns)
    record = examined.record
    present = {name: _share_present(record, name) for name in _in_order(record.values)}
    return WeatherReport(
        station=record.station,
        layout=record.layout,
        latitude=record.latitude,
        longitude=record.longitude,
        altitude=record.altitude,
        first=record.first,
        last=record.last,
        days=record.days,
        present={outside(name): share for name, share in present.items()},
        filled={
            outside(name): int(record.filled[name].sum())
            for name in _in_order(record.filled)
        },
        gaps=tuple(sorted(gaps(record), key=lambda gap: -gap.days)),
        suspects=examined.suspects,
        seasons=len(whole_seasons(record)),
        seasons_refused=tuple(spoiled_seasons(record)),
        fit_for=_fit_for(record, present, shipped_checks().enough),
    )


def outside(name):
    """A variable's name outside; ``date`` stays what it is."""
    return VARIABLES[name].outside if name in VARIABLES else name


def _in_order(names):
    return [name for name in VARIABLES if name in names]


def _share_present(record, name):
    # Rounded down, so that 1 says that no day is missing.
    return int(1e4 * (1 - record.missing(name).mean())) / 1e4


def _fit_for(record, present, enough):
    """What the record is good enough for, in the order of ``FITNESS``."""
    whole, spoiled = set(whole_seasons(record)), spoiled_seasons(record)
    growing = len(whole - {s.harvest_year for s in spoiled if s.variable in ALL_SEASON})
    harvest = len(whole - {s.harvest_year for s in spoiled})
    well = {name for name, share in present.items() if share >= enough.share_present}
    warmth, rain = {"tmin", "tmax"} <= present.keys(), "rain" in present
    air = (
        bool({"humidity", "dewpoint"} & well)
        or {"humidity_min", "humidity_max"} <= well
    )
    odds, futures = enough.seasons_for_odds, enough.seasons_for_futures
    fit = {
        "stages": warmth and growing >= odds,
        "stooks": warmth and rain and harvest >= odds,
        "futures": warmth and rain and harvest >= futures,
        "lodging": rain and bool({"gust", "wind"} & well) and harvest >= odds,
        "humidity": air,
        "evapotranspiration": air
        and "wind" in well
        and bool({"radiation", "sunshine"} & well),
    }
    return tuple(name for name in FITNESS if fit[name])


def _gap(gap):
    return {
        "variable": outside(gap.variable),
        "first": gap.first.isoformat(),
        "last": gap.last.isoformat(),
        "days": gap.days,
        "filled": gap.filled,
    }


def _suspect(suspect):
    return {
        "check": suspect.check,
        "variable": outside(suspect.variable),
        "date": suspect.first.isoformat(),
        "days": suspect.days,
        "value": suspect.value,
        "says": told(suspect.says),
        "refused": suspect.refused,
    }


def _season(season):
    return {
        "harvest_year": season.harvest_year,
        "variable": outside(season.variable),
        "first": season.first.isoformat(),
        "days": season.days,
    }
