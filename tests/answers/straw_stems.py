"""Invented stems and lots for tests of grades."""

import numpy as np

from sheafwright.answers.straw_history import LotGrown
from sheafwright.feeds.stems import stems_from_rows

SOUND = {"length_mm": 1050, "butt_mm": 4.1, "top_mm": 2.4, "bends": 0, "damage": 0}
SHORT = SOUND | {"length_mm": 610}
BENT = SOUND | {"bends": 1}
CRUSHED = SOUND | {"damage": 1}
NOTHING = {"brightness": 61}


def stems(*bundles):
    """Stems of bundles 1, 2, ...: each a list of rows."""
    rows = [
        row | {"bundle": number}
        for number, bundle in enumerate(bundles, 1)
        for row in bundle
    ]
    return stems_from_rows(rows, "The sample")


def lots(count, fields, **slopes):
    """Lots whose stems are longer or brighter by what grew them, and by chance."""
    rng = np.random.default_rng(count)
    level = rng.normal(0, 30, fields)
    made = []
    for number in range(count):
        nitrogen, day = float(rng.integers(0, 4)), float(rng.integers(205, 232))
        rain, field = float(rng.gamma(2, 15)), number % fields
        longer = slopes.get("nitrogen", 0) * nitrogen + slopes.get("week", 0) * day / 7
        made.append(
            LotGrown(
                lot=f"L{number}",
                field=f"Field {field}",
                variety=("Yeoman", "Squarehead")[number % 2],
                harvest_year=1900 + number,
                stems=36,
                length_mm=1000 + level[field] + longer + rng.normal(0, 15),
                taper_mm_per_m=1.6
                + slopes.get("taper", 0) * nitrogen
                + rng.normal(0, 0.05),
                brightness=70 - slopes.get("rain", 0) * rain / 10 + rng.normal(0, 2),
                bends=0.05 + slopes.get("bends", 0) * rain / 10 + rng.normal(0, 0.01),
                nitrogen_index=nitrogen,
                cut_day=day,
                rain_on_stooks_mm=rain,
            )
        )
    return tuple(made)
