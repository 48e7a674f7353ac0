"""How a newcomer's answer was worked out."""

from sheafwright.answers.prices import per_weight
from sheafwright.answers.working import GIVEN, MEASURED, YOU, Step, step_from_rows
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import mark, measured, say

SEASONS = mark(
    "Of {n} seasons replayed in the weather of {station}, {spoiled} spoiled even when "
    "the advice was followed."
)
RAIN = mark(
    "With {rain} of rain in a usual August, by a guess that goes from {dry:.0%} of "
    "years where it is dry to {wet:.0%} where it is wet."
)
GROUND = mark(
    "Rich ground takes {rich:.0%} off, ground open to gales {exposed:.0%}; below "
    "{least:.0%} the weather stands against it."
)
WEEK = mark("A hand works {hours:g} hours a week of harvest.")
SHOPPING = mark(
    "Besides what the budget holds: a meter, covers, binder parts and safety things."
)


def should_grow_steps(answer):
    """Every `Step`."""
    asked, rows = answer.question, shipped("should_grow")
    harvest = rows["harvest"]
    if asked.seasons:
        station, number, spoiled = asked.seasons
        says = say(SEASONS, n=number, station=station, spoiled=spoiled)
        yield Step(says, "", MEASURED)
    else:
        dry, *_between, wet = harvest["good_years"].value
        rain = measured(asked.august_rain, "mm")
        says = say(RAIN, rain=rain, dry=dry, wet=wet)
        yield step_from_rows(says, harvest["august_rain"], harvest["good_years"])
    names = "rich_ground", "open_ground", "chance_of_good"
    rich, exposed, least = (harvest[name] for name in names)
    says = say(GROUND, rich=rich.value, exposed=exposed.value, least=least.value)
    yield step_from_rows(says, rich, exposed, least)
    week = rows["shopping"]["hours_a_week"]
    yield step_from_rows(say(WEEK, hours=week.value), week)
    names = "meter_gbp", "covers_gbp", "binder_parts_gbp", "safety_gbp"
    yield step_from_rows(say(SHOPPING), *(rows["shopping"][name] for name in names))
    if asked.reed_price is not None:
        says = say("Reed at {price}, as told.", price=per_weight(asked.reed_price))
        yield Step(says, YOU, GIVEN)
    # Its first step names fields, and a newcomer has none in the book.
    yield from answer.budget.working[1:]
