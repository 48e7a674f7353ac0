"""Every sentence that the grower reads about what becomes of the grain."""

from sheafwright.answers.budget_wording import pounds
from sheafwright.answers.prices import per_weight
from sheafwright.answers.working import Step
from sheafwright.feeds.telling import capital, joined, listed, mark, say, say_n, shown

WAYS = {
    "wheat": mark("sold for milling"),
    "feed": mark("sold or used as feed"),
    "flour": mark("milled and sold as flour"),
}
TESTS = {
    "protein": mark("protein"),
    "hagberg": mark("falling number"),
    "weight": mark("bushel weight"),
    "admixture": mark("admixture"),
}
FLOURS = {
    "wholemeal": mark("wholemeal"),
    "brown": mark("brown flour"),
    "stone_white": mark("white flour from stones"),
    "white": mark("white flour from rollers"),
}
LEAST_OVER = 0.001
"""[t]"""
FROM_MEMORY = mark("Law and codes of Great Britain, as remembered")
CHECKS = {
    "registered": mark(
        "Register the food business with the local council, 28 days before you "
        "begin; it costs nothing."
    ),
    "hygiene": mark(
        "Write down what could go wrong, and how it is kept from going wrong: the "
        "hygiene rules ask for a plan (HACCP) and for records."
    ),
    "flour_rules": mark(
        "Flour other than wholemeal must have calcium, iron, thiamin and niacin "
        "added by law, and folic acid from the end of 2026; ask your local authority "
        "how small mills are treated."
    ),
    "miller": mark(
        "To be sold as organic, the miller and the packer must be certified too: "
        "keep a copy of the miller's certificate, and have the mill cleaned first."
    ),
    "label": mark(
        "Label it: name, weight, best before, your address, lot, and wheat shown "
        "as an allergen; ask your local authority to look at the label."
    ),
    "weights": mark(
        "Weigh on a scale that is stamped for trade, and check bags by weight: "
        "trading standards do."
    ),
    "poisons": mark(
        "Have each lot tested for mould poisons (DON), and dress out ergot: a few "
        "pieces in a sack are too many."
    ),
    "insured": mark(
        "Insure for products that are eaten, and keep a sample of each lot until "
        "its date is past."
    ),
}
"""What comes before flour is sold, by name."""
CHECKLIST = tuple(Step(says, FROM_MEMORY, "from memory") for says in CHECKS.values())
SEED_LAW = mark(
    "Seed saved from your own grain may be sown on your own holding only: it may not "
    "be sold, bartered or given away."
)
FOOD_CARE = mark(
    "Grain that smelt of fish, or of mould, is no food and no seed; grain dust harms "
    "the lungs. Local codes and trained people first."
)


def leaves_most(answer):
    """The way that leaves most a tonne, and what becomes of what it has no room for."""
    best, other = answer.best, answer.as_grain
    if answer.over < LEAST_OVER:
        return say(
            "{way} the wheat leaves most: {each} after its costs, {gbp} for {part}.",
            way=capital(say(WAYS[best.name])),
            each=_each(best),
            gbp=pounds(best.leaves),
            part=shown(1000 * best.tonnes, "mass"),
        )
    first = say(
        "Of {grain} of clean wheat, {part} {way} leaves most: {each} after its costs, "
        "{gbp}.",
        grain=shown(answer.heap.left, "mass"),
        part=shown(1000 * best.tonnes, "mass"),
        way=say(WAYS[best.name]),
        each=_each(best),
        gbp=pounds(best.leaves),
    )
    rest = say(
        "The other {part}, {way}, leaves {gbp}.",
        part=shown(1000 * answer.over, "mass"),
        way=say(WAYS[other.name]),
        gbp=pounds(answer.over * other.each),
    )
    return joined(first, rest)


def several_times(answer):
    """What a tonne brings milled, beside what it brings as grain."""
    flour, grain = answer.way("flour"), answer.as_grain
    if not flour.tonnes:
        return ""
    return joined(
        say(
            "Milled to {kind} it brings {gross}, {times:.1f} times its price as grain "
            "({price}), before milling and selling.",
            kind=say(FLOURS[answer.question.kind]),
            gross=per_weight(flour.brings / flour.tonnes),
            times=answer.times,
            price=per_weight(grain.brings / grain.tonnes),
        ),
        say(
            "After them {leaves} is left, and {flour} of flour must find buyers.",
            leaves=_each(flour),
            flour=shown(answer.flour_kg, "mass"),
        ),
    )


def _each(way):
    if way.each < 0:
        return say("−{price}", price=per_weight(-way.each))
    return per_weight(way.each)


def at_the_mill(answer):
    """What a mill would say of it."""
    if answer.refused:
        names = [say(TESTS[test.name]) for test in answer.refused]
        return say("A mill would send it back for its {tests}.", tests=listed(names))
    if answer.untested:
        names = [say(TESTS[test.name]) for test in answer.untested]
        return say(
            "No mill takes it before it is tested: {tests} {missing}.",
            tests=listed(names),
            missing=say_n("is not known", "are not known", len(names)),
        )
    off = sum(test.off for test in answer.tests)
    if not off:
        return say("It is of full quality at the mill.")
    return say("A mill would take £{off:.2f} a tonne off its price.", off=off)


def sold_damp(answer):
    """What a mill would say of it undried."""
    damp = answer.damp
    if not damp.over:
        return ""
    says = {
        "over": say("{over:.1f}%", over=damp.over),
        "drying": per_weight(damp.drying),
    }
    if damp.refused:
        return say(
            "It is {over} too damp, and undried a mill would send it back; drying "
            "costs {drying}.",
            **says,
        )
    return say(
        "It is {over} too damp: undried a mill would take {off} off, and drying costs "
        "{drying}.",
        off=per_weight(damp.off),
        **says,
    )


def kept(answer):
    """What comes off first."""
    heap = answer.heap
    if not heap.owed and not heap.seed:
        return ""
    return say(
        "First {owed} go back to the seed's owner and {seed} are kept to sow.",
        owed=shown(heap.owed, "mass"),
        seed=shown(heap.seed, "mass"),
    )


def all_kept(answer):
    """Nothing is left to sell."""
    return joined(
        say("Nothing is left to sell, feed or mill."),
        kept(answer),
    )


def cautions():
    """What the law says of seed, and what is safe."""
    return say(SEED_LAW), say(FOOD_CARE)
