"""How an answer about a field's season was worked out, from the rows that it used."""

from sheafwright.answers import wording
from sheafwright.answers.working import Step, step_from_rows
from sheafwright.feeds.tables import read_file, shipped


def season_steps(season):
    """Every `Step` behind a field's season, in the order that they were taken.

    Parameters
    ----------
    season : sheafwright.answers.field_season.FieldSeason
    """
    return (
        *season.known.steps,
        *season.crops.steps,
        _development(),
        *_seen(season.question.seen),
        _summers(season),
        season.issued.step,
        *_losses(season.question.losses),
        _fit_spell(),
        _valued(),
    )


def _development():
    table = shipped("development")
    rows = [*table["phases"].values(), *table["tall"].values()]
    rows += [*table["filling_above_9"].values(), *table["filling_above_0"].values()]
    return step_from_rows(wording.DEVELOPMENT, *rows, *table["filling_stages"].values())


def _seen(seen):
    if seen:
        yield Step(wording.stages_seen(seen), "You", "measured")


def _summers(season):
    settings, learned = shipped("decision")["futures"], season.learned
    past = learned.past
    years = set(past.weather.year[season.days.usable & past.harvest].tolist())
    says = wording.summers(season.question.summers, len(years), learned.refused)
    return step_from_rows(says, settings["near"], settings["half_window"])


def _losses(path):
    table = read_file(path) if path else shipped("losses")
    worth = [*table["ripeness"].values(), *table["stook"].values()]
    drying = table["drying"]
    for says, rows in (
        (wording.losses(path), worth),
        (
            wording.stooks(
                drying["rate_per_dry_day"].value, drying["fit_to_carry"].value
            ),
            drying.values(),
        ),
    ):
        step = step_from_rows(says, *rows)
        yield step if step.source else Step(says, str(path), step.standing)


def _fit_spell():
    rows = shipped("decision")["fit_week"]
    says = wording.fit_spell(rows["longest_days"].value, rows["least_share"].value)
    return step_from_rows(says, *rows.values())


def _valued():
    rows = shipped("decision")["stopping"]
    return step_from_rows(wording.VALUED, *rows.values())
