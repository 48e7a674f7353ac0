"""Every sentence that the grower reads about which field can wait its turn.

No number is made here, only said.
"""

from sheafwright.answers.wording import weekday
from sheafwright.feeds.telling import joined, listed, mark, measured, say, say_n

GAINS, CAN_WAIT, LOSES, HOLDS_UP = "gains", "can_wait", "loses", "holds_up"
VERDICTS = {
    GAINS: mark("gains by waiting"),
    CAN_WAIT: mark("can wait"),
    LOSES: mark("spoils by waiting"),
    HOLDS_UP: mark("holds up the others"),
}
RULE = mark(
    "After the plan the ripest is cut first on every fit day, and what is fit is "
    "carted before more is cut. During it the others are once cut as far as hours go, "
    "and once left: the mean of the two is told."
)
LEFT_OUT = mark(
    "Stooks that stand already take none of those hours here, several binders are "
    "taken as one that is faster, and it is the record's rain that falls on all fields."
)


def turns(until, by_verdict, worst):
    """Which fields can wait, and which can't.

    Parameters
    ----------
    until : datetime.date
        Last day of the plan.
    by_verdict : mapping
        Verdict to the names of its fields.
    worst : tuple or None
        Of the field that loses most: its name, what it loses, and by holding up. [1]
    """
    return joined(
        _worst(until, *worst) if worst else None,
        _others(by_verdict, worst and worst[0]),
        _waits(by_verdict.get(CAN_WAIT), until),
        _gains(by_verdict.get(GAINS), until),
    )


def _worst(until, name, lost, held):
    if held <= 0 or held < lost / 10:
        return say(
            "{field} loses most by its wait: left until after {day}, a hectare of it "
            "brings {lost:.0%} of a perfect crop less.",
            field=name,
            day=weekday(until),
            lost=lost,
        )
    return say(
        "{field} loses most by its wait: left until after {day}, a hectare of it "
        "brings {lost:.0%} of a perfect crop less, {held:.0%} by holding up others.",
        field=name,
        day=weekday(until),
        lost=lost,
        held=min(lost, held),
    )


def _others(by_verdict, worst):
    names = [
        name
        for verdict in (HOLDS_UP, LOSES)
        for name in by_verdict.get(verdict, ())
        if name != worst
    ]
    if not names:
        return None
    return say_n(
        "{fields} shouldn't wait either.",
        "{fields} shouldn't wait either.",
        len(names),
        fields=listed(names),
    )


def _waits(names, until):
    if not names:
        return None
    return say_n(
        "{fields} can wait until after {day}.",
        "{fields} can wait until after {day}.",
        len(names),
        fields=listed(names),
        day=weekday(until),
    )


def _gains(names, until):
    if not names:
        return None
    return say_n(
        "{fields} gains by waiting until after {day}.",
        "{fields} gain by waiting until after {day}.",
        len(names),
        fields=listed(names),
        day=weekday(until),
    )


def plan_gain(gbp, low, high):
    """What a plan brings beside the plain rule."""
    if low > 0:
        says = say("The plan should bring £{gbp:,.0f} more", gbp=gbp)
    elif high < 0:
        says = say("The plan should bring £{gbp:,.0f} less", gbp=-gbp)
    else:
        says = say("The plan should bring about as much")
    return say(
        "{says} than cutting the ripest first from the start: in the same summers the "
        "difference is from {low} to {high} (9 chances in 10).",
        says=says,
        low=_pounds(low),
        high=_pounds(high),
    )


def _pounds(gbp):
    return say("£{gbp:,.0f}", gbp=gbp) if gbp >= 0 else say("−£{gbp:,.0f}", gbp=-gbp)


def asked(harvest):
    """What stands, and who is there for it."""
    return say(
        "{area} in {fields}; {hands} and {binders}.",
        area=measured(sum(each.area_ha for each in harvest.fields), "ha", ".1f"),
        fields=say_n("{n} field", "{n} fields", len(harvest.fields)),
        hands=say_n("{n} hand", "{n} hands", harvest.hands),
        binders=say_n("{n} binder", "{n} binders", len(harvest.binders)),
    )


def followed(n_summers, n_years):
    """How it was found."""
    return say(
        "Each field is left until after the plan, and in the other case cut on the "
        "first of its days that it can be; all else is done alike in the same "
        "{summers} possible summers, drawn from {years} years.",
        summers=n_summers,
        years=n_years,
    )
