"""Make the demo holding's weather: a place that isn't, in a climate that could be.

Maritime north-west Europe, about 800 mm a year, every number here invented. The air
pressure comes first and persists; it leans on a chain of wet and dry days, on sun,
wind and warmth. So yesterday's pressure says something about tomorrow's rain, as it
does outdoors, and the engine has something true to find in the record.
"""

import gzip
import io
from pathlib import Path

import numpy as np
import pandas as pd
from scipy.signal import lfilter
from scipy.special import expit, logit

from sheafwright.core.chance import markov
from sheafwright.core.weather.radiation import daylight_hours

DEMO = Path(__file__).parents[1] / "src" / "sheafwright" / "data" / "demo"
DAYS = pd.date_range("1995-01-01", "2025-12-31", name="date")
LATITUDE = 52.4
SEED = 7


def season(mean, swing, peak):
    """A year's wave, highest on the day of year `peak`: (day,)."""
    return mean + swing * np.cos(2 * np.pi * (DAYS.day_of_year - peak) / 365.25)


def persistent(keep, rng):
    """Unit noise of which each day keeps a share of the day before: (day,)."""
    noise = rng.standard_normal(len(DAYS))
    return lfilter([np.sqrt(1 - keep**2)], [1, -keep], noise)


def high_pressure(rng):
    """Standardised pressure: weather of days upon weather of weeks. [1]"""
    return 0.94 * persistent(0.80, rng) + 0.34 * persistent(0.95, rng)


def wet_days(after_dry, after_wet, high, rng):
    """A chain whose chances sink under high pressure: (day,) of bool."""
    chances = expit(logit(np.stack([after_dry, after_wet])) - 1.2 * high)
    return markov.simulate(*chances, n_draws=1, n_days=len(DAYS), rng=rng)[0]


def share_of_sun(high, wet, rng):
    """Sunshine over the longest possible, 0 to 1: (day,)."""
    sky = season(-0.15, 0.25, 150) + 0.5 * high - 1.1 * wet + persistent(0.2, rng)
    return expit(sky)


def mean_temperature(high, sun, rng):
    """Warmer with sun in summer, colder under winter's high pressure: (day,). [°C]"""
    summer = season(0, 1, 196)
    pull = 3.0 * summer * (sun - 0.35) - 0.5 * (1 - summer) * high
    return season(10.0, 6.2, 205) + pull + 2.5 * persistent(0.75, rng)


def spread_of_temperature(sun, rng):
    """Highest less lowest temperature of the day, never below 0: (day,). [°C]"""
    clear = 0.9 * (sun - 0.35)
    return season(6.0, 1.0, 150) * np.exp(clear + 0.18 * persistent(0.1, rng))


def rain_on(wet, high, rng):
    """Gamma amounts, less under high pressure: (day,). [mm d-1]"""
    return wet * rng.gamma(0.8, season(4.2, 0.4, 290) * np.exp(-0.25 * high))


def wind(high, wet, rng):
    """Stronger in winter, under low pressure and in rain: (day,). [m s-1]"""
    gale = -0.22 * high + 0.15 * wet + 0.28 * persistent(0.4, rng)
    return season(4.3, 0.9, 20) * np.exp(gale)


def weather(rng):
    """Thirty-one years of days, a column a quantity."""
    high = high_pressure(rng)
    wet = wet_days(season(0.45, 0.05, 350), season(0.68, 0.04, 360), high, rng)
    sun = share_of_sun(high, wet, rng)
    mean, spread = mean_temperature(high, sun, rng), spread_of_temperature(sun, rng)
    # A sky nearly closed burns no line on the recorder's card.
    recorded = np.where(sun < 0.12, 0, sun)
    columns = {
        "tmin_c": mean - spread / 2,
        "tmax_c": mean + spread / 2,
        "rain_mm": rain_on(wet, high, rng),
        "sunshine_h": recorded * daylight_hours(LATITUDE, DAYS.day_of_year),
        "wind_m_s": wind(high, wet, rng),
        "pressure_hpa": 1014.5 + season(9.0, 2.4, 15) * high,
    }
    return pd.DataFrame(columns, index=DAYS).round(1)


def packed(table):
    """The table as gzipped CSV, byte for byte the same each time."""
    text = table.to_csv(lineterminator="\n").encode()
    packed = io.BytesIO()
    with gzip.GzipFile(fileobj=packed, mode="wb", filename="", mtime=0) as file:
        file.write(text)
    return packed.getvalue()


def main():
    table = weather(np.random.default_rng(SEED))
    (DEMO / "weather.csv.gz").write_bytes(packed(table))


if __name__ == "__main__":
    main()
