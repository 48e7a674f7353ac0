"""How a crop's work was worked out, from the rows used."""

from sheafwright.answers.working import GIVEN, Step, step_from_rows
from sheafwright.feeds.tables import shipped


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
    return low if low == high else f"{low} to {high}"


def _sheaves(answer):
    says = f"{answer.sheaves:,} sheaves"
    if answer.question.sheaves is not None:
        return Step(f"{says}.", "You", GIVEN)
    rows = shipped("sheaves")["sheaves"]
    crop, sheaf = rows["crop_kg_per_ha"], rows["kg_per_sheaf"]
    return step_from_rows(
        f"{says}: {crop.value:,g} kg a hectare, in sheaves of {sheaf.value:g} kg.",
        *(crop, sheaf),
    )


def _field(answer, table):
    binder, asked, rows = answer.binder, answer.question, table["binder"]
    taken = {"width": asked.cut_width, "speed": asked.binder_speed, "efficiency": None}
    yield step_from_rows(
        f"{binder.width:g} m at {binder.speed:g} km/h, with {binder.efficiency:.0%} "
        f"left by turns and stops, is {answer.field.capacity:.2f} ha an hour.",
        *(rows[name] for name, given in taken.items() if given is None),
    )
    yield step_from_rows(f"The binder wants {binder.hands} hands.", rows["hands"])
    stooked = table["stooking"]["area_a_day"]
    yield step_from_rows(f"One hand stooks {span(stooked.value)} ha a day.", stooked)
    fit, hand = table["day"]["fit_hours"], table["day"]["hand_hours"]
    yield step_from_rows(
        f"Sheaves are dry for {fit.value:g} hours of a fit day; a hand works "
        f"{hand.value:g}.",
        *(fit, hand),
    )


def _carting(answer, table):
    rows, loose = table["carting"], shipped("rick_shapes")["loose"]
    size = [table["cart"][side] for side in ("length", "width", "height")]
    yield step_from_rows(
        f"A cart of {' by '.join(f'{row.value:g}' for row in size)} m holds "
        f"{span(answer.cartage.a_load)} sheaves, stacked loosely.",
        *(*size, *loose.values()),
    )
    crew = [rows[name] for name in ("pitchers", "at_rick", "loaders", "stackers")]
    pitch, speed, roping = (
        rows[name] for name in ("sheaves_an_hour", "speed", "roping")
    )
    yield step_from_rows(
        f"{rows['pitchers'].value} pitch in the field and {rows['at_rick'].value} off "
        f"the cart, each {pitch.value:g} sheaves an hour; "
        f"{span(rows['loaders'].value)} load, {span(rows['stackers'].value)} stack.",
        *(*crew, pitch),
    )
    yield step_from_rows(
        f"Carts go at {speed.value:g} km/h; roping and gates take "
        f"{60 * roping.value:g} minutes a trip.",
        *(speed, roping),
    )
    known = table["known"]["hand_hours_per_ha"]
    yield step_from_rows(
        f"Others counted {known.value:g} hours of hands a hectare for a harvest by the "
        f"usual way.",
        known,
    )


def _tying(answer, table):
    rows, bad = table["twine"], table["known"]["bad_mis_ties"]
    a_sheaf = answer.tying.metres / answer.sheaves
    yield step_from_rows(
        f"A sheaf takes {a_sheaf:.2f} m of twine.", rows["diameter"], rows["spare"]
    )
    failed = f"{answer.tying.mis_ties:g} sheaves in 100 come untied"
    if answer.question.mis_ties is None:
        yield step_from_rows(f"{failed}.", rows["mis_ties"])
    else:
        yield Step(f"{failed}.", "You", GIVEN)
    yield step_from_rows(f"With bad twine {span(bad.value)} in 100 do.", bad)
    tying = rows["tying"]
    yield step_from_rows(f"One is tied by hand in {tying.value:g} minute.", tying)
