"""Every sentence that the grower reads of orders and lots."""

from sheafwright.answers import wording
from sheafwright.answers.asked_grades import GradeFor, grade_said
from sheafwright.answers.orders_question import KINDS
from sheafwright.core.constants import KG_PER_T
from sheafwright.feeds.orders import allotting
from sheafwright.feeds.telling import dated, joined, listed, mark, measured, say, say_n
from sheafwright.planning.allocation.problem import LIKELY

MOST_NAMED = 3
AGAINST = {
    "kind": mark("it is {there}"),
    "apart": mark("it is set apart"),
    "length": mark("its stems are {there}, and {wanted} is asked"),
    "grade": mark("its grade is {there}"),
    "grade_unknown": mark("nobody graded it"),
    "grade_below": mark("it is graded below what is asked"),
    "variety": mark("it is {there}"),
    "organic": mark("it is not organic"),
    "late": mark("it is ready by {there}, after {wanted}"),
    "small": mark("it holds no more than {there}, and a single lot is asked"),
}
BY_STEMS = mark("By {n} stems {lot} is {grade}, with {sure:.0%} confidence{whose}.")
BY_HANDFUL = mark("A handful of {lot} was found good: {grade}; no stems are measured.")
AS_WRITTEN = mark("That {lot} is {grade} is as it was written down, and not measured.")
BY_PAST = mark(
    "By {n} lots measured before it, {lot} should be {grade}, with {sure:.0%} "
    "confidence{whose}."
)
MEASURED = {"stems": BY_STEMS, "past": BY_PAST}
OWN_RULE = mark(", by {buyer}'s own rule")
LONG_BY_STEMS = mark(
    "Of {lot} {tenths} stems in 10 are {length} or longer, by {n} measured."
)
LONG_BY_HANDFUL = mark("Most of a handful of {lot} was {length} long.")
LONG_AS_WRITTEN = mark(
    "That {lot} is {length} long is as it was written down, and not measured."
)


def weight(kg):
    """So much, in tonnes from a tonne on."""
    if abs(kg) >= KG_PER_T:
        return measured(kg / KG_PER_T, "t", ".2f")
    return measured(kg, "kg", ".0f")


def against(each, day):
    """One thing for which a lot doesn't suit, as the end of a sentence.

    Parameters
    ----------
    each : planning.allocation.problem.Against
    day : callable
        From the model's day to how it is said.
    """
    if each.rule == "grade":
        return _grade_against(each)
    there, wanted = _VALUES.get(each.rule, _as_they_are)(each, day)
    return say(AGAINST[each.rule], there=there, wanted=wanted)


def _grade_against(each):
    if not each.there:
        return say(AGAINST["grade_unknown"])
    likely = best_of(each.there)
    if not likely:
        return say(AGAINST["grade_below"])
    there = listed([grade_said(grade) for grade in likely], "or")
    return say(AGAINST["grade"], there=there)


def best_of(grades):
    """Grades that a lot is likely to be, a grade 2 only where it is no grade 1."""
    likely = [grade for grade, chance in grades.items() if chance >= LIKELY]
    return [
        grade
        for grade in likely
        if not isinstance(grade, GradeFor)
        or GradeFor(grade.use, 1) not in likely
        or grade.level == 1
    ]


def known_as(told, lot):
    """As what a lot is taken that an order gets, and how that is known."""
    known = lot.for_buyer(told.asked.customer)
    asked = [grade for grade in told.asked.grades if known.grades.get(grade)]
    if asked:
        yield _graded(told, lot, known, max(asked, key=known.grades.get))
    if told.asked.least_length is not None and lot.length is not None:
        yield _long(lot)


def _graded(told, lot, known, grade):
    sure = min(known.grades[grade], 0.99)
    said = {"lot": lot.name, "grade": grade_said(grade)}
    by = MEASURED.get(known.by)
    if by and isinstance(grade, GradeFor):
        is_own = told.asked.customer in lot.known_for
        whose = say(OWN_RULE, buyer=told.asked.customer) if is_own else ""
        return say(by, n=known.count, sure=sure, whose=whose, **said)
    by_hand = known.by == "handful" and isinstance(grade, GradeFor)
    return say(BY_HANDFUL if by_hand and grade.level > 1 else AS_WRITTEN, **said)


def _long(lot):
    said = {"lot": lot.name, "length": measured(100 * lot.length, "cm", ".0f")}
    if lot.length_by == "stems":
        tenths = 10 * allotting().long_enough
        return say(LONG_BY_STEMS, tenths=f"{tenths:g}", n=lot.length_stems, **said)
    by_hand = lot.length_by == "handful"
    return say(LONG_BY_HANDFUL if by_hand else LONG_AS_WRITTEN, **said)


