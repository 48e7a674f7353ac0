"""How a budget was worked out."""

from sheafwright.answers.budget_wording import INPUTS, USES
from sheafwright.answers.prices import ACRE, per_area, per_weight
from sheafwright.answers.working import GIVEN, YOU, Step, step_from_rows
from sheafwright.feeds import outturns
from sheafwright.feeds.budget import MACHINES
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import (
    by_family,
    capital,
    joined,
    listed,
    mark,
    measured,
    say,
)

CALLED = {
    "tractor": mark("tractor"),
    "cultivator": mark("cultivator"),
    "binder": mark("binder"),
    "cart": mark("carts"),
    "drum": mark("drum and comb"),
}
LABOUR = mark(
    "Hours are those of the book where it has some, else of the tables; every hour "
    "costs £{wage:.2f} and {on:.0%} on top."
)
OWNERSHIP = mark(
    "What is ours costs its loss of value and interest at {rate:.1%} over its years "
    "(capital recovery), {other:.0%} of its price a year besides, repairs by its hours "
    "since new, and each work bears its part by the hour."
)
MACHINE = mark(
    "{name}: £{price:,.0f}, {hours:.0f} hours for this crop, {other:.0f} on other work."
)
HIRED = mark("{name}: hired, {hours:.0f} hours at £{day:,.0f} a day.")
FUEL = mark("The tractor, {power:g} kW, is worked at {load:.0%} of its power.")
INTEREST = mark(
    "Each outlay bears interest at {rate:.1%} a year from its month to the middle of "
    "the reed's cheques; what comes in before them is set against it."
)
DRAWS = mark(
    "{draws:,} possible years are drawn, each value from a triangle over its range; a "
    "light crop and a wet harvest go with dear reed, and a wet one with more hours."
)
PENCE = mark(
    "The likely budget is in whole pence, each line shared among the fields by their "
    "areas; its parts add up."
)


def budget_steps(terms, work, draws):
    """Every `Step`."""
    fields = [
        say("{name} {area}", name=name, area=measured(area, "ha", ".3g"))
        for name, area in terms.fields.items()
    ]
    yield Step(say("Fields: {fields}.", fields=listed(fields)), YOU, GIVEN)
    yield from _ranges(terms)
    yield _outturns()
    yield from _outlay(terms)
    yield from _of_machines(terms, work)
    yield _step(terms, say(INTEREST, rate=terms.outlay.interest), "outlay", "interest")
    yield from _uses(terms)
    yield _links(terms, draws)
    yield Step(say(PENCE), YOU, GIVEN)


def _step(terms, says, section, *names):
    """By the table's rows, or given where the grower gave one."""
    if any((section, name) in terms.given for name in names):
        return Step(says, YOU, GIVEN)
    return step_from_rows(says, *(terms.rows[section][name] for name in names))


def _ranges(terms):
    for name in ("crop", "kept", "reed_price", "grain_price", "hours", "repairs"):
        ends = [SAID[name](each) for each in getattr(terms.ranges, name)]
        says = say(
            "{name}: {least}, {likely}, {most}.",
            name=capital(say(INPUTS[name])),
            least=ends[0],
            likely=ends[1],
            most=ends[2],
        )
        yield _step(terms, says, "ranges", name)


SAID = {
    "crop": lambda each: measured(each, "t/ha", ".3g"),
    "kept": lambda each: say("{share:.0%}", share=each),
    "reed_price": per_weight,
    "grain_price": per_weight,
    "hours": lambda each: say("{times:g} times", times=each),
    "repairs": lambda each: say("{times:g} times", times=each),
}


def _outturns():
    rows = outturns.usual_rows(combed=True)
    usual = [
        say("{name} {low:.0%} to {high:.0%}", name=say(name), low=low, high=high)
        for name, (low, high) in outturns.usual_shares(combed=True).items()
        if name in ("reed", "grain")
    ]
    says = say("From the sheaves at the drum: {usual}.", usual=listed(usual))
    return step_from_rows(says, rows["reed"], rows["grain"])


