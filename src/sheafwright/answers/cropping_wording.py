"""Every sentence that a grower reads of a cropping plan."""

from sheafwright.answers.organic import IN_CONVERSION, NOT_ORGANIC, ORGANIC
from sheafwright.answers.prices import per_area
from sheafwright.answers.wording import harvests
from sheafwright.feeds.cropping import GRASS
from sheafwright.feeds.telling import joined, listed, mark, measured, say, say_n
from sheafwright.planning.cropping import rotation
from sheafwright.planning.cropping.rotation import CORN, LEY, ROOTS, WHEAT

ORDINALS = (
    mark("first"),
    mark("second"),
    mark("third"),
    mark("fourth"),
    mark("fifth"),
    mark("sixth"),
    mark("seventh"),
    mark("eighth"),
)
SHORT = {
    "autumn_wheat": mark("wheat"),
    "late_wheat": mark("Feb. wheat"),
    "oats": mark("oats"),
    "roots": mark("roots"),
    "ley": mark("ley"),
    "grass": mark("grass"),
}
"""A crop in a square of the plan: wheat is sown in autumn unless said."""
CROPS = mark("autumn wheat"), mark("February wheat"), mark("oats"), mark("roots")
"""As the table names them, beside the ley; a grower's own word is left as it is."""
KINDS = {
    WHEAT: mark("wheat"),
    CORN: mark("corn"),
    ROOTS: mark("roots"),
    LEY: mark("ley"),
    GRASS: mark("grass"),
}
SEASONS = (
    mark("fair"),
    mark("good"),
    mark("wet harvest"),
    mark("drought"),
    mark("wet autumn"),
    mark("gales in June"),
)
"""As the table names its kinds."""
SOLD_AS = {
    ORGANIC: mark("organic"),
    IN_CONVERSION: mark("in conversion"),
    NOT_ORGANIC: mark("not organic"),
}
NAMED = 4
"""Fields named before "and others"."""
KEPT_IN_GRASS = mark("kept in grass, as you asked")


def ordinal(number):
    """1 as first."""
    if number > len(ORDINALS):
        return say("{n}th", n=number)
    return say(ORDINALS[number - 1])


def names(fields):
    """Some fields by name."""
    more = len(fields) - NAMED
    if more > 0:
        fields = [*fields[:NAMED], say_n("{n} other", "{n} others", more)]
    return listed(list(fields))


def why_not(rule, state, rules):
    """Why a crop that breaks this rule may not come next."""
    return WHY_NOT[rule](state, rules)


def _third_wheat(state, rules):
    return say(
        "it would be a {ordinal} wheat running, and {most} are the most",
        ordinal=ordinal(state.wheats + 1),
        most=rules.wheats_running,
    )


def _break(state, rules):
    return say(
        "only {passed} of the {break_years} between one run of wheat and the next "
        "have passed",
        passed=harvests(state.rest),
        break_years=rules.break_years,
    )


def _rich_ley(_state, _rules):
    return say("after so long a ley the ground is too rich for wheat before roots")


def _behind_ley(_state, rules):
    return say(
        "wheat stands within {harvests} of a ley, and the last ley is further back or "
        "unknown",
        harvests=harvests(rules.wheat_within),
    )


def _young_ley(state, rules):
    return say(
        "the ley has stood {stood} and should stand {least}",
        stood=harvests(state.ley),
        least=rules.least_ley,
    )


def _rest(_state, rules):
    return say(
        "after {harvests} or more under the plough the field wants a ley",
        harvests=harvests(rules.arable_most),
    )


WHY_NOT = {
    rotation.THIRD_WHEAT: _third_wheat,
    rotation.BREAK: _break,
    rotation.RICH_LEY: _rich_ley,
    rotation.BEHIND_LEY: _behind_ley,
    rotation.YOUNG_LEY: _young_ley,
    rotation.REST: _rest,
}


def reason(state, kind, rules, only):
    """Why a crop of this kind stands here, by what stood before."""
    stands = _stands(state, kind, rules)
    if not only:
        return stands
    return say("{stands}; the rules allow nothing else here", stands=stands)


def _stands(state, kind, rules):
    after = rotation.grown(state, kind, rules)
    if kind == WHEAT:
        return say(
            "{wheats} wheat, in the {arable} harvest after the ley",
            wheats=ordinal(after.wheats),
            arable=ordinal(after.arable),
        )
    if kind == LEY:
        return _ley_stands(state, after, rules)
    if kind == ROOTS and (state.rich or state.ley >= rules.long_ley):
        return say(
            "roots first, for after so long a ley the ground is too rich for wheat"
        )
    if state.rest < rules.break_years:
        return say(
            "{rest} of {break_years} harvests between wheats",
            rest=ordinal(after.rest),
            break_years=rules.break_years,
        )
    return say("a break crop")


def _ley_stands(state, after, rules):
    if not state.ley:
        return say("a new ley, to build up the ground")
    if after.ley >= rules.long_ley:
        return say("the ley stays on; roots come before wheat after so long a one")
    return say("{ordinal} harvest of the ley", ordinal=ordinal(after.ley))


def next_best(crop, loss, area, year, moved):
    """The most that the next best crop would cost, and what would make it as good."""
    others = say("the others as they are")
    if moved:
        others = say("some other fields changing with it")
    if loss < 1:
        return say("{crop} would do as well, {others}", crop=crop, others=others)
    return say(
        "{crop} would do worse by at most £{loss:,.0f} over the whole plan, {others}; "
        "it would be as good if it brought {more} more in {year}",
        crop=crop,
        loss=loss,
        others=others,
        more=per_area(loss / area),
        year=year,
    )


