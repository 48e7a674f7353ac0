"""Every sentence that a grower reads of a cropping plan."""

from sheafwright.answers.wording import harvests, listed
from sheafwright.planning.cropping import rotation
from sheafwright.planning.cropping.rotation import LEY, ROOTS, WHEAT

ORDINALS = "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth"
SHORT = {
    "autumn_wheat": "wheat",
    "late_wheat": "Feb. wheat",
    "oats": "oats",
    "roots": "roots",
    "ley": "ley",
    "grass": "grass",
}
"""A crop in a square of the plan: wheat is sown in autumn unless said."""
NAMED = 4
"""Fields named before "and others"."""


def ordinal(number):
    """1 as first."""
    return ORDINALS[number - 1] if number <= len(ORDINALS) else f"{number}th"


def names(fields):
    """Some fields by name."""
    more = len(fields) - NAMED
    if more > 0:
        fields = [*fields[:NAMED], f"{more} other{'s' * (more > 1)}"]
    return listed(list(fields))


def why_not(rule, state, rules):
    """Why a crop that breaks this rule may not come next."""
    return {
        rotation.THIRD_WHEAT: (
            f"it would be a {ordinal(state.wheats + 1)} wheat running, and "
            f"{rules.wheats_running} are the most"
        ),
        rotation.BREAK: (
            f"only {harvests(state.rest)} of the {rules.break_years} between one run "
            f"of wheat and the next have passed"
        ),
        rotation.RICH_LEY: (
            "after so long a ley the ground is too rich for wheat before roots"
        ),
        rotation.BEHIND_LEY: (
            f"wheat stands within {harvests(rules.wheat_within)} of a ley, and the "
            f"last ley is further back or unknown"
        ),
        rotation.YOUNG_LEY: (
            f"the ley has stood {harvests(state.ley)} and should stand "
            f"{rules.least_ley}"
        ),
        rotation.REST: (
            f"after {harvests(rules.arable_most)} or more under the plough the field "
            f"wants a ley"
        ),
    }[rule]


def reason(state, kind, rules, only):
    """Why a crop of this kind stands here, by what stood before."""
    said = _stands(state, kind, rules)
    return f"{said}; the rules allow nothing else here" if only else said


def _stands(state, kind, rules):
    after = rotation.grown(state, kind, rules)
    if kind == WHEAT:
        return (
            f"{ordinal(after.wheats)} wheat, in the {ordinal(after.arable)} harvest "
            f"after the ley"
        )
    if kind == LEY:
        if not state.ley:
            return "a new ley, to build up the ground"
        if after.ley >= rules.long_ley:
            return "the ley stays on; roots come before wheat after so long a one"
        return f"{ordinal(after.ley)} harvest of the ley"
    if kind == ROOTS and (state.rich or state.ley >= rules.long_ley):
        return "roots first, for after so long a ley the ground is too rich for wheat"
    if state.rest < rules.break_years:
        return f"{ordinal(after.rest)} of {rules.break_years} harvests between wheats"
    return "a break crop"


def next_best(crop, loss, area, year, moved):
    """The most that the next best crop would cost, and what would make it as good."""
    others = "some other fields changing with it" if moved else "the others as they are"
    if loss < 1:
        return f"{crop} would do as well, {others}"
    return (
        f"{crop} would do worse by at most £{loss:,.0f} over the whole plan, {others}; "
        f"it would be as good if it brought £{loss / area:,.0f}/ha more in {year}"
    )


NOTHING_ELSE = "with it, what you asked for or the other rules can't all be kept"


def not_organic(status, date):
    """How a crop is sold that is not yet organic."""
    sold = status.replace("_", " ")
    return (
        f"sold as {sold}: organic if sown from {date} on" if date else f"sold as {sold}"
    )


def this_year(year, rows):
    """What to sow where, of (crop, fields, hectares)."""
    said = [
        f"{crop} in {names(fields)} ({area:.1f} ha)"
        for crop, fields, area in rows
        if area
    ]
    return f"For the harvest of {year}: {'; '.join(said)}."


