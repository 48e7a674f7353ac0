"""How a cropping plan was worked out, step by step, from the rows that it used."""

from sheafwright.answers.cropping_wording import crop_says
from sheafwright.answers.prices import ACRE, per_area, per_weight
from sheafwright.answers.working import GIVEN, YOU, Step, step_from_rows
from sheafwright.feeds.cropping import CROPS, question_rows
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import by_family, joined, mark, measured, say, say_n

METHOD = mark(
    "R. T. Rockafellar and S. Uryasev, Journal of Risk 2, 2000, for the mean of the "
    "worst seasons; a mixed-integer program, solved by HiGHS"
)


def cropping_steps(answer):
    """Every `Step` of a `CroppingAnswer`."""
    return tuple(_steps(answer))


def telling_steps(answer):
    """The published rule, how risk is weighed, and how good the plan is proven."""
    _, rule, *_, risk, proven = _steps(answer)
    return rule, risk, proven


def _steps(answer):
    problem, question = answer.plan.problem, answer.question
    seasons = problem.seasons
    yield Step(_fields(problem, question), YOU, GIVEN)
    yield from _rules(problem, question)
    for crop in CROPS:
        yield _crop(crop, problem, question)
    yield from _wheat(problem, question)
    yield from _straw(problem, question)
    yield from _limits(problem, question)
    rows = question_rows(question.values, "seasons")
    kinds = [
        say("{season} {chance:.0%}", season=say(name), chance=chance)
        for name, chance in zip(seasons.names, seasons.chance, strict=True)
    ]
    yield _step(
        say(
            "Kinds of season, and the chance of each: {kinds}.",
            kinds=joined(*kinds, by=", "),
        ),
        rows["names"],
        rows["chance"],
    )
    yield _step(
        say(
            "Each year's worth counts {caution:.0%} by the worst {share:.0%} of "
            "seasons, and the rest by all of them.",
            caution=seasons.caution,
            share=seasons.worst_share,
        ),
        rows["worst_share"],
        rows["caution"],
    )
    yield Step(
        say(
            "So weighed, with the ley that is left at the end, no plan can be worth "
            "more than £{bound:,.0f}; this one is worth £{score:,.0f}.",
            bound=answer.plan.bound,
            score=answer.plan.score,
        ),
        METHOD,
        "from memory",
    )


def _fields(problem, question):
    fields = len(problem.fields)
    said = say_n(
        "{n} field of {area}, with what grew there before",
        "{n} fields of {area}, with what grew there before",
        fields,
        area=measured(sum(f.area for f in problem.fields), "ha", ".1f"),
    )
    kept = len(question.fields) - fields
    if not kept:
        return say("{fields}.", fields=said)
    left_out = say_n(
        "{n} more stays in grass, and is left out",
        "{n} more stay in grass, and are left out",
        kept,
    )
    return say("{fields}; {left_out}.", fields=said, left_out=left_out)


def _rules(problem, question):
    rules, rows = problem.rotation, question_rows(question.values, "rules")
    yield _step(
        say(
            "No more than {most} wheats running, then {break_years} harvests or more "
            "before wheat again.",
            most=rules.wheats_running,
            break_years=rules.break_years,
        ),
        rows["wheats_running"],
        rows["break_years"],
    )
    yield _step(
        say(
            "A ley stands {least} harvests or more; one of {long} or more wants roots "
            "before wheat; wheat stands within {within} harvests of a ley; after "
            "{arable} under the plough comes a ley.",
            least=rules.least_ley,
            long=rules.long_ley,
            within=rules.wheat_within,
            arable=rules.arable_most,
        ),
        *(rows[n] for n in ("least_ley", "long_ley", "wheat_within", "arable_most")),
    )


def _crop(name, problem, question):
    rows = question_rows(question.values, name)
    used = ["cost_gbp_per_ha", "work_h_per_ha", "yield_by_season"]
    used += [
        each
        for each in ("share_of_perfect", "grain_t_per_ha", "keep_gbp_per_ha")
        if each in rows
    ]
    crop, called = problem.crops[name], crop_says(name, problem)
    says = by_family(
        _costs(say("A hectare of {crop}", crop=called), crop, 1),
        _costs(say("An acre of {crop}", crop=called), crop, ACRE),
    )
    return _step(says, *(rows[each] for each in used))


def _costs(what, crop, area_ha):
    return say(
        "{what} costs £{cost:,.0f} and {hours:.3g} hours; by kind of season it gives "
        "{shares} of {full}.",
        what=what,
        cost=area_ha * crop.cost_gbp_per_ha,
        hours=area_ha * sum(crop.work_h_per_ha),
        shares=_shares(crop.yield_by_season),
        full=_full(crop, area_ha),
    )


