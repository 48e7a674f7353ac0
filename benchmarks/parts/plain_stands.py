"""What stands, lies and is weighed, as a plain script would: one stand after another.

Each takes the engine's own luck as plain numbers, and shares nothing else with it.
"""

import math

GRAVITY, AIR_DENSITY, GRASS, MAST = 9.81, 1.2, 0.12, 10.0


def weighed(plants, half_full, nitrogen, wheat, tables):
    """Straw, reed and grain of a stand, with one luck. [t ha⁻¹]

    Parameters
    ----------
    plants, half_full : float
        [m⁻²]
    nitrogen : mapping of str to float
        One draw of ``supply`` and of its lucks.
    wheat, tables : sheafwright tables by name
    """
    table, cutting = tables.nitrogen, tables.cutting
    share = plants / (plants + half_full * nitrogen["half_full"])
    given = nitrogen["supply"] - table.ground_supply
    whole = table.most / (1 + math.exp((table.half_at - given) / table.width))
    whole *= share * math.exp(nitrogen["dry_matter"])
    ratio = table.grain_per_straw * math.exp(table.grain_per_straw_change * given)
    ratio *= wheat.odds_ratio * math.exp(nitrogen["grain_per_straw"])
    grain = whole * ratio / (1 + ratio)
    straw = (whole - grain) * nitrogen["straw_level"]
    bound = straw * (1 - cutting.butt_weight * cutting.stubble / wheat.height_cm)
    return straw, bound * nitrogen["recovery"], grain * nitrogen["grain_level"]


def lodged(days, patches, crop, factor, effects):
    """Share of a stand that lies at cutting, with one luck. [0–1]

    Parameters
    ----------
    days : sequence of (gust, rain, evapotranspiration, whether it stands in ear)
    patches : sequence of mapping of str to float
        One draw of the mechanics, patch by patch.
    crop : mapping of str to float
        ``plants``, ``height``, ``index`` and ``weeks_later``.
    factor : float
        Multiplies the gusts that it bears. [1]
    effects : sheafwright table
    """
    stem_gust, root_gust = worst(days, patches[0], crop["height"])
    down = 0
    for patch in patches:
        stem, root = bears(patch, crop, effects)
        down += max(stem_gust / stem, root_gust / root) >= factor
    return down / len(patches)


def worst(days, field, height):
    """The strongest gust that stems and that roots feel while in ear. [m s⁻¹]"""
    capacity = field["rooting_depth"] * field["available_water"]
    stem = root = wetness = 0.0
    for gust, rain, evapotranspiration, in_ear in days:
        wetness = min(wetness + rain / capacity, 1.0)
        if in_ear:
            felt = at_crop(gust, field, height)
            dry = field["dry_over_wet"]
            stem = max(stem, felt)
            root = max(root, felt / math.sqrt(dry - (dry - 1) * wetness))
        wetness *= math.exp(-evapotranspiration / capacity)
    return stem, root


def at_crop(gust, field, height):
    """The gust at the top of the crop. [m s⁻¹]"""
    blend = field["blending_height"]
    mean = gust / field["mast_gust_factor"] * profile(blend, GRASS)
    mean *= profile(height, height) / profile(MAST, GRASS) / profile(blend, height)
    return mean * (1 + field["peak_factor"] * field["turbulence"])


def profile(height, crop_height):
    """Wind over a crop, in friction velocities over von Kármán's constant."""
    return math.log((height - 2 / 3 * crop_height) / (0.123 * crop_height))


def bears(patch, crop, effects):
    """The gusts that a patch's stems and roots can just not bear. [m s⁻¹]"""
    thick, height = crop["plants"] / effects.usual_plants, crop["height"]
    quarter = math.pi / 4
    swing = math.exp(-math.pi * patch["damping"]) * math.sin(quarter) / quarter
    centre = patch["centre_share"] * height
    turning = 2 * math.pi * patch["frequency_height"] / height
    moment = 0.5 * AIR_DENSITY * patch["ear_area"] * patch["drag"] * centre
    moment *= 1 + GRAVITY / (turning**2 * centre)
    moment *= 1 + patch["overshoot_counts"] * swing
    radius = patch["stem_diameter"] * thick**effects.stem_exponent / 2
    wall = patch["stem_wall"] * thick**effects.stem_exponent
    stem = patch["yield_stress"] * quarter * radius**3
    stem *= 1 - ((radius - wall) / radius) ** 4
    spread = patch["root_spread"] * thick**effects.spread_exponent
    root = patch["cone_factor"] * patch["wet_strength"] * spread**3
    shoots = patch["shoots_per_m2"] * thick**effects.shoots_exponent / crop["plants"]
    by_stem, by_root = firmness(crop, effects)
    return (
        math.sqrt(stem / moment) * by_stem,
        math.sqrt(root / (shoots * moment)) * by_root,
    )


def firmness(crop, effects):
    """What nitrogen and sowing date make of the gusts that stems and roots bear."""
    most = effects.most_weeks
    later = min(max(crop["weeks_later"], -most), most) * effects.score_per_week_later
    richer = crop["index"] - effects.usual_index
    point = effects.gust_per_score / effects.usual_failing_gust
    return (
        math.exp(point * (later - effects.stem_score_per_index * richer)),
        math.exp(point * (later - effects.root_score_per_index * richer)),
    )