def worth(years, mean, worst, short):
    """What the plan is worth, with its risk and how sure it is."""
    near = (
        "By these figures no plan is better."
        if short < years
        else f"By these figures no plan can be better by over £{short:,.0f} in all."
    )
    return (
        f"Over {years} year{'s' * (years != 1)} it brings about £{mean / years:,.0f} a "
        f"year, and £{worst / years:,.0f} in a year of the worst season in four. {near}"
    )


ASSUMED = (
    "Yields, prices and kinds of season are mostly assumed until your own are given."
)


def clash(rules, problem, most_ha, hindered):
    """Why there is no plan.

    Parameters
    ----------
    rules : tuple of Rule
        Those that clash.
    problem : Problem
    most_ha : float or None
        The most of the one thing wanted that the others allow.
    hindered : dict of tuple of str to list of str
        Rules of the rotation to fields that can't grow it for them.
    """
    wanted = [rule.about[1] for rule in rules if rule.kind == "wanted"]
    said = {"wanted"}.union(*hindered)
    others = list(
        dict.fromkeys(_rule(rule, problem) for rule in rules if rule.kind not in said)
    )
    if len(wanted) == 1 and most_ha is not None and wanted[0].least_ha > most_ha:
        held = [
            f"none may grow in {names(fields)} ({_texts(why, problem)})"
            for why, fields in hindered.items()
        ]
        because = "; ".join((*held, *others))
        if not because:
            return f"{_asked(wanted[0], problem)}, but all fields are {most_ha:.1f} ha."
        return (
            f"{_asked(wanted[0], problem)}, but at most {max(0.0, most_ha):.1f} ha can "
            f"be had: {because}."
        )
    if not rules:
        return (
            "No plan keeps every rule, but which of them clash was not found in the "
            "time; fewer pins, or less that is wanted, should leave a plan."
        )
    every = [*(_asked(each, problem) for each in wanted), *others]
    if len(every) == 1:
        return f"No plan can keep this: {every[0]}."
    return f"No plan can keep all of this at once: {'; '.join(every)}."


def _texts(rules, problem):
    return "; ".join(rule_text(rule, problem) for rule in rules)


def _asked(wanted, problem):
    what = f"{'organic ' * wanted.organic}{crop_says(wanted.crop, problem)}"
    if wanted.least_ha > 0:
        return f"You asked for {wanted.least_ha:g} ha of {what} in {wanted.year}"
    return (
        f"You asked for no more than {wanted.most_ha:g} ha of {what} in {wanted.year}"
    )


def crop_says(name, problem):
    """A crop, or a kind of crop, in words."""
    return problem.crops[name].says if name in problem.crops else name


def _rule(rule, problem):
    """A rule as a grower would say it."""
    if rule.kind == "pin":
        pin = rule.about
        return f"{pin.field} is pinned to {crop_says(pin.crop, problem)} in {pin.year}"
    if rule.kind == "increase":
        increase = rule.about
        return (
            f"seed for {increase.wanted_ha:g} ha of {increase.variety} by "
            f"{increase.year} from {increase.seed_kg:g} kg"
        )
    if rule.kind in YEARLY:
        return f"{YEARLY[rule.kind]} in {rule.about[0]}"
    return rule_text(rule.kind, problem)


YEARLY = {
    "hands": "the hours that there are",
    "binder": "what the binder can cut in the weeks of ripeness",
    "parallel": "one variety is not grown both organic and not",
}


def rule_text(rule, problem):
    """A rule of the rotation as a grower would say it."""
    rules = problem.rotation
    return {
        rotation.THIRD_WHEAT: f"no more than {rules.wheats_running} wheats running",
        rotation.BREAK: f"{harvests(rules.break_years)} between runs of wheat",
        rotation.RICH_LEY: "roots before wheat after a long ley",
        rotation.BEHIND_LEY: f"wheat within {harvests(rules.wheat_within)} of a ley",
        rotation.YOUNG_LEY: f"a ley stands {harvests(rules.least_ley)}",
        rotation.REST: f"a ley after {harvests(rules.arable_most)} under the plough",
    }[rule]
