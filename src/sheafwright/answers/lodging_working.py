"""What is said of a crop that may lie, and how that was worked out."""

import numpy as np

from sheafwright.answers import wording
from sheafwright.answers.working import GIVEN, MEASURED, Step, step_from_rows
from sheafwright.feeds.tables import shipped

TIMES = (
    (0.4, "much less likely to go down than"),
    (0.6, "about half as likely to go down as"),
    (0.8, "about two thirds as likely to go down as"),
    (1.25, "about as likely to go down as"),
    (1.75, "about one and a half times as likely to go down as"),
    (2.5, "about twice as likely to go down as"),
    (np.inf, "more than twice as likely to go down as"),
)
"""What two chances' ratio is called, each up to a ratio."""
CHANGES = {
    "thinner_seed": "thinner seed, {plants_per_m2:.0f} plants/m²",
    "later_sowing": "sowing three weeks later",
    "less_nitrogen": "nitrogen index {nitrogen_index:g}",
    "shorter_variety": "a variety of {height_m:.2f} m",
    "row_spacing": "wider or narrower rows",
}
ROW_SPACING = {
    "change": "row_spacing",
    "settled": False,
    "says": "Wider or narrower rows: sources disagree, so it is not counted. Practice "
    "says that wide rows lodge more; a Japanese trial had the least lodging where the "
    "plants stood furthest apart.",
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
        "Thick sowing lies first and most: of 50 to 1,600 seeds/m² the thickest went "
        "down at ear emergence, then 800, 400 and 200, mostly at the roots.",
        "Easson, White and Pickles 1993, Journal of Agricultural Science",
        "published",
    ),
    Step(
        "Early sowing, much nitrogen and thick sowing each make wheat lodge more.",
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
    return " ".join((_against(answer), *_helps(answer), _how_sure(answer)))


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
        Step(f"Grown: {_described(question.crop)}.", "You", GIVEN),
        _reference(question),
        _seasons(answer),
        gale.step,
        *mechanics_steps(question.soil),
        *husbandry_steps(),
        Step(ROW_SPACING["says"], "Practice; a Japanese trial", "from memory"),
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
    return CHANGES[change["change"]].format(**change.get("crop", {}))


def _against(answer):
    chances = answer.chances
    times = answer.times
    if times is None:
        times = np.inf if chances["asked"] else 1.0
    called = next(words for most, words in TIMES if times <= most)
    return (
        f"This crop is {called} {answer.question.beside_called} "
        f"({_described(answer.question.beside)}): "
        f"{wording.odds(chances['asked'])} that more than a tenth of it lies by "
        f"cutting, against {wording.odds(chances['reference'])}."
    )


def _helps(answer):
    best = answer.best_change
    if best is not None:
        said = {"change": best, "crop": vars(answer.question.changes[best])}
        yield (
            f"Of the changes looked at, what helps most is {change_named(said)}: "
            f"{wording.odds(answer.chances[best])}."
        )


def _how_sure(answer):
    seen = answer.stands.seen
    if seen:
        years = f"{len(seen)} crop{'s' * (len(seen) > 1)}"
        return f"The odds are judged by what lay of the {years} that you wrote down."
    halved, doubled = map(wording.odds, answer.if_strength.values())
    return (
        f"The strengths are assumed: were they half, it would be {halved}, and twice, "
        f"{doubled}; so trust the comparison more than the odds. Write down what lies, "
        f"and the odds become your own."
    )


def _described(crop):
    return (
        f"{crop.height_m:g} m tall, {crop.plants_per_m2:.0f} plants/m², soil nitrogen "
        f"index {crop.nitrogen_index:g}, sown {wording.near_date(crop.sown)}"
    )


def _reference(question):
    says = f"Beside {question.beside_called}: {_described(question.beside)}."
    if question.reference is not None:
        return Step(says, "You", GIVEN)
    rows = (*shipped("lodging")["reference"].values(), *_usual_sowing())
    return step_from_rows(says, *rows)


def _usual_sowing():
    return shipped("lodging")["sowing"].values()


def _seasons(answer):
    years = answer.gales.years
    says = (
        f"The crop met the wind and rain of {len(years)} seasons, {years.min()} to "
        f"{years.max()}, from ear emergence to cutting, day by day as they came"
    )
    left = answer.gales.left_out
    says += f"; {left} with days missing were left out" * bool(left)
    return Step(f"{says}.", "The weather record", MEASURED)


def mechanics_steps(soil):
    """What a gust asks of stems and roots, and what they bear on a soil."""
    table = shipped("lodging")
    rows = table["mechanics"]
    yield step_from_rows(
        f"A gust bends a shoot by its drag, its lean and its swing: ears of "
        f"{1e4 * rows['ear_area'].value:g} cm², their weight at "
        f"{rows['centre_share'].value:.0%} of the height.",
        *(rows[n] for n in BENDING),
    )
    yield step_from_rows(
        f"A stem of {1e3 * rows['stem_diameter'].value:g} mm with a wall of "
        f"{1e3 * rows['stem_wall'].value:g} mm buckles at "
        f"{1e-6 * rows['yield_stress'].value:g} MPa.",
        *(rows[n] for n in ("yield_stress", "stem_diameter", "stem_wall")),
    )
    own = table[soil]
    yield step_from_rows(
        f"Roots spread {1e3 * rows['root_spread'].value:g} mm hold as firmly as "
        f"{soil} soil: {1e-3 * own['wet_strength'].value:g} kPa when full of water, "
        f"{own['dry_over_wet'].value:g} times that when dry. "
        f"{rows['rooting_depth'].value * own['available_water'].value:.0f} mm of rain "
        f"fill it; fair days dry it again.",
        *(rows[n] for n in ("cone_factor", "root_spread", "rooting_depth")),
        *own.values(),
    )
    yield step_from_rows(
        "Each of these is doubted, and patches of a field differ.",
        *table["doubt"].values(),
        *table["patches"].values(),
    )


def husbandry_steps():
    """What thickness, date and nitrogen make of that."""
    rows = shipped("lodging")["husbandry"]
    yield from PROVEN
    density = ("usual_plants", "spread_exponent", "shoots_exponent", "stem_exponent")
    yield step_from_rows(
        "Thicker sowing narrows the root plate and thins the stem; how much is "
        "assumed.",
        *(rows[name] for name in density),
    )
    per_week = rows["score_per_week_later"].value * rows["gust_per_score"].value
    per_index = rows["stem_score_per_index"].value * rows["gust_per_score"].value
    yield step_from_rows(
        f"A week's later sowing is worth {per_week:.1f} m/s of gust, and one nitrogen "
        f"index less {per_index:.1f} m/s for stems and half that for roots, where such "
        f"crops go down in {rows['usual_failing_gust'].value:g} m/s.",
        *(rows[name] for name in rows if name not in density),
    )


def _strength(answer):
    factor, seen = answer.stands.factor, answer.stands.seen
    rows = shipped("lodging")["standing"]
    low, high = np.quantile(factor, (0.1, 0.9))
    says = f"Gusts borne are {low:.2f} to {high:.2f} times what that gives"
    if seen:
        return step_from_rows(
            f"{says}, by what lay in past years: "
            + ", ".join(f"{each.crop.sown.year} {each.share:.0%}" for each in seen)
            + " (by year of sowing).",
            *rows.values(),
        )
    return step_from_rows(
        f"{says}; no lodging of your own is written down.",
        rows["usual_factor"],
        rows["factor_sd"],
    )
