"""Has the crop the cold it needs to come to ear?"""

import dataclasses
import datetime

import numpy as np

from sheafwright.core.crop import vernalisation
from sheafwright.feeds import crop
from sheafwright.feeds.sowing import harvest_year


@dataclasses.dataclass(frozen=True)
class Cold:
    """The answer."""

    shares: dict[str, float]
    """Share of possible crops in each of ``vernalisation.STATUSES``. [0–1]"""
    uneven: float
    """Chance that warmth overtakes the crop, short of cold. [0–1]"""

    @property
    def status(self):
        """The likeliest."""
        return max(self.shares, key=self.shares.get)

    @property
    def chance(self):
        """Chance that it has the cold it needs. [0–1]"""
        return self.shares["marginal"] + self.shares["safe"]

    def to_json(self):
        """The answer as it leaves Python."""
        return {
            "status": self.status,
            "chance": round(self.chance, 4),
            "shares": {name: round(share, 4) for name, share in self.shares.items()},
            "chance_of_uneven_heading": round(self.uneven, 4),
        }


def cold(season):
    """The `Cold` of a `sheafwright.answers.field_season.FieldSeason`."""
    rule, phases, ahead = crop.vernalisation_rule(), season.crops.phases, season.ahead
    gathered = vernalisation.vernal_days(
        ahead.tmin, ahead.tmax, ahead.stages.emergence, phases.vernal_temperatures
    )
    # A crop not yet up has had no cold.
    gathered = np.nan_to_num(gathered)
    chances = vernalisation.status_chances(
        gathered[:, _days_to(season.question.sown, rule.judged_on)],
        phases.vernal_days_full,
        rule.safe_margin,
    )
    factor = vernalisation.vernal_factor(
        gathered, phases.vernal_days_base, phases.vernal_days_full
    )
    uneven = vernalisation.uneven_heading(
        factor,
        (ahead.tmin + ahead.tmax) / 2,
        _days_to(season.question.sown, rule.warm_from),
        rule.warm_days,
        rule.warm_mean,
    )
    shares = dict(zip(vernalisation.STATUSES, map(float, chances), strict=True))
    return Cold(_capped(season, shares), float(uneven.mean()))


def _days_to(sown, day_of_year):
    """Days from sowing to a day of the harvest year, 0 if that is past."""
    new_year = datetime.date(harvest_year(sown), 1, 1)
    return max((new_year - sown).days + day_of_year - 1, 0)


def _capped(season, shares):
    """No crop is called safe that was sown after the last safe date of its class."""
    latest = crop.latest_sowing(season.crops.likeliest.name)
    if _days_to(season.question.sown, latest + 1):
        return shares
    return shares | {"safe": 0.0, "marginal": shares["marginal"] + shares["safe"]}