def _outlay(terms):
    out = terms.outlay
    says = say(LABOUR, wage=out.wage_gbp_per_h, on=out.on_costs)
    yield _step(terms, says, "outlay", "wage_gbp_per_h", "on_costs")
    says = say(
        "Selling takes {straw:g} hours a tonne of straw and {grain:g} of grain; "
        "{part:.0%} of the ground's hours are ours.",
        straw=out.straw_h_per_t,
        grain=out.grain_h_per_t,
        part=out.own_ground_work,
    )
    names = "straw_h_per_t", "grain_h_per_t", "own_ground_work"
    yield _step(terms, says, "outlay", *names)
    says = say(
        "Seed {rate} at £{price:.2f} a kg; contractor {contractor}; twine {twine}.",
        rate=measured(out.seed_kg_per_ha, "kg/ha"),
        price=out.seed_gbp_per_kg,
        contractor=per_area(out.contractor_gbp_per_ha),
        twine=per_area(out.twine_gbp_per_ha),
    )
    names = "seed_kg_per_ha", "seed_gbp_per_kg", "contractor_gbp_per_ha"
    yield _step(terms, says, "outlay", *names, "twine_gbp_per_ha")
    says = say(
        "Storage {storage}, haulage {straw} for straw and {grain} for grain; straw "
        "that spoiled brings {spoilt}.",
        storage=per_weight(out.storage_gbp_per_t),
        straw=per_weight(out.straw_haulage_gbp_per_t),
        grain=per_weight(out.grain_haulage_gbp_per_t),
        spoilt=per_weight(out.spoilt_gbp_per_t),
    )
    names = "storage_gbp_per_t", "straw_haulage_gbp_per_t", "grain_haulage_gbp_per_t"
    yield _step(terms, says, "outlay", *names, "spoilt_gbp_per_t")
    says = say(
        "Certificate £{certificate:,.0f} and insurance £{insurance:,.0f} a year, borne "
        "with {other} of other ground.",
        certificate=out.certification_gbp_a_year,
        insurance=out.insurance_gbp_a_year,
        other=measured(out.other_ha, "ha"),
    )
    names = "certification_gbp_a_year", "insurance_gbp_a_year", "other_ha"
    yield _step(terms, says, "outlay", *names)


def _of_machines(terms, work):
    use, out = terms.use_of_machines, terms.outlay
    says = say(OWNERSHIP, rate=out.interest, other=use.other)
    yield _step(terms, says, "use_of_machines", "other")
    for name in MACHINES:
        machine, hours = terms.machines[name], work.machines[name]
        called = capital(say(CALLED[name]))
        if machine.own:
            says = say(
                MACHINE,
                name=called,
                price=machine.price,
                hours=hours,
                other=machine.hours_elsewhere,
            )
            yield _step(terms, says, name, "price", "hours_elsewhere", "rf1", "c1")
        else:
            day = out.machine_hire_gbp_per_day
            says = say(HIRED, name=called, hours=hours, day=day)
            yield _step(terms, says, "outlay", "machine_hire_gbp_per_day")
    says = say(FUEL, power=use.power, load=use.load)
    yield _step(terms, says, "use_of_machines", "power", "load")


def _uses(terms):
    for name, use in terms.uses.items():
        least, likely, most = (measured(each, "t/ha", ".3g") for each in use.tonnes)
        says = joined(
            say(
                "{name}: {least}, {likely}, {most} at {price}.",
                name=capital(say(USES[name])),
                least=least,
                likely=likely,
                most=most,
                price=per_weight(use.price[1]),
            ),
            say(
                "Its costs are {cost} and {hours}, its straw brings {straw}.",
                cost=per_area(use.cost_gbp_per_ha),
                hours=by_family(
                    say("{n:g} hours an hectare", n=use.hours_per_ha),
                    say("{n:.2g} hours an acre", n=use.hours_per_ha * ACRE),
                ),
                straw=per_area(use.straw_gbp_per_ha),
            ),
        )
        names = "tonnes", "price", "straw_gbp_per_ha", "cost_gbp_per_ha"
        yield _step(terms, says, name, *names, "hours_per_ha")


def _links(terms, draws):
    says = say(DRAWS, draws=draws)
    return _step(terms, says, "links", *shipped("budget")["links"])
