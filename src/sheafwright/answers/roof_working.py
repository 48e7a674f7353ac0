"""How a roof's answer was worked out: every step with where it comes from."""

from sheafwright.answers.roof_straw import Band
from sheafwright.answers.roof_wording import (
    CALLED,
    MATERIAL,
    rate_said,
)
from sheafwright.answers.working import GIVEN, YOU, Step, step_from_rows
from sheafwright.core.roof import coat
from sheafwright.feeds.roof import EYEBROW, OVER_COAT, SPARS, SWAYS
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import joined, mark, measured, say

GEOMETRY = mark("Geometry: every slope rises from its own side; see the page on roofs")
PLANES = mark("Geometry of planes; see the page on roofs")
WAVE = mark("Its front is taken as one wave of a cosine; no drawing was found")
CLOSED = mark("closed form")
ASSUMED = "assumed"


def steps(shape, straw, stems):
    """Every `Step`.

    Parameters
    ----------
    shape : Shape
    straw : Straw
    stems : Step or None
        How the stems lie, where their length was said.
    """
    yield from _of_shape(shape)
    yield from _of_coat(straw)
    yield from _of_ridge(straw)
    yield from _of_waste(straw)
    yield from _of_fixings(straw)
    yield from _of_weight(straw)
    if stems:
        yield stems


def _of_shape(shape):
    plan = measured(shape.plan_area, "m²", ",.1f")
    yield Step(say("Within its drip the plan has {plan}.", plan=plan), YOU, GIVEN)
    area = measured(shape.area, "m²", ",.1f")
    says = say(
        "Its slopes, each the plan below it over the cosine of its pitch, have {area}.",
        area=area,
    )
    yield Step(says, GEOMETRY, CLOSED)
    for each in shape.standing:
        says = say(
            "The {kind} of side {side} has {own} of its own and adds {adds}.",
            kind=say(CALLED[each.kind]),
            side=each.side,
            own=measured(each.own, "m²", ",.2f"),
            adds=measured(each.adds, "m²", ",.2f"),
        )
        if each.kind == EYEBROW:
            yield Step(says, WAVE, ASSUMED)
        else:
            yield Step(says, PLANES, CLOSED)


def _of_coat(straw):
    if straw.rate is None:
        return
    says = say(
        "The coat has {rate} laid, {thick} thick.",
        rate=rate_said(straw.rate),
        thick=measured(1000 * straw.thickness, "mm", ".0f"),
    )
    if straw.own_rate:
        yield Step(says, YOU, GIVEN)
        return
    rows = shipped("roof")[straw.material]
    over = straw.work == OVER_COAT
    wanted = ("over_coat", "over_thickness") if over else ("new_coat", "new_thickness")
    yield step_from_rows(says, *(rows[name] for name in wanted))
    packed = measured(coat.density(straw.rate.likely, straw.thickness), "kg/m³", ".0f")
    says = say("That is {packed}, within what a coat can weigh.", packed=packed)
    yield step_from_rows(says, shipped("roof")["accepted"]["density"])


def _of_ridge(straw):
    if not straw.ridge:
        return
    rows = shipped("roof")["ridging"]
    ridge = measured(straw.ridge, "m", ",.1f")
    says = say(
        "Its ridge of {ridge} takes {low} to {high}.",
        ridge=ridge,
        low=measured(straw.ridging.low, "kg", ",.0f"),
        high=measured(straw.ridging.high, "kg", ",.0f"),
    )
    yield step_from_rows(says, rows["straw"])
    if straw.rate is not None:
        laid = straw.coat.plus(straw.ridging).likely
        least, most = rows["share"].value
        share = straw.ridging.likely / laid
        says = say(
            "That is {share:.0%} of its straw; {least:.0%} to {most:.0%} is usual of a "
            "cottage.",
            share=share,
            least=least,
            most=most,
        )
        doubt = say("The two don't agree, so the ridge may well take less.")
        yield step_from_rows(joined(says, doubt if share > most else ""), rows["share"])


def _of_waste(straw):
    rows = shipped("roof")[straw.material]
    low, high = rows["waste"].value
    says = say(
        "Of {material} {low:.0%} to {high:.0%} more is bought than is laid.",
        material=say(MATERIAL[straw.material]),
        low=low,
        high=high,
    )
    yield step_from_rows(says, rows["waste"])
    says = say("A bundle has {kg}.", kg=measured(straw.bundle, "kg", ".3g"))
    if straw.bundle == rows["bundle"].value:
        yield step_from_rows(says, rows["bundle"])
    else:
        yield Step(says, YOU, GIVEN)


def _of_fixings(straw):
    fixing, ridging = shipped("roof")["fixing"], shipped("roof")["ridging"]
    if straw.fixing == SWAYS:
        says = say(
            "Sways lie {spacing} apart up the slope, a hook at each rafter, {rafters} "
            "apart.",
            spacing=measured(fixing["sway_spacing"].value, "m"),
            rafters=measured(fixing["rafters"].value, "m"),
        )
        yield step_from_rows(says, fixing["sway_spacing"], fixing["rafters"])
    if straw.fixing == SPARS:
        few, many = fixing["spars"].value
        says = say("A square takes {few} to {many} spars.", few=few, many=many)
        yield step_from_rows(says, fixing["spars"])
    if straw.ridge:
        few, many = (each / coat.FOOT for each in ridging["spars"].value)
        says = say(
            "A ridge takes {few:.0f} to {many:.0f} spars a metre, and {rods} rods of "
            "{length} in {rows} rows.",
            few=few,
            many=many,
            rods=straw.liggers,
            length=measured(ridging["ligger"].value, "m", ".3g"),
            rows=ridging["ligger_rows"].value,
        )
        rows = (ridging[name] for name in ("spars", "ligger", "ligger_rows"))
        yield step_from_rows(says, *rows)
    few, many = fixing["spars_a_gad"].value
    says = say("A gad of hazel splits into {few} to {many} spars.", few=few, many=many)
    yield step_from_rows(says, fixing["spars_a_gad"])


def _of_weight(straw):
    accepted = shipped("roof")["accepted"]
    if straw.rate is not None:
        least, most = accepted["weight"].value
        says = say(
            "Dry, the coat weighs {low:.2f} to {high:.2f} kN on a square metre of "
            "slope; tables and rules name {usual}.",
            low=straw.pressure.low,
            high=straw.pressure.high,
            usual=rate_said(Band.of((least, most))),
        )
        yield step_from_rows(says, accepted["weight"])
    says = say("A trailer carries {load}.", load=measured(straw.load, "kg", ",.0f"))
    payload = shipped("orders")["trailer"]["payload"]
    if straw.load == payload.value:
        yield step_from_rows(says, payload)
    else:
        yield Step(says, YOU, GIVEN)
