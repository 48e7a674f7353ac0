"""How "which field can wait" was worked out, from the rows that it used."""

from sheafwright.answers import turns_wording as wording
from sheafwright.answers.perfect_crop import perfect_crop
from sheafwright.answers.working import GIVEN, YOU, Step, step_from_rows
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import mark, measured, say


def turns_steps(answer):
    """Every `Step` of a `TurnsAnswer`."""
    return (
        *answer.summers.known.steps,
        Step(wording.asked(answer.question.harvest), YOU, GIVEN),
        answer.summers.drawn.issued.step,
        _followed(answer),
        Step(say(wording.RULE), mark("The plain rule"), "assumed"),
        _hours(answer.summers.gang),
        _ripe(),
        Step(say(wording.LEFT_OUT), mark("The tool"), "assumed"),
        perfect_crop(1.0).step,
    )


def telling_steps(answer):
    """How it was followed, and by which rule."""
    steps = turns_steps(answer)
    here = len(answer.summers.known.steps)
    return steps[here + 2 : here + 4]


def _followed(answer):
    says = wording.followed(answer.question.summers, answer.summers.drawn.n_years)
    return Step(says, mark("Roll-outs through possible summers"), "from memory")


def _hours(gang):
    day = shipped("work_rates")["day"]
    names = ("fit_hours", "fit_hours_after_rain", "wet_from", "hand_hours")
    says = say(
        "A day has {hours:g} fit hours, or {fewer:g} after one with {rain} of rain; "
        "the binder cuts {area} in one, and {one} takes {cutting:.0f} hours of hands "
        "to cut and set up and {carting:.0f} to cart.",
        hours=gang.fit_hours,
        fewer=gang.fit_hours_after_rain,
        rain=measured(gang.wet_from, "mm"),
        area=measured(gang.binder, "ha", ".2f"),
        one=measured(1, "ha"),
        cutting=gang.cutting,
        carting=gang.carting,
    )
    return step_from_rows(says, *(day[name] for name in names))


def _ripe():
    stook = shipped("losses")["stook"]
    says = say(
        "A crop never cut keeps {left:.0%} of its worth, stooks never carted "
        "{out:.0%}; ripeness and rain take theirs as for one field.",
        left=stook["never_cut"].value,
        out=stook["never_carted"].value,
    )
    return step_from_rows(says, stook["never_cut"], stook["never_carted"])
