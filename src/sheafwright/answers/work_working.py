"""How a crop's work was worked out, from the rows used."""

from sheafwright.answers.working import GIVEN, Step, step_from_rows
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import measured, say, say_n


def work_steps(answer):
    """Every `Step` of a `WorkDay`."""
    table = shipped("work_rates")
    return (
        _sheaves(answer),
        *_field(answer, table),
        *_carting(answer, table),
        *_tying(answer, table),
    )


def span(band):
    """Two counts as one speaks of them: 14 to 19, or 14 where they are the same."""
    low, high = (f"{each:,g}" for each in band)
    return low if low == high else say("{low} to {high}", low=low, high=high)


def _sheaves(answer):
    n = answer.sheaves
    if answer.question.sheaves is not None:
        return Step(say_n("{n:,} sheaf.", "{n:,} sheaves.", n), "You", GIVEN)
    rows = shipped("sheaves")["sheaves"]
    crop, sheaf = rows["crop_kg_per_ha"], rows["kg_per_sheaf"]
    says = say_n(
        "{n:,} sheaf: {crop}, in sheaves of {sheaf}.",
        "{n:,} sheaves: {crop}, in sheaves of {sheaf}.",
        n,
        crop=measured(crop.value, "kg/ha", ",g"),
        sheaf=measured(sheaf.value, "kg"),
    )
    return step_from_rows(says, crop, sheaf)


def _field(answer, table):
    binder, asked, rows = answer.binder, answer.question, table["binder"]
    taken = {"width": asked.cut_width, "speed": asked.binder_speed, "efficiency": None}
    says = say(
        "{width} at {speed}, with {share:.0%} left by turns and stops, is {area} an "
        "hour.",
        width=measured(binder.width, "m"),
        speed=measured(binder.speed, "km/h"),
        share=binder.efficiency,
        area=measured(answer.field.capacity, "ha", ".2f"),
    )
    own = [rows[name] for name, given in taken.items() if given is None]
    yield step_from_rows(says, *own)
    says = say("The binder wants {hands} hands.", hands=binder.hands)
    yield step_from_rows(says, rows["hands"])
    yield from _paces(table["stooking"]["area_a_day"], table["day"])


def _paces(stooked, day):
    slow, quick = (measured(each, "ha") for each in stooked.value)
    says = say("One hand stooks {slow} to {quick} a day.", slow=slow, quick=quick)
    yield step_from_rows(says, stooked)
    fit, hand = day["fit_hours"], day["hand_hours"]
    says = say(
        "Sheaves are dry for {fit:g} hours of a fit day; a hand works {hand:g}.",
        fit=fit.value,
        hand=hand.value,
    )
    yield step_from_rows(says, fit, hand)


def cart_steps(cartage):
    """What a cart holds, how fast it is loaded and how fast it goes, each a `Step`."""
    table = shipped("work_rates")
    yield _cart(cartage, table["cart"])
    rows = table["carting"]
    yield _crew(rows)
    says = say(
        "Carts go at {speed}; roping and gates take {minutes:g} minutes a trip.",
        speed=measured(rows["speed"].value, "km/h"),
        minutes=60 * rows["roping"].value,
    )
    yield step_from_rows(says, rows["speed"], rows["roping"])


def _carting(answer, table):
    yield from cart_steps(answer.cartage)
    known = table["known"]["hand_hours_per_ha"]
    says = say(
        "Others counted {hours:g} hours of hands for {area} of a harvest by the usual "
        "way.",
        hours=known.value,
        area=measured(1, "ha"),
    )
    yield step_from_rows(says, known)


def _cart(cartage, rows):
    size = {side: rows[side] for side in ("length", "width", "height")}
    says = say(
        "A cart of {length} by {width} by {height} holds {sheaves} sheaves, stacked "
        "loosely.",
        sheaves=span(cartage.a_load),
        **{side: measured(row.value, "m") for side, row in size.items()},
    )
    return step_from_rows(
        says, *size.values(), *shipped("rick_shapes")["loose"].values()
    )


def _crew(rows):
    names = "pitchers", "at_rick", "loaders", "stackers", "sheaves_an_hour"
    pitchers, at_rick, loaders, stackers, pitched = crew = [rows[n] for n in names]
    says = say(
        "{pitchers} pitch in the field and {at_rick} off the cart, each {sheaves:g} "
        "sheaves an hour; {loaders} load, {stackers} stack.",
        pitchers=pitchers.value,
        at_rick=at_rick.value,
        sheaves=pitched.value,
        loaders=span(loaders.value),
        stackers=span(stackers.value),
    )
    return step_from_rows(says, *crew)


def _tying(answer, table):
    rows, bad = table["twine"], table["known"]["bad_mis_ties"]
    a_sheaf = measured(answer.tying.metres / answer.sheaves, "m", ".2f")
    says = say("A sheaf takes {twine} of twine.", twine=a_sheaf)
    yield step_from_rows(says, rows["diameter"], rows["spare"])
    n = answer.tying.mis_ties
    failed = say("{n:g} sheaves in 100 come untied.", n=n)
    if answer.question.mis_ties is None:
        yield step_from_rows(failed, rows["mis_ties"])
    else:
        yield Step(failed, "You", GIVEN)
    says = say("With bad twine {sheaves} in 100 do.", sheaves=span(bad.value))
    yield step_from_rows(says, bad)
    tying = rows["tying"]
    says = say("One is tied by hand in {n:g} minute.", n=tying.value)
    yield step_from_rows(says, tying)
