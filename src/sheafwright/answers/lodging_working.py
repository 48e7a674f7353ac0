"""What is said of a crop that may lie, and how that was worked out."""

import numpy as np

from sheafwright.answers import wording
from sheafwright.answers.working import (
    GIVEN,
    MEASURED,
    THE_RECORD,
    YOU,
    Step,
    step_from_rows,
)
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import joined, mark, measured, say, say_n

TIMES = (
    (0.4, mark("much less likely to go down than {beside}")),
    (0.6, mark("about half as likely to go down as {beside}")),
    (0.8, mark("about two thirds as likely to go down as {beside}")),
    (1.25, mark("about as likely to go down as {beside}")),
    (1.75, mark("about one and a half times as likely to go down as {beside}")),
    (2.5, mark("about twice as likely to go down as {beside}")),
    (np.inf, mark("more than twice as likely to go down as {beside}")),
)
"""What two chances' ratio is called, each up to a ratio."""
CHANGES = {
    "thinner_seed": mark("thinner seed, {plants_per_m2:.0f} plants/m²"),
    "later_sowing": mark("sowing three weeks later"),
    "less_nitrogen": mark("nitrogen index {nitrogen_index:g}"),
    "shorter_variety": mark("a variety of {height}"),
    "row_spacing": mark("wider or narrower rows"),
}
DISPUTED_ROWS = mark(
    "Wider or narrower rows: sources disagree, so it is not counted. Practice says "
    "that wide rows lodge more; a Japanese trial had the least lodging where the "
    "plants stood furthest apart."
)
SOILS = {
    "light": mark("light soil"),
    "medium": mark("medium soil"),
    "heavy": mark("heavy soil"),
}
BENDING = (
    "ear_area",
    "drag",
    "centre_share",
    "frequency_height",
    "damping",
    "overshoot_counts",
    "mast_gust_factor",
    "turbulence",
    "peak_factor",
    "blending_height",
)
"""Rows by which a gust bends a shoot."""
PROVEN = (
    Step(
        mark(
            "Thick sowing lies first and most: of 50 to 1,600 seeds/m² the thickest "
            "went down at ear emergence, then 800, 400 and 200, mostly at the roots."
        ),
        "Easson, White and Pickles 1993, Journal of Agricultural Science",
        "published",
    ),
    Step(
        mark(
            "Early sowing, much nitrogen and thick sowing each make wheat lodge more."
        ),
        "Berry et al. 2000, Field Crops Research 67, 59-81",
        "from memory",
    ),
)


def sentence(answer):
    """The answer in a few sentences.

    Parameters
    ----------
    answer : sheafwright.answers.lodging.LodgingAnswer
    """
    return joined(_against(answer), *_helps(answer), _how_sure(answer))


def lodging_steps(answer):
    """Every `Step` behind an answer, in the order that they were taken.

    Parameters
    ----------
    answer : as in `sentence`
    """
    gale, question = answer.gales, answer.question
    return (
        *gale.crops.days.known.steps,
        answer.variety.step,
        _grown(question.crop),
        _reference(question),
        _seasons(answer),
        gale.step,
        *mechanics_steps(question.soil),
        *husbandry_steps(),
        Step(DISPUTED_ROWS, mark("Practice; a Japanese trial"), "from memory"),
        _strength(answer),
    )


def lodging_telling(answer):
    """The few on which it turns: the seasons, what husbandry does, the strength.

    Parameters
    ----------
    answer : as in `sentence`
    """
    return _seasons(answer), *husbandry_steps(), _strength(answer)


def change_named(change):
    """What a change is, as a line of a table has it.

    Parameters
    ----------
    change : mapping
        One of ``changes`` in the answer's JSON.
    """
    crop = change.get("crop", {})
    height = crop and measured(crop["height_m"], "m", ".2f")
    given = {name: crop.get(name) for name in ("plants_per_m2", "nitrogen_index")}
    return say(CHANGES[change["change"]], **given, height=height)


def row_spacing():
    """The change that sources dispute, in the answer's JSON."""
    return {"change": "row_spacing", "settled": False, "says": say(DISPUTED_ROWS)}


def _against(answer):
    chances = answer.chances
    times = answer.times
    if times is None:
        times = np.inf if chances["asked"] else 1.0
    likely = next(words for most, words in TIMES if times <= most)
    return say(
        "This crop is {likely} ({described}): {odds} that more than a tenth of it lies "
        "by cutting, against {others}.",
        likely=say(likely, beside=answer.question.beside_called),
        described=_described(answer.question.beside),
        odds=wording.odds(chances["asked"]),
        others=wording.odds(chances["reference"]),
    )


def _helps(answer):
    best = answer.best_change
    if best is not None:
        said = {"change": best, "crop": vars(answer.question.changes[best])}
        yield say(
            "Of the changes looked at, what helps most is {change}: {odds}.",
            change=change_named(said),
            odds=wording.odds(answer.chances[best]),
        )


def _how_sure(answer):
    seen = answer.stands.seen
    if seen:
        return say_n(
            "The odds are judged by what lay of the {n} crop that you wrote down.",
            "The odds are judged by what lay of the {n} crops that you wrote down.",
            len(seen),
        )
    halved, doubled = map(wording.odds, answer.if_strength.values())
    return joined(
        say(
            "The strengths are assumed: were they half, it would be {halved}, and "
            "twice, {doubled}; so trust the comparison more than the odds.",
            halved=halved,
            doubled=doubled,
        ),
        say("Write down what lies, and the odds become your own."),
    )


