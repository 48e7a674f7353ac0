"""Every sentence that the grower reads about who does what in the next half-days.

No number is made here, only said.
"""

import math
from collections import defaultdict
from typing import NamedTuple

from sheafwright.answers.wording import near_date, odds, weekday
from sheafwright.feeds.crew_day import BINDING, CARTING, STOOKING
from sheafwright.feeds.telling import (
    capital,
    joined,
    listed,
    mark,
    measured,
    say,
    say_n,
)

CAUTION = mark(
    "Only who has been shown the binder works on it, never alone, and it is stopped "
    "before anyone touches it. Nobody rides on a load or stands under one being "
    "pitched. Local codes and trained people first."
)
NO_SOLVER = mark(
    "Who does what is planned by a solver that isn't here yet: "
    "pip install 'sheafwright[crew]' brings it; all else works without it."
)
WHEN = {
    "morning": mark("{day} in the morning"),
    "afternoon": mark("{day} in the afternoon"),
}
DOING = {
    BINDING: mark("cutting"),
    STOOKING: mark("setting up sheaves"),
    CARTING: mark("carting"),
}
ABOUT = 0.05
"""So little ground isn't spoken of. [ha]"""
MOST_SAID = 3


class Spoken(NamedTuple):
    """What some people did together in the plan before."""

    task: str
    fields: tuple[tuple[str, float], ...]
    """Each with its hectares."""
    at: str
    """The farm."""
    people: tuple[str, ...]
    binders: tuple[str, ...]


def when(half):
    """A half-day: Thursday 6 August in the morning."""
    return say(WHEN[half.half], day=weekday(half.day))


def does(row):
    """What some people do in a half-day."""
    what = _OF_TASK[row.task](row)
    if row.place:
        return say("{people_do} at {farm}", people_do=what, farm=row.place)
    return what


def _binds(row):
    return say_n(
        "{people} cuts {fields} with {binders}",
        "{people} cut {fields} with {binders}",
        len(row.people),
        people=listed(row.people),
        fields=_of_fields(row.fields),
        binders=listed(row.binders),
    )


def _stooks(row):
    return say_n(
        "{people} sets up the sheaves behind the binder",
        "{people} set up the sheaves behind the binder",
        len(row.people),
        people=listed(row.people),
    )


def _carts(row):
    return say_n(
        "{people} carts {fields}",
        "{people} cart {fields}",
        len(row.people),
        people=listed(row.people),
        fields=_of_fields(row.fields),
    )


_OF_TASK = {BINDING: _binds, STOOKING: _stooks, CARTING: _carts}


def _of_fields(areas):
    return listed(
        [
            say("{area} of {field}", area=measured(area, "ha", ".1f"), field=field)
            for field, area in areas
        ]
    )


def half_day(half, rows):
    """All that is done in one half-day."""
    return joined(
        *(
            say("{when}: {people_do}.", when=when(half), people_do=does(row))
            if place == 0
            else say("{people_do}.", people_do=capital(does(row)))
            for place, row in enumerate(rows)
        )
    )


def nothing(last):
    """Nobody goes out."""
    return say("Nothing is to be cut or carted by {day}.", day=weekday(last.day))


def comes_to(last, cut, carted, worth):
    """What all of it comes to."""
    parts = []
    if cut >= ABOUT:
        parts.append(say("{area} are cut", area=measured(cut, "ha", ".1f")))
    if carted >= ABOUT:
        parts.append(say("{area} are carted", area=measured(carted, "ha", ".1f")))
    if not parts:
        return None
    return say(
        "By the end of {day} {all}, which should bring £{worth:,.0f} more than leaving "
        "it.",
        day=weekday(last.day),
        all=listed(parts),
        worth=worth,
    )


def proven(gap, again):
    """How far from the best the plan may be; all changes counted as some bother."""
    says = say("No plan brings over £{gap:,.0f} more", gap=math.ceil(gap))
    if gap < 1:
        says = say("No plan brings a pound more")
    if again:
        return say("{says}, each change of it counted as some bother.", says=says)
    return say("{says}.", says=says)


def left(undone):
    """What is left, and why: all that is left for one reason together."""
    by_why = defaultdict(list)
    for each in undone:
        by_why[each.why].append(each)
    return joined(
        *(
            say_n(
                "{areas} is left: {why}.",
                "{areas} are left: {why}.",
                len(each),
                areas=_of_fields([(left.field, left.area) for left in each]),
                why=why,
            )
            for why, each in by_why.items()
        )
    )


# Why something is left.

