"""How the choice about the grain was worked out."""

from sheafwright.answers.grain_wording import FLOURS, TESTS
from sheafwright.answers.prices import per_weight
from sheafwright.answers.working import GIVEN, YOU, Step, step_from_rows
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import capital, joined, mark, measured, say, shown, told

HEAP = mark("{mass} at {moisture:.1%} moisture.")
DRESSED = mark(
    "Dressing takes {share:.0%}, {screenings}, worth {price}; it costs {cost}."
)
DRIED = mark(
    "Dried to {most:.1%} the dry matter stays: {dry}; each point costs {cost}."
)
DAMP = mark(
    "Undried, a mill would take {off} off for each point, and above {refused:.1%} send "
    "it back."
)
DRY = mark("At {moisture:.1%} it is dry enough: at most {most:.1%}.")
TERMS = mark(
    "{name}: {found} found, {full} is full, below {least} is refused; £{off:.2f} a "
    "tonne off."
)
DIRT = mark("{name}: {found} found, at most {full} taken.")
NOT_TESTED = mark("{name}: not tested; {full} is full, below {least} is refused.")
DIRT_NOT_TESTED = mark("{name}: not tested; at most {full} is taken.")
PRICES = mark(
    "For milling {milling} of full quality, for feed {feed}; haulage {haulage}."
)
FLOUR = mark(
    "{kind}: {low:.0%} to {high:.0%} of what leaves the stones, {lost:.0%} being lost; "
    "flour at £{price:.2f} a kg, the rest at {offal}."
)
COSTS = mark(
    "Milling and packing cost {each} of grain, and selling {selling:.0%} of the "
    "flour's price."
)
SEED = mark("What is kept to sow saves {saves}, cleaned.")


def grain_steps(answer):
    """Every `Step`."""
    asked, rows = answer.question, shipped("grain")
    mass = measured(asked.mass, "kg", ",.0f")
    yield Step(say(HEAP, mass=mass, moisture=asked.moisture), YOU, GIVEN)
    yield from _handling(answer, rows)
    for test in answer.tests:
        yield _of_test(test, asked, rows["terms"])
    yield _prices(asked, rows)
    yield from _milling(asked, rows)
    if asked.seed:
        seed = rows["prices"]["seed_gbp_per_t"]
        yield step_from_rows(say(SEED, saves=per_weight(seed.value)), seed)


def _handling(answer, rows):
    if not answer.question.dressed:
        yield _dressing(answer, rows)
    yield from _drying(answer, rows)


def _dressing(answer, rows):
    costs = rows["handling"]
    screenings, dressing = costs["screenings"], costs["dressing_gbp_per_t"]
    worth = rows["prices"]["screenings_gbp_per_t"]
    says = say(
        DRESSED,
        share=screenings.value,
        screenings=measured(answer.heap.screenings, "kg", ",.0f"),
        price=per_weight(worth.value),
        cost=per_weight(dressing.value),
    )
    return step_from_rows(says, screenings, dressing, worth)


def _drying(answer, rows):
    costs, asked = rows["handling"], answer.question
    most, point = asked.buyers_terms.moisture_most, costs["drying_gbp_per_point"]
    if asked.moisture <= most:
        says = say(DRY, moisture=asked.moisture, most=most)
        yield _by_terms(says, asked, rows["terms"], ("moisture_most",))
        return
    says = say(
        DRIED,
        most=most,
        dry=measured(answer.heap.dry, "kg", ",.0f"),
        cost=per_weight(point.value),
    )
    yield _by_terms(says, asked, rows["terms"], ("moisture_most",), point)
    says = say(
        DAMP,
        refused=asked.buyers_terms.moisture_refused,
        off=per_weight(asked.buyers_terms.moisture_gbp_per_point),
    )
    yield _by_terms(says, asked, rows["terms"], ROWS["moisture"])


ROWS = {
    "moisture": ("moisture_refused", "moisture_gbp_per_point"),
    "protein": ("protein_full", "protein_least", "protein_gbp_per_point"),
    "hagberg": ("hagberg_full", "hagberg_least", "hagberg_gbp_per_s"),
    "weight": ("weight_full", "weight_least", "weight_gbp_per_kg"),
    "admixture": ("admixture_most",),
}


def _of_test(test, asked, rows):
    known = test.found is not None
    if test.name == "admixture":
        words = DIRT if known else DIRT_NOT_TESTED
    else:
        words = TERMS if known else NOT_TESTED
    says = say(
        words,
        name=capital(say(TESTS[test.name])),
        found=_value(test.name, test.found or 0),
        full=_value(test.name, test.full),
        least=_value(test.name, test.least),
        off=test.off,
    )
    return _by_terms(says, asked, rows, ROWS[test.name])


def _by_terms(says, asked, rows, names, *others):
    """A step resting on the buyer's terms, and on the tables where those are silent."""
    terms = asked.buyers_terms
    usual = [rows[n] for n in names if getattr(terms, n) == rows[n].value]
    if asked.terms is None or len(usual) == len(names):
        return step_from_rows(says, *usual, *others)
    whose = say("Terms of {buyer}", buyer=asked.buyer) if asked.buyer else say(YOU)
    if not usual and not others:
        return Step(says, whose, GIVEN)
    rest = step_from_rows(says, *usual, *others)
    source = joined(whose, told(rest.source), by="; ")
    return Step(says, source, rest.standing)


def _value(name, value):
    if name == "weight":
        return shown(value, "specific_weight")
    if name == "hagberg":
        return say("{value:g} s", value=value)
    return say("{value:g}%", value=value)


def _prices(asked, rows):
    prices, haulage = rows["prices"], rows["handling"]["wheat_haulage_gbp_per_t"]
    milling, feed = prices["milling_gbp_per_t"], prices["feed_gbp_per_t"]
    says = say(
        PRICES,
        milling=per_weight(_or(asked.milling_price, milling)),
        feed=per_weight(_or(asked.feed_price, feed)),
        haulage=per_weight(haulage.value),
    )
    if None not in (asked.milling_price, asked.feed_price):
        return Step(says, YOU, GIVEN)
    return step_from_rows(says, milling, feed, haulage)


def _milling(asked, rows):
    costs, prices = rows["milling"], rows["prices"]
    low, high = costs[asked.kind].value
    flour, offal = prices["flour_gbp_per_kg"], prices["offal_gbp_per_t"]
    says = say(
        FLOUR,
        kind=capital(say(FLOURS[asked.kind])),
        low=low,
        high=high,
        lost=costs["lost"].value,
        price=_or(asked.flour_price, flour),
        offal=per_weight(offal.value),
    )
    yield step_from_rows(says, costs[asked.kind], costs["lost"], flour, offal)
    own, selling = asked.flour_costs, costs["selling_share"]
    milling, packing = costs["milling_gbp_per_t"], costs["packing_gbp_per_t"]
    each = milling.value + packing.value if own is None else own
    says = say(COSTS, each=per_weight(each), selling=selling.value)
    yield step_from_rows(says, milling, packing, selling)


def _or(given, row):
    return row.value if given is None else given