def _described(crop):
    return say(
        "{height} tall, {plants:.0f} plants/m², soil nitrogen index {index:g}, sown "
        "{day}",
        height=measured(crop.height_m, "m"),
        plants=crop.plants_per_m2,
        index=crop.nitrogen_index,
        day=wording.near_date(crop.sown),
    )


def _grown(crop):
    return Step(say("Grown: {described}.", described=_described(crop)), YOU, GIVEN)


def _reference(question):
    says = say(
        "Beside {beside}: {described}.",
        beside=question.beside_called,
        described=_described(question.beside),
    )
    if question.reference is not None:
        return Step(says, YOU, GIVEN)
    rows = (*shipped("lodging")["reference"].values(), *_usual_sowing())
    return step_from_rows(says, *rows)


def _usual_sowing():
    return shipped("lodging")["sowing"].values()


def _seasons(answer):
    years, left = answer.gales.years, answer.gales.left_out
    says = say(
        "The crop met the wind and rain of {seasons} seasons, {first} to {last}, from "
        "ear emergence to cutting, day by day as they came",
        seasons=len(years),
        first=years.min(),
        last=years.max(),
    )
    if left:
        says = say(
            "{says}; {left} with days missing were left out", says=says, left=left
        )
    return Step(say("{says}.", says=says), THE_RECORD, MEASURED)


def mechanics_steps(soil):
    """What a gust asks of stems and roots, and what they bear on a soil."""
    table = shipped("lodging")
    rows, own = table["mechanics"], table[soil]
    yield step_from_rows(_gust_bends(rows), *(rows[name] for name in BENDING))
    yield step_from_rows(
        say(
            "A stem of {stem} with a wall of {wall} buckles at {stress:g} MPa.",
            stem=_in_mm(rows["stem_diameter"]),
            wall=_in_mm(rows["stem_wall"]),
            stress=1e-6 * rows["yield_stress"].value,
        ),
        *(rows[n] for n in ("yield_stress", "stem_diameter", "stem_wall")),
    )
    yield step_from_rows(
        _roots_hold(rows, own, SOILS[soil]),
        *(rows[n] for n in ("cone_factor", "root_spread", "rooting_depth")),
        *own.values(),
    )
    yield step_from_rows(
        mark("Each of these is doubted, and patches of a field differ."),
        *table["doubt"].values(),
        *table["patches"].values(),
    )


def _gust_bends(rows):
    return say(
        "A gust bends a shoot by its drag, its lean and its swing: ears of {ears:g} "
        "cm², their weight at {centre:.0%} of the height.",
        ears=1e4 * rows["ear_area"].value,
        centre=rows["centre_share"].value,
    )


def _roots_hold(rows, own, soil):
    full = rows["rooting_depth"].value * own["available_water"].value
    return joined(
        say(
            "Roots spread {spread} hold as firmly as {soil}: {wet:g} kPa when full of "
            "water, {dry:g} times that when dry.",
            spread=_in_mm(rows["root_spread"]),
            soil=say(soil),
            wet=1e-3 * own["wet_strength"].value,
            dry=own["dry_over_wet"].value,
        ),
        say(
            "{rain} of rain fill it; fair days dry it again.",
            rain=measured(full, "mm", ".0f"),
        ),
    )


def _in_mm(row):
    return measured(1e3 * row.value, "mm")


def husbandry_steps():
    """What thickness, date and nitrogen make of that."""
    rows = shipped("lodging")["husbandry"]
    yield from PROVEN
    density = ("usual_plants", "spread_exponent", "shoots_exponent", "stem_exponent")
    yield step_from_rows(
        mark(
            "Thicker sowing narrows the root plate and thins the stem; how much is "
            "assumed."
        ),
        *(rows[name] for name in density),
    )
    per_week = rows["score_per_week_later"].value * rows["gust_per_score"].value
    per_index = rows["stem_score_per_index"].value * rows["gust_per_score"].value
    yield step_from_rows(
        say(
            "A week's later sowing is worth {week} of gust, and one nitrogen index "
            "less {index} for stems and half that for roots, where such crops go down "
            "in {gust}.",
            week=measured(per_week, "m/s", ".1f"),
            index=measured(per_index, "m/s", ".1f"),
            gust=measured(rows["usual_failing_gust"].value, "m/s"),
        ),
        *(rows[name] for name in rows if name not in density),
    )


def _strength(answer):
    factor, seen = answer.stands.factor, answer.stands.seen
    rows = shipped("lodging")["standing"]
    low, high = np.quantile(factor, (0.1, 0.9))
    says = say(
        "Gusts borne are {low:.2f} to {high:.2f} times what that gives",
        low=low,
        high=high,
    )
    if seen:
        lay = [f"{each.crop.sown.year} {each.share:.0%}" for each in seen]
        says = say(
            "{says}, by what lay in past years: {lay} (by year of sowing).",
            says=says,
            lay=joined(*lay, by=", "),
        )
        return step_from_rows(says, *rows.values())
    return step_from_rows(
        say("{says}; no lodging of your own is written down.", says=says),
        rows["usual_factor"],
        rows["factor_sd"],
    )
