"""How a seed rate was worked out."""

from sheafwright.answers import wording
from sheafwright.answers.sowing_question import PURPOSE_NAMES, SOIL_NAMES
from sheafwright.answers.working import GIVEN, YOU, Step, step_from_rows
from sheafwright.feeds import sowing as table
from sheafwright.feeds.telling import by_family, mark, measured, say, shown

FORMULA = mark("AHDB: seed rate is plants times thousand-grain weight over the share")
AFTER = {
    "oats": mark("oats"),
    "beans": mark("beans"),
    "other": mark("any other crop"),
}
TILLERS = {"free": mark("freely"), "shy": mark("little")}
THICK_ROWS = ("seeds_thick", "seeds_enough", "plants_most")
HANDLING_ROWS = ("spare", "sack", "cleaning_loss", "reserve")


def seed_rate_steps(answer):
    """Every `Step` of a `Sowing`."""
    steps = [_given(answer.question), _established(answer)]
    if answer.target is not None:
        steps.append(_aimed(answer))
    steps.append(_formula(answer))
    if answer.held:
        steps.append(_held(answer))
    steps.append(_thick(answer))
    if answer.seed is not None:
        steps.append(_handled(answer.question))
    return tuple(steps)


def establishment_rows(question):
    """Rows of the usual share, the soil's, the crop before's and the date's two."""
    row = table.sowing_row
    return (
        row("establishment", "usual"),
        row("soil", question.soil),
        row("after", question.after),
        row("established_by_date", "days"),
        row("established_by_date", "values"),
    )


def _given(question):
    says = say(
        "A thousand grains weigh {weight:g} g; {alive:.0%} of the seed is alive; rows "
        "stand {spacing} apart.",
        weight=question.thousand_grain_weight,
        alive=question.germination,
        spacing=measured(question.row_spacing, "cm"),
    )
    return Step(says, YOU, GIVEN)


def _established(answer):
    question = answer.question
    share = say(
        "{share:.0%} of the live seed makes a plant", share=answer.establishment
    )
    if question.establishment is not None:
        return Step(say("{share}.", share=share), YOU, GIVEN)
    trial = table.sowing_row("establishment", "germination_within")
    return step_from_rows(
        say(
            "{share}: on {soil} after {crop}, sown on {day}; what each does to the "
            "odds is multiplied, and {alive:.0%} was alive in the trials.",
            share=share,
            soil=say(SOIL_NAMES[question.soil]),
            crop=say(AFTER[question.after]),
            day=wording.near_date(question.sown),
            alive=trial.value,
        ),
        *establishment_rows(question),
        trial,
    )


def _aimed(answer):
    question, row = answer.question, table.sowing_row
    return step_from_rows(
        say(
            "{target:.0f} plants/m² is the aim for {purpose} sown on {day}, in a wheat "
            "that tillers {how}.",
            target=answer.target,
            purpose=say(PURPOSE_NAMES[question.purpose]),
            day=wording.near_date(question.sown),
            how=say(TILLERS[question.tillering]),
        ),
        row("purpose", question.purpose),
        row("tillering", question.tillering),
        row("optimum", "days"),
        row("optimum", "values"),
        *_late_rows(question, "optimum"),
    )


def _formula(answer):
    question = answer.question
    says = say(
        "{plants:.1f} plants/m² come of {seeds:.1f} seeds/m² × {alive:.3g} alive × "
        "{established:.3g} established; {seeds:.1f} seeds/m² × {weight:g} g ÷ 100 is "
        "{rate}.",
        plants=answer.plants,
        seeds=answer.seeds,
        alive=question.germination,
        established=answer.establishment,
        weight=question.thousand_grain_weight,
        rate=_rate_of_formula(answer.rate),
    )
    return Step(says, FORMULA, "published")


def _rate_of_formula(rate):
    # Grams to the square metre over a hundred are kilograms to the hectare; whoever
    # reads hundredweights is told those beside it.
    kilograms = say("{rate:.1f} kg/ha", rate=rate)
    both = say("{kilograms}, or {rate}", kilograms=kilograms, rate=shown(rate, "rate"))
    return by_family(kilograms, both)


def _held(answer):
    return step_from_rows(
        say(
            "No more than {seeds:.0f} of these seeds/m² are advised on that day.",
            seeds=answer.seeds,
        ),
        table.sowing_row("thick", "seeds_thick"),
        *_late_rows(answer.question, "seeds_thick"),
    )


def _thick(answer):
    seeds = table.sowing_row("thick", "seeds_thick").value
    return step_from_rows(
        say(
            "Called thick above {plants:.0f} plants/m² or {seeds} live seeds/m².",
            plants=answer.most,
            seeds=seeds,
        ),
        *(table.sowing_row("thick", name) for name in THICK_ROWS),
        *_late_rows(answer.question, "plants_most"),
    )


def _late_rows(question, name):
    """Rows of February that a value rests on, where sowing is so late."""
    row = table.sowing_row
    autumn_ends = row("optimum", "days").value[-1]
    if question.sown is None or question.days <= autumn_ends:
        return ()
    return row("february", "days"), row("february", name)


def _handled(question):
    rows = {name: table.sowing_row("handling", name) for name in HANDLING_ROWS}
    return step_from_rows(
        say(
            "{spare:.0%} to spare on {area}; grain kept back is {reserve:.0%} over "
            "next year's need, and loses {loss:.0%} in cleaning.",
            spare=rows["spare"].value,
            area=measured(question.area, "ha", ".4g"),
            reserve=rows["reserve"].value,
            loss=rows["cleaning_loss"].value,
        ),
        *rows.values(),
    )
