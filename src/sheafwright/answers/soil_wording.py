"""Every sentence that a grower reads of what nitrogen the ground gives."""

from sheafwright.answers.prices import ACRE, TON
from sheafwright.feeds.telling import by_family, joined, mark, measured, say, say_n

SOILS = {
    "light": mark("light"),
    "medium": mark("medium"),
    "deep_clay": mark("deep clay"),
    "deep_silt": mark("deep silt"),
}
RAINS = {"low": mark("low"), "moderate": mark("moderate"), "high": mark("high")}
CROPS = {
    "beans": mark("beans"),
    "cereals": mark("cereals"),
    "forage_cut": mark("forage cut"),
    "oilseed_rape": mark("oilseed rape"),
    "peas": mark("peas"),
    "potatoes": mark("potatoes"),
    "sugar_beet": mark("sugar beet"),
    "uncropped": mark("uncropped"),
    "vegetables_low": mark("vegetables low"),
    "vegetables_medium": mark("vegetables medium"),
    "vegetables_high": mark("vegetables high"),
}
SWARDS = {
    "clover": mark("clover"),
    "grass": mark("grass"),
    "fed_grass": mark("fed grass"),
    "lucerne": mark("lucerne"),
}
USES = {
    "cut": mark("cut"),
    "cut_and_grazed": mark("cut and grazed"),
    "grazed": mark("grazed"),
}
LEAVES = {
    "leaves_little": mark("leaves little"),
    "leaves_some": mark("leaves some"),
    "leaves_much": mark("leaves much"),
}
UNIT = 0.5080234544 / ACRE
"""A hundredth of a hundredweight an acre, as the trade counts nitrogen. [kg ha⁻¹]"""
CHECK = mark("Check this against the current official tables.")


def nitrogen(kg_per_ha):
    """Such as 80 kg/ha, or 64 units/acre."""
    return by_family(
        measured(kg_per_ha, "kg/ha", ".0f"),
        say("{units:.0f} units/acre", units=kg_per_ha / UNIT),
    )


def supply(index, ground, manure):
    """What the ground gives, with what manure adds to it. [kg ha⁻¹]

    Parameters
    ----------
    index : int
    ground : sheafwright.core.soil.nitrogen.Supply
        With the manure's.
    manure : float
    """
    low, high = (nitrogen(end) for end in ground)
    if not manure:
        return say(
            "Index {index}: about {low} to {high} of nitrogen",
            index=index,
            low=low,
            high=high,
        )
    return say(
        "Index {index}, and {manure} from manure: about {low} to {high} of nitrogen",
        index=index,
        manure=nitrogen(manure),
        low=low,
        high=high,
    )


def poor(supplied, lowest):
    """Too little for straw."""
    return joined(
        say(
            "{supplied}; below about {lowest} tall straw comes thin and short.",
            supplied=supplied,
            lowest=nitrogen(lowest),
        ),
        say(
            "A light, even dressing of manure, or wheat sooner after a ley, helps.",
        ),
    )


def sound(supplied, highest):
    """Neither too little nor too much."""
    return say(
        "{supplied}; tall straw stays sound up to about {highest}.",
        supplied=supplied,
        highest=nitrogen(highest),
    )


def rich(supplied, highest, manured, ground_is_rich):
    """Too much, and what to do instead."""
    if not ground_is_rich:
        instead = say("spread less manure, or none.")
    elif manured:
        instead = say(
            "spread no manure, and take a root crop or another cereal first, then this "
            "wheat."
        )
    else:
        instead = say("take a root crop or another cereal first, then this wheat.")
    return joined(
        sound(supplied, highest),
        say("More makes soft straw, and lodging: {instead}", instead=instead),
    )


def band(index, ground):
    """What an index of the tables comes to."""
    return say(
        "Index {index} is about {low} to {high}.",
        index=index,
        low=nitrogen(ground.low),
        high=nitrogen(ground.high),
    )


def spread(manure):
    """Manure spread. [t ha⁻¹]"""
    return say(
        "{manure} of fresh cattle manure since the last harvest.",
        manure=measured(manure, "t/ha"),
    )


def manure_holds(kg_per_t, available):
    """What manure holds, and what of it the crop can take."""
    holds = by_family(
        say("Each tonne holds {nitrogen}", nitrogen=measured(kg_per_t, "kg")),
        say("Each ton holds {nitrogen}", nitrogen=measured(kg_per_t * TON, "kg")),
    )
    return say(
        "{holds} of nitrogen, of which the next crop can take {available:.0%}; years "
        "of manure leave more.",
        holds=holds,
        available=available,
    )


def should_have(lowest, highest):
    """What tall straw should have."""
    return say(
        "Tall straw should have {lowest} to {highest} in all.",
        lowest=nitrogen(lowest),
        highest=nitrogen(highest),
    )


def rain_is(fell, rain, low, moderate):
    """Which of ``RAINS`` a usual year has."""
    return say(
        "{fell} a year is {rain} rain: low is up to {low}, moderate up to {moderate}.",
        fell=measured(fell, "mm", ",.0f"),
        rain=say(RAINS[rain]),
        low=measured(low, "mm"),
        moderate=measured(moderate, "mm"),
    )


def after_crop(crop, soil, rain, index):
    """What the last crop leaves."""
    return joined(
        say(
            "After {crop} on {soil} soil, {rain} rain: index {index}.",
            crop=say(CROPS[crop]),
            soil=say(SOILS[soil]),
            rain=say(RAINS[rain]),
            index=index,
        ),
        say(CHECK),
    )


def after_ley(ley, leaves, index, is_beside_crop):
    """What a ley leaves.

    Parameters
    ----------
    ley : sheafwright.answers.soil_supply.Ley
    leaves : str
        One of ``LEAVES``.
    index : int or None
        None where it leaves nothing more.
    is_beside_crop : bool
        Whether a crop since tells, too.
    """
    what = say_n(
        "A {sward} ley of {n} year, {use}, {leaves}; to crop {since} after ploughing",
        "A {sward} ley of {n} years, {use}, {leaves}; to crop {since} after ploughing",
        ley.years,
        sward=say(SWARDS[ley.sward]),
        use=say(USES[ley.use]),
        leaves=say(LEAVES[leaves]),
        since=ley.crops_since,
    )
    return joined(
        say("{ley}: nothing more.", ley=what)
        if index is None
        else say("{ley}: index {index}.", ley=what, index=index),
        is_beside_crop and say("The higher index of ley and last crop holds."),
        say(CHECK),
    )