def _as_they_are(each, _day):
    return each.there, ""


def _lengths(each, _day):
    wanted, there = (
        measured(length * 100, "cm", ".0f") for length in (each.wanted, each.there)
    )
    return there, wanted


_VALUES = {
    "kind": lambda each, _day: (say(KINDS[each.there]), ""),
    "length": _lengths,
    "late": lambda each, day: (day(each.there), day(each.wanted)),
    "small": lambda each, _day: (weight(each.there), ""),
}


def lot_against(name, reasons, day):
    """Why one lot doesn't suit."""
    return say(
        "Lot {lot} does not suit: {reasons}.",
        lot=name,
        reasons=listed([against(each, day) for each in reasons]),
    )


def given(told):
    """What an order gets of which lots."""
    if not told.given:
        return say("{order} gets nothing yet.", order=told.asked.name)
    parts = [
        say("{mass} of {lot}", mass=weight(kg), lot=lot)
        for lot, kg in told.given.items()
    ]
    return say(
        "{order}, {customer}: {lots}.",
        order=told.asked.name,
        customer=told.asked.customer,
        lots=listed(parts),
    )


def deliver(told):
    """The next thing to do of what is in store."""
    parts = [
        say("{mass} of {lot}", mass=weight(kg), lot=lot)
        for lot, kg in told.from_store.items()
    ]
    said = {"lots": listed(parts), "customer": told.asked.customer}
    since, by = told.asked.since, told.asked.by
    if since and by:
        said |= {"since": wording.date(since), "day": wording.date(by)}
        return say("Deliver {lots} to {customer} from {since} to {day}.", **said)
    if since:
        return say(
            "Deliver {lots} to {customer} from {since} on.",
            **said,
            since=wording.date(since),
        )
    if by is None:
        return say("Deliver {lots} to {customer}.", **said)
    return say("Deliver {lots} to {customer} by {day}.", **said, day=wording.date(by))


def wait(told):
    """Of an order that nothing in store is allotted to."""
    return joined(
        say(
            "{order} for {customer} waits for what is to come.",
            order=told.asked.name,
            customer=told.asked.customer,
        ),
        promise(told),
    )


def promise(told):
    """By when an order is filled, and how surely."""
    if told.is_in_store:
        return say("It is in store now.")
    if told.chance == 0:
        return say("Nothing that there is, or is to come, fills it in time.")
    if told.sure_by is None:
        return _in_time(told)
    return joined(
        say_n(
            "Ready by {month} in {n} year of 10.",
            "Ready by {month} in {n} years of 10.",
            tenths(told.sure_chance),
            month=_month(told.sure_by),
        ),
        _in_time(told) if told.asked.by else "",
    )


def _in_time(told):
    if told.asked.by is None:
        return say("It is filled at last: {odds}.", odds=wording.odds(told.chance))
    return say(
        "In time for {day}: {odds}.",
        day=wording.date(told.asked.by),
        odds=wording.odds(told.chance),
    )


def tenths(chance):
    """Years of ten, none above nine where some fail."""
    return min(round(10 * chance), 10 if chance >= 1 else 9)


def _month(day):
    return dated(mark("{month} {year}"), day)


def oversold(each):
    """More promised of a kind than there surely is."""
    said = {
        "kind": say(KINDS[each.kind]),
        "promised": weight(each.promised),
        "surely": weight(each.surely),
        "short": weight(each.promised - each.surely),
    }
    words = say(
        "Oversold: {promised} of {kind} is promised, and {surely} may be counted on, "
        "{short} too little.",
        **said,
    )
    if each.chance is None:
        return words
    return joined(
        words,
        say("That it is enough after all: {odds}.", odds=wording.odds(each.chance)),
    )


def broken(told):
    """Promises that this allotment does not keep."""
    names = [each.asked.name for each in told]
    said = listed(names[:MOST_NAMED])
    more = len(names) - MOST_NAMED
    if more > 0:
        said = say("{some} and {n} more", some=listed(names[:MOST_NAMED]), n=more)
    return say("Not kept in full: {orders}.", orders=said)


def short(told):
    """What an order lacks, and what filling it would cost."""
    yield say("It lacks {mass}.", mass=weight(told.short))
    if told.cost is None:
        yield say("Nothing that may be counted on could fill it.")
    elif told.is_costed and told.cost > 0:
        yield say(
            "Filling it would cost the other orders about £{cost:,.0f}.",
            cost=told.cost,
        )