def _full(crop, area_ha):
    if crop.share_of_perfect == 1:
        return say("a perfect crop")
    if crop.share_of_perfect:
        return say("{share:g} of a perfect crop", share=crop.share_of_perfect)
    if crop.grain_t_per_ha:
        grain = measured(area_ha * crop.grain_t_per_ha, "t")
        return say("{grain} of grain", grain=grain)
    return say("£{keep:,.0f} of keep", keep=area_ha * crop.keep_gbp_per_ha)


def _wheat(problem, question):
    ground, straw = problem.ground, problem.straw
    perfect = shipped("worth")["perfect_crop"]
    yield _step(
        say(
            "A perfect crop of wheat is {straw} of straw and {grain} of grain.",
            straw=measured(straw.reed_t_per_ha, "t/ha"),
            grain=measured(straw.grain_t_per_ha, "t/ha"),
        ),
        perfect["reed_t_per_ha"],
        perfect["grain_t_per_ha"],
    )
    rows = question_rows(question.values, "ground")
    yield _step(
        say(
            "By the harvest after the ley, wheat yields {yields} and loses {lodged} by "
            "lodging; a second wheat yields {second:g}.",
            yields=_shares(ground.yield_by_harvest),
            lodged=_shares(ground.lodged_by_harvest),
            second=ground.second_wheat,
        ),
        *(rows[n] for n in ("yield_by_harvest", "lodged_by_harvest", "second_wheat")),
    )
    yield _step(
        say(
            "A new ley costs {sow}, and one that stands at the end is worth {left} for "
            "each harvest it has stood, up to {most}.",
            sow=per_area(ground.sow_ley_gbp_per_ha),
            left=per_area(ground.ley_left_gbp_per_ha),
            most=problem.rotation.least_ley,
        ),
        rows["sow_ley_gbp_per_ha"],
        rows["ley_left_gbp_per_ha"],
    )


def _straw(problem, question):
    if not question.buyers:
        yield _step(
            say(
                "All the straw goes at {price}, no buyers being named.",
                price=per_weight(problem.straw.reed_gbp_per_t),
            ),
            shipped("worth")["perfect_crop"]["reed_gbp_per_t"],
        )
        return
    taken = [
        say(
            "{straw} at {price}",
            straw=measured(each.straw_t, "t"),
            price=per_weight(each.gbp_per_t),
        )
        for each in problem.buyers
    ]
    says = say("Each year buyers take straw: {taken}.", taken=joined(*taken, by=", "))
    yield Step(says, YOU, GIVEN)
    surplus = question_rows(question.values, "straw")["surplus_gbp_per_t"]
    yield _step(
        say("What they don't take goes at {price}.", price=per_weight(surplus.value)),
        surplus,
    )


def _limits(problem, question):
    rows = question_rows(question.values, "hands")
    hours = say("{hours:g} hours a week", hours=question.hours_a_week)
    if question.busy:
        hours = say("{hours}, or as said for busy ones", hours=hours)
    yield _step(
        say(
            "An hour costs £{price:.2f}; each work has its weeks, and there are "
            "{hours}.",
            price=problem.hands.gbp_per_h,
            hours=hours,
        ),
        rows["gbp_per_h"],
    )
    yield _step(
        say(
            "The binder cuts {area} a week; early and late sowings ripen one after the "
            "other.",
            area=measured(problem.binder_ha_per_week, "ha", ".1f"),
        ),
        rows["binder_ha_per_day"],
        rows["cutting_days_per_week"],
    )
    organic = shipped("organic")["conversion"]["years_before_sowing"]
    yield step_from_rows(
        say(
            "A crop is organic if its land was farmed so for {years} years before "
            "sowing; of one variety, all is organic in a year or none.",
            years=organic.value,
        ),
        organic,
    )
    if problem.increase:
        yield _seed_plot(problem.seed_plot, question)


def _seed_plot(plot, question):
    rows = question_rows(question.values, "seed_plot")
    return _step(
        say(
            "A seed plot takes {sown}, keeps {kept} and costs {cost} more; it lies in "
            "a first wheat, never after another.",
            sown=measured(plot.sown_kg_per_ha, "kg/ha"),
            kept=measured(plot.kept_kg_per_ha, "kg/ha"),
            cost=per_area(plot.cost_gbp_per_ha),
        ),
        *(rows[n] for n in ("sown_kg_per_ha", "kept_kg_per_ha", "cost_gbp_per_ha")),
    )


def _shares(values):
    return ", ".join(f"{value:g}" for value in values)


def _step(says, *rows):
    """A step from rows of the table, or from the grower where one is their own."""
    ours = [row for row in rows if not row.table.startswith("your ")]
    if len(ours) < len(rows):
        return Step(says, mark("You, and the table"), GIVEN)
    return step_from_rows(says, *ours)
