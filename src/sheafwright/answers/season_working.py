"""How an answer about a field's season was worked out, from the rows that it used."""

import itertools

from sheafwright.answers import wording
from sheafwright.answers.working import (
    GIVEN,
    MEASURED,
    THE_RECORD,
    YOU,
    Step,
    step_from_rows,
)
from sheafwright.feeds import crop
from sheafwright.feeds.tables import shipped

LOSSES = {
    "stook": ("rain_loss_mm", "rain_loss_share", "free_days", "late_loss_share"),
    "ripeness": ("full_from", "full_to", "under_ripe_loss", "over_ripe_loss"),
    "drying": ("rate_per_dry_day", "at_cutting", "fit_to_carry"),
}
"""The rows of losses that the working tells, by section."""
SAYS = {
    "stook": wording.rain_losses,
    "ripeness": wording.ripeness_losses,
    "drying": wording.stooks,
}


def season_steps(season):
    """Every `Step` behind a field's season, in the order that they were taken.

    Parameters
    ----------
    season : sheafwright.answers.field_season.FieldSeason
    """
    question = season.question
    return (
        *season.known.steps,
        season.crops.likeliest.step,
        *development_steps(),
        *season.crops.steps,
        *_seen(question.seen),
        *_summers(season),
        season.issued.step,
        *losses_steps(question.losses, season.losses),
        *((season.perfect.step,) if season.perfect else ()),
        fit_spell_step(),
        _valued(),
    )


def telling_steps(season):
    """The few on which cut or wait turns: the days ahead, rain's cost, the choice.

    Parameters
    ----------
    season : as in `season_steps`
    """
    summers, *_ = _summers(season)
    rain_losses, *_ = losses_steps(season.question.losses, season.losses)
    return summers, season.issued.step, rain_losses, _valued()


def _valued():
    return step_from_rows(wording.VALUED, *shipped("decision")["stopping"].values())


def development_steps():
    """How the crop comes to flower and ripens, by the book."""
    table = shipped("development")
    phases = table["phases"] | table["tall"]
    rows = [
        phases[name]
        for name in (
            "to_emergence",
            "to_double_ridge",
            "to_flowering",
            "base_temperature",
        )
    ]
    yield step_from_rows(wording.to_flowering(*(row.value for row in rows)), *rows)
    forms = [
        (table[form]["thermal_sum"], table[form]["base_temperature"])
        for form in crop.FILLING_FORMS
    ]
    dough = table["filling_stages"]["gs85"]
    sums = [(total.value, base.value) for total, base in forms]
    says = wording.grain_filling(sums, dough.value)
    yield step_from_rows(says, *itertools.chain(*forms), dough)


def _seen(seen):
    if seen:
        yield Step(wording.stages_seen(seen), YOU, GIVEN)


def _summers(season):
    rows, learned = shipped("decision")["futures"], season.learned
    past = learned.past
    years = set(past.weather.year[season.days.usable & past.harvest].tolist())
    says = wording.summers(season.question.summers, len(years))
    yield step_from_rows(says, rows["near"], rows["half_window"])
    if learned.refused:
        yield Step(wording.refused(learned.refused), THE_RECORD, MEASURED)


def losses_steps(path, losses):
    """What is lost by rain, by ripeness and by time, and how stooks dry.

    Parameters
    ----------
    path : path or None
        Of the grower's own table.
    losses : sheafwright.core.inputs.losses.Losses
    """
    for section, names in LOSSES.items():
        values = [getattr(getattr(losses, section), name) for name in names]
        says = SAYS[section](*values)
        rows = [shipped("losses")[section][name] for name in names]
        yield Step(says, str(path), GIVEN) if path else step_from_rows(says, *rows)


def fit_spell_step():
    """What is called a fit spell."""
    rows = shipped("decision")["fit_week"].values()
    return step_from_rows(wording.fit_spell(*(row.value for row in rows)), *rows)
