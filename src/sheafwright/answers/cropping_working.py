"""How a cropping plan was worked out, step by step, from the rows that it used."""

from sheafwright.answers.working import GIVEN, Step, step_from_rows
from sheafwright.feeds.cropping import CROPS, question_rows
from sheafwright.feeds.tables import shipped

METHOD = (
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
    rules, seasons = problem.rotation, problem.seasons
    fields, area = len(problem.fields), sum(f.area for f in problem.fields)
    said = f"{fields} fields of {area:.1f} ha, with what grew there before"
    kept = len(question.fields) - fields
    said += f"; {kept} more stay in grass, and are left out." if kept else "."
    yield Step(said, "You", GIVEN)
    rows = question_rows(question.values, "rules")
    yield _step(
        f"No more than {rules.wheats_running} wheats running, then "
        f"{rules.break_years} harvests or more before wheat again.",
        rows["wheats_running"],
        rows["break_years"],
    )
    yield _step(
        f"A ley stands {rules.least_ley} harvests or more; one of {rules.long_ley} or "
        f"more wants roots before wheat; wheat stands within {rules.wheat_within} "
        f"harvests of a ley; after {rules.arable_most} under the plough comes a ley.",
        *(rows[n] for n in ("least_ley", "long_ley", "wheat_within", "arable_most")),
    )
    for crop in CROPS:
        yield _crop(crop, problem, question)
    yield from _wheat(problem, question)
    yield from _limits(problem, question)
    rows = question_rows(question.values, "seasons")
    kinds = ", ".join(
        f"{name} {chance:.0%}"
        for name, chance in zip(seasons.names, seasons.chance, strict=True)
    )
    yield _step(
        f"Kinds of season, and the chance of each: {kinds}.",
        rows["names"],
        rows["chance"],
    )
    yield _step(
        f"Each year's worth counts {seasons.caution:.0%} by the worst "
        f"{seasons.worst_share:.0%} of seasons, and the rest by all of them.",
        rows["worst_share"],
        rows["caution"],
    )
    yield Step(
        f"So weighed, with the ley that is left at the end, no plan can be worth more "
        f"than £{answer.plan.bound:,.0f}; this one is worth £{answer.plan.score:,.0f}.",
        METHOD,
        "from memory",
    )


def _crop(name, problem, question):
    crop, rows = problem.crops[name], question_rows(question.values, name)
    hours = sum(crop.work_h_per_ha)
    used = ["cost_gbp_per_ha", "work_h_per_ha", "yield_by_season"]
    used += [
        each
        for each in ("share_of_perfect", "grain_t_per_ha", "keep_gbp_per_ha")
        if each in rows
    ]
    shares = ", ".join(f"{share:g}" for share in crop.yield_by_season)
    return _step(
        f"A hectare of {crop.says} costs £{crop.cost_gbp_per_ha:,.0f} and {hours:g} "
        f"hours; by kind of season it gives {shares} of {_full(crop)}.",
        *(rows[each] for each in used),
    )


def _full(crop):
    if crop.share_of_perfect:
        share = crop.share_of_perfect
        return f"{share:g} of a perfect crop" if share != 1 else "a perfect crop"
    if crop.grain_t_per_ha:
        return f"{crop.grain_t_per_ha:g} t of grain"
    return f"£{crop.keep_gbp_per_ha:,.0f} of keep"


def _wheat(problem, question):
    ground, straw = problem.ground, problem.straw
    perfect = shipped("worth")["perfect_crop"]
    yield _step(
        f"A perfect crop of wheat is {straw.reed_t_per_ha:g} t/ha of straw and "
        f"{straw.grain_t_per_ha:g} t/ha of grain.",
        perfect["reed_t_per_ha"],
        perfect["grain_t_per_ha"],
    )
    rows = question_rows(question.values, "ground")
    yield _step(
        f"By the harvest after the ley, wheat yields "
        f"{_shares(ground.yield_by_harvest)} and loses "
        f"{_shares(ground.lodged_by_harvest)} by lodging; a second wheat yields "
        f"{ground.second_wheat:g}.",
        *(rows[n] for n in ("yield_by_harvest", "lodged_by_harvest", "second_wheat")),
    )
    yield _step(
        f"A new ley costs £{ground.sow_ley_gbp_per_ha:,.0f}/ha, and one that stands at "
        f"the end is worth £{ground.ley_left_gbp_per_ha:,.0f}/ha for each harvest it "
        f"has stood, up to {problem.rotation.least_ley}.",
        rows["sow_ley_gbp_per_ha"],
        rows["ley_left_gbp_per_ha"],
    )
    surplus = question_rows(question.values, "straw")["surplus_gbp_per_t"]
    if question.buyers:
        taken = ", ".join(
            f"{each.straw_t:g} t at £{each.gbp_per_t:,.0f}" for each in problem.buyers
        )
        yield Step(f"Each year buyers take {taken} of straw.", "You", GIVEN)
        yield _step(
            f"What they don't take goes at £{surplus.value:g} a tonne.", surplus
        )
    else:
        yield _step(
            f"All the straw goes at £{straw.reed_gbp_per_t:,.0f} a tonne, no buyers "
            f"being named.",
            perfect["reed_gbp_per_t"],
        )


def _limits(problem, question):
    rows = question_rows(question.values, "hands")
    busy = ", or as said for busy ones" if question.busy else ""
    yield _step(
        f"An hour costs £{problem.hands.gbp_per_h:.2f}; each work has its weeks, and "
        f"there are {question.hours_a_week:g} hours a week{busy}.",
        rows["gbp_per_h"],
    )
    yield _step(
        f"The binder cuts {problem.binder_ha_per_week:.1f} ha a week; early and late "
        f"sowings ripen one after the other.",
        rows["binder_ha_per_day"],
        rows["cutting_days_per_week"],
    )
    organic = shipped("organic")["conversion"]["years_before_sowing"]
    yield step_from_rows(
        f"A crop is organic if its land was farmed so for {organic.value} years before "
        f"sowing; of one variety, all is organic in a year or none.",
        organic,
    )
    if problem.increase:
        rows = question_rows(question.values, "seed_plot")
        plot = problem.seed_plot
        yield _step(
            f"A hectare of seed plot takes {plot.sown_kg_per_ha:g} kg, keeps "
            f"{plot.kept_kg_per_ha:g} kg and costs £{plot.cost_gbp_per_ha:,.0f} more; "
            f"it lies in a first wheat, never after another.",
            *(
                rows[each]
                for each in ("sown_kg_per_ha", "kept_kg_per_ha", "cost_gbp_per_ha")
            ),
        )


def _shares(values):
    return ", ".join(f"{value:g}" for value in values)


def _step(says, *rows):
    """A step from rows of the table, or from the grower where one is their own."""
    ours = [row for row in rows if not row.table.startswith("your ")]
    if len(ours) < len(rows):
        return Step(says, "You, and the table", GIVEN)
    return step_from_rows(says, *ours)
