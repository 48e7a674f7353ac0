"""How the order, the loads and the hours of carting were worked out."""

from sheafwright.answers.after_rain import after_rain_steps
from sheafwright.answers.stooks import ENOUGH_TENTHS
from sheafwright.answers.work_working import cart_steps
from sheafwright.answers.working import Step, step_from_rows
from sheafwright.feeds import stooks
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import mark, measured, say

OURS = mark("Our own rule")
ASSUMED = "assumed"


def carting_steps(answer):
    """Every `Step` behind a `Carting`.

    Parameters
    ----------
    answer : sheafwright.answers.carting.Carting
    """
    steps = [*_order(), _way(answer)]
    if answer.sets:
        steps += cart_steps(answer.sets[0].cartage)
        steps.append(_fit_hours())
    return (*steps, _stores(), *after_rain_steps())


def _order():
    says = say(
        "A set's turn comes on the first day by which it is fit with {tenths} chances "
        "in 10.",
        tenths=ENOUGH_TENTHS,
    )
    yield Step(says, OURS, ASSUMED)
    row = shipped("stooks")["carting"]["risk_days"]
    yield step_from_rows(
        say(
            "What is begun is finished. Then the set likeliest to be fit that day goes "
            "first; of sets alike to one chance in 10 the one less likely to be fit on "
            "the {days} days after, and then the one cut first.",
            days=row.value,
        ),
        row,
    )


def _way(answer):
    row = shipped("stooks")["carting"]["way"]
    unsaid = [each for each in answer.question.sets if each.distance is None]
    if not unsaid:
        return Step(say("The way to the rick is as you say."), "You", "given")
    way = measured(stooks.order().way, "km")
    return step_from_rows(
        say("Where nobody said how far the rick is, it is taken as {way}.", way=way),
        row,
    )


def _fit_hours():
    row = shipped("work_rates")["day"]["fit_hours"]
    return step_from_rows(
        say(
            "Sheaves are dry enough for {hours:g} hours of a fit day.", hours=row.value
        ),
        row,
    )


def _stores():
    says = say(
        "A set goes to the smallest rick in which it surely fits, else to the one that "
        "may take most of it, and to no rick that is hot."
    )
    return Step(says, OURS, ASSUMED)