NOTHING_ELSE = mark("with it, what you asked for or the other rules can't all be kept")


def not_organic(status, date):
    """How a crop is sold that is not yet organic."""
    sold = say("sold as {status}", status=say(SOLD_AS[status]))
    if not date:
        return sold
    return say("{sold}: organic if sown from {date} on", sold=sold, date=date)


def this_year(year, rows):
    """What to sow where, of (crop, fields, hectares)."""
    each = [
        say(
            "{crop} in {fields} ({area})",
            crop=crop,
            fields=names(fields),
            area=measured(area, "ha", ".1f"),
        )
        for crop, fields, area in rows
        if area
    ]
    return say(
        "For the harvest of {year}: {crops}.", year=year, crops=joined(*each, by="; ")
    )


def worth(years, mean, worst, short):
    """What the plan is worth, with its risk and how sure it is."""
    return joined(
        say_n(
            "Over {n} year it brings about £{mean:,.0f} a year, and £{worst:,.0f} in a "
            "year of the worst season in four.",
            "Over {n} years it brings about £{mean:,.0f} a year, and £{worst:,.0f} in "
            "a year of the worst season in four.",
            years,
            mean=mean / years,
            worst=worst / years,
        ),
        say("By these figures no plan is better.")
        if short < years
        else say(
            "By these figures no plan can be better by over £{short:,.0f} in all.",
            short=short,
        ),
    )


ASSUMED = mark(
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
    spoken = {"wanted"}.union(*hindered)
    others = list(
        dict.fromkeys(_rule(rule, problem) for rule in rules if rule.kind not in spoken)
    )
    if len(wanted) == 1 and most_ha is not None and wanted[0].least_ha > most_ha:
        held = [
            say(
                "none may grow in {fields} ({why})",
                fields=names(fields),
                why=joined(*(rule_text(rule, problem) for rule in why), by="; "),
            )
            for why, fields in hindered.items()
        ]
        return _too_much(_asked(wanted[0], problem), most_ha, (*held, *others))
    return _no_plan([*(_asked(each, problem) for each in wanted), *others])


def _too_much(asked, most_ha, because):
    if not because:
        return say(
            "{asked}, but all fields are {area}.",
            asked=asked,
            area=measured(most_ha, "ha", ".1f"),
        )
    return say(
        "{asked}, but at most {area} can be had: {because}.",
        asked=asked,
        area=measured(max(0.0, most_ha), "ha", ".1f"),
        because=joined(*because, by="; "),
    )


def _no_plan(every):
    if not every:
        return say(
            "No plan keeps every rule, but which of them clash was not found in the "
            "time; fewer pins, or less that is wanted, should leave a plan."
        )
    if len(every) == 1:
        return say("No plan can keep this: {rule}.", rule=every[0])
    return say(
        "No plan can keep all of this at once: {rules}.", rules=joined(*every, by="; ")
    )


def _asked(wanted, problem):
    what = crop_says(wanted.crop, problem)
    if wanted.organic:
        what = say("organic {crop}", crop=what)
    if wanted.least_ha > 0:
        return say(
            "You asked for {area} of {what} in {year}",
            area=measured(wanted.least_ha, "ha"),
            what=what,
            year=wanted.year,
        )
    return say(
        "You asked for no more than {area} of {what} in {year}",
        area=measured(wanted.most_ha, "ha"),
        what=what,
        year=wanted.year,
    )


def crop_says(name, problem):
    """A crop, grass, or a kind of crop, in words."""
    if name in problem.crops:
        return say(problem.crops[name].says)
    return say(KINDS[name])


def _rule(rule, problem):
    """A rule as a grower would say it."""
    if rule.kind == "pin":
        pin = rule.about
        return say(
            "{field} is pinned to {crop} in {year}",
            field=pin.field,
            crop=crop_says(pin.crop, problem),
            year=pin.year,
        )
    if rule.kind == "increase":
        increase = rule.about
        return say(
            "seed for {area} of {variety} by {year} from {seed}",
            area=measured(increase.wanted_ha, "ha"),
            variety=increase.variety,
            year=increase.year,
            seed=measured(increase.seed_kg, "kg"),
        )
    if rule.kind in YEARLY:
        return say("{rule} in {year}", rule=say(YEARLY[rule.kind]), year=rule.about[0])
    return rule_text(rule.kind, problem)


YEARLY = {
    "hands": mark("the hours that there are"),
    "binder": mark("what the binder can cut in the weeks of ripeness"),
    "parallel": mark("one variety is not grown both organic and not"),
}


def rule_text(rule, problem):
    """A rule of the rotation as a grower would say it."""
    rules = problem.rotation
    return {
        rotation.THIRD_WHEAT: say(
            "no more than {most} wheats running", most=rules.wheats_running
        ),
        rotation.BREAK: say(
            "{harvests} between runs of wheat", harvests=harvests(rules.break_years)
        ),
        rotation.RICH_LEY: say("roots before wheat after a long ley"),
        rotation.BEHIND_LEY: say(
            "wheat within {harvests} of a ley", harvests=harvests(rules.wheat_within)
        ),
        rotation.YOUNG_LEY: say(
            "a ley stands {harvests}", harvests=harvests(rules.least_ley)
        ),
        rotation.REST: say(
            "a ley after {harvests} under the plough",
            harvests=harvests(rules.arable_most),
        ),
    }[rule]