TOO_LATE = mark("it is too late to cut it for straw")
WAITING_WINS = mark("it should bring more if it waits")
TOO_LIKELY_WET = mark("no half-day on which it is ready is likely enough dry")
NO_BINDER = mark("no binder is in order and at hand then")
ELSEWHERE = mark("the hours bring more elsewhere")
NOTHING_WON = mark("it loses too little by standing on to be worth the work now")


def too_green(ripe):
    """Not fit for the binder in these half-days."""
    if ripe is None:
        return say("it is too green")
    return say("it is too green until about {day}", day=near_date(ripe))


def not_fit(chance):
    """The stooks are not likely fit."""
    return say("at best it is {odds} that it is fit to cart", odds=odds(chance))


def too_few_hands(task, least):
    """Never enough hands at once."""
    return say_n(
        "{task} wants {n} hand at once, and fewer come",
        "{task} wants {n} hands at once, and fewer come",
        least,
        task=say(DOING[task]),
    )


# What changed.


def broken(name):
    """It was in order in the plan before."""
    return say("{name} is broken.", name=capital(name))


def mended(name):
    """It was not."""
    return say("{name} is mended.", name=capital(name))


def shower(half):
    """It was not known of."""
    return say("A shower on {when}.", when=when(half))


def likely_wet(half):
    """It was planned on."""
    return say("{when} is too likely wet now.", when=when(half))


def likely_dry(half):
    """It was not planned on."""
    return say("{when} is likely dry enough now.", when=when(half))


def no_longer_comes(names, half):
    """They were to come."""
    return say_n(
        "{people} can't come on {when}.",
        "{people} can't come on {when}.",
        len(names),
        people=listed(names),
        when=when(half),
    )


def comes_after_all(names, half):
    """They were not to come."""
    return say_n(
        "{people} can come on {when}.",
        "{people} can come on {when}.",
        len(names),
        people=listed(names),
        when=when(half),
    )


def is_there(field, task):
    """A field, or stooks, that the plan before knew nothing of."""
    return say("New to it is {task} at {field}.", task=say(DOING[task]), field=field)


def is_done(field, task):
    """A field, or stooks, that is no longer to be done."""
    return say(
        "No more {task} is to be done at {field}.", task=say(DOING[task]), field=field
    )


def people_change(half, names, was, now):
    """What some people do instead of something else, or of nothing; or now nothing."""
    people, n = listed(names), len(names)
    if now is None:
        does = say_n("{people} is free", "{people} are free", n, people=people)
    elif was is None:
        does = _does_at(now, people, n)
    elif was.task == now.task:
        does = say(
            "{people_do} instead of {fields}",
            people_do=_does_at(now, people, n),
            fields=_named(was),
        )
    else:
        does = say(
            "{people_do} instead of {was}",
            people_do=_does_at(now, people, n),
            was=say(DOING[was.task]),
        )
    return say("{when}: {people_do}.", when=when(half), people_do=does)


DOES_AT = {
    BINDING: (mark("{people} cuts at {fields}"), mark("{people} cut at {fields}")),
    STOOKING: (
        mark("{people} sets up sheaves at {fields}"),
        mark("{people} set up sheaves at {fields}"),
    ),
    CARTING: (mark("{people} carts at {fields}"), mark("{people} cart at {fields}")),
}


def _does_at(row, people, n):
    return say_n(*DOES_AT[row.task], n, people=people, fields=_named(row))


def _named(row):
    return listed([name for name, _area in row.fields])


LESS = {
    BINDING: mark("{area} less of {field} is cut."),
    CARTING: mark("{area} less of {field} is carted."),
}
MORE = {
    BINDING: mark("{area} more of {field} is cut."),
    CARTING: mark("{area} more of {field} is carted."),
}
OTHERWISE = {
    BINDING: mark("{field} is cut on {now} instead of {was}."),
    CARTING: mark("{field} is carted on {now} instead of {was}."),
}


def area_change(field, task, was, now):
    """How much more or less gets done of a field, or when else.

    Parameters
    ----------
    was, now : list of pairs
        Half-days with hectares.
    """
    more = sum(area for _half, area in now) - sum(area for _half, area in was)
    if abs(more) < ABOUT:
        whens = (listed([when(half) for half, _area in each]) for each in (now, was))
        later, before = whens
        return say(OTHERWISE[task], field=field, now=later, was=before)
    area = measured(abs(more), "ha", ".1f")
    return say((MORE if more > 0 else LESS)[task], area=area, field=field)


NO_CHANGE = mark("The plan stays as it was.")


def and_more(n):
    """Changes that are listed below."""
    return say_n("{n} change more is below.", "{n} changes more are below.", n)
