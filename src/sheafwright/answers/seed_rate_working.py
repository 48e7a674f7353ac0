"""How a seed rate was worked out."""

from sheafwright.answers import wording
from sheafwright.answers.working import GIVEN, Step, step_from_rows
from sheafwright.feeds import sowing as table

FORMULA = "AHDB: seed rate is plants times thousand-grain weight over the share"
AFTER = {"oats": "oats", "beans": "beans", "other": "any other crop"}
TILLERS = {"free": "freely", "shy": "little"}
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
    return Step(
        f"A thousand grains weigh {question.thousand_grain_weight:g} g; "
        f"{question.germination:.0%} of the seed is alive; rows stand "
        f"{question.row_spacing:g} cm apart.",
        "You",
        GIVEN,
    )


def _established(answer):
    question = answer.question
    share = f"{answer.establishment:.0%} of the live seed makes a plant"
    if question.establishment is not None:
        return Step(f"{share}.", "You", GIVEN)
    trial = table.sowing_row("establishment", "germination_within")
    return step_from_rows(
        f"{share}: on {question.soil} after {AFTER[question.after]}, sown on "
        f"{wording.near_date(question.sown)}; what each does to the odds is "
        f"multiplied, and {trial.value:.0%} was alive in the trials.",
        *establishment_rows(question),
        trial,
    )


def _aimed(answer):
    question, row = answer.question, table.sowing_row
    return step_from_rows(
        f"{answer.target:.0f} plants/m² is the aim for {question.purpose} sown on "
        f"{wording.near_date(question.sown)}, in a wheat that tillers "
        f"{TILLERS[question.tillering]}.",
        row("purpose", question.purpose),
        row("tillering", question.tillering),
        row("optimum", "days"),
        row("optimum", "values"),
        *_late_rows(question, "optimum"),
    )


def _formula(answer):
    question = answer.question
    return Step(
        f"{answer.plants:.1f} plants/m² come of {answer.seeds:.1f} seeds/m² × "
        f"{question.germination:.3g} alive × {answer.establishment:.3g} established; "
        f"{answer.seeds:.1f} seeds/m² × {question.thousand_grain_weight:g} g ÷ 100 is "
        f"{answer.rate:.1f} kg/ha.",
        FORMULA,
        "published",
    )


def _held(answer):
    return step_from_rows(
        f"No more than {answer.seeds:.0f} of these seeds/m² are advised on that day.",
        table.sowing_row("thick", "seeds_thick"),
        *_late_rows(answer.question, "seeds_thick"),
    )


def _thick(answer):
    seeds = table.sowing_row("thick", "seeds_thick").value
    return step_from_rows(
        f"Called thick above {answer.most:.0f} plants/m² or {seeds} live seeds/m².",
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
        f"{rows['spare'].value:.0%} to spare on {question.area:.4g} ha; grain kept "
        f"back is {rows['reserve'].value:.0%} over next year's need, and loses "
        f"{rows['cleaning_loss'].value:.0%} in cleaning.",
        *rows.values(),
    )
