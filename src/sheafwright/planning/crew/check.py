"""Proof that a plan can be carried out: plain sums, and nothing of the solver's."""

from sheafwright.feeds.telling import say

SLACK = 1e-6


def broken_rules(problem, plan):
    """Every rule that a plan breaks, in words; none for a plan that can be carried out.

    Parameters
    ----------
    problem : Problem
    plan : Plan
    """
    yield from _people(problem, plan)
    yield from _areas(problem, plan)
    yield from _wins(problem, plan)
    yield from _binders(problem, plan)
    for half_day in problem.half_days:
        for farm in sorted({job.farm for job in problem.jobs}):
            yield from _on_a_farm(problem, plan, half_day, farm)
        yield from _carts(problem, plan, half_day)


def _people(problem, plan):
    known = {person.name: person for person in problem.people}
    hours = {
        each.name: {
            "binding": each.cutting_hours,
            "stooking": each.cutting_hours,
            "carting": each.carting_hours,
        }
        for each in problem.half_days
    }
    for (half_day, name), duty in plan.duties.items():
        person = known.get(name)
        if person is None:
            yield say("{name} is nobody", name=name)
        elif half_day in person.away:
            yield say("{name} is away on {when}", name=name, when=half_day)
        elif duty.task not in person.may:
            yield say("{name} may not do {task}", name=name, task=duty.task)
        elif not hours[half_day][duty.task]:
            yield say("{when} is not fit for {task}", when=half_day, task=duty.task)


def _areas(problem, plan):
    for job in problem.jobs:
        done = sum(
            area
            for (_, field, task), area in plan.done.items()
            if (field, task) == (job.field, job.task)
        )
        if done > job.area + SLACK:
            yield say(
                "{task} of {field}: {done} of {area} ha",
                task=job.task,
                field=job.field,
                done=done,
                area=job.area,
            )


def _wins(problem, plan):
    """What is done wins something, and all of it what the plan says."""
    worth, gain_of = 0.0, {}
    for job in problem.jobs:
        for place, half_day in enumerate(problem.half_days):
            gain = job.gain[place] if isinstance(job.gain, tuple) else job.gain
            gain_of[half_day.name, job.field, job.task] = gain
    for (half_day, field, task), area in plan.done.items():
        gain = gain_of.get((half_day, field, task), 0.0)
        worth += gain * area
        if gain <= 0:
            yield say(
                "{when}: nothing is won by {task} of {field}",
                when=half_day,
                task=task,
                field=field,
            )
    if abs(worth - plan.worth) > SLACK * max(1.0, abs(worth)):
        yield say("it is worth {worth}, not {said}", worth=worth, said=plan.worth)
    if plan.bound < worth - SLACK:
        yield say(
            "it is worth {worth}, above its bound of {bound}",
            worth=worth,
            bound=plan.bound,
        )


def _binders(problem, plan):
    known = {binder.name: binder for binder in problem.binders}
    for half_day, name in plan.binders:
        if half_day in known[name].broken:
            yield say("{name} is broken on {when}", name=name, when=half_day)


def _hours_of_binders(problem, plan, half_day, farm):
    """Hours that all binders have on a farm, less moves."""
    hours = 0.0
    for binder in problem.binders:
        stood = binder.farm
        for each in problem.half_days:
            goes = plan.binders.get((each.name, binder.name))
            if each.name == half_day.name:
                if goes == farm:
                    late = problem.rates.move if stood != farm else 0.0
                    hours += max(0.0, half_day.cutting_hours - late)
                break
            stood = goes or stood
    return hours


def _on_a_farm(problem, plan, half_day, farm):
    rates, when = problem.rates, half_day.name
    cut, carted = (_area(problem, plan, when, farm, t) for t in ("binding", "carting"))
    out = sum(at == farm for (on, _), at in plan.binders.items() if on == when)
    hands = {
        task: sum(
            tuple(duty) == (task, farm)
            for (on, _), duty in plan.duties.items()
            if on == when
        )
        for task in ("binding", "stooking", "carting")
    }
    hours = _hours_of_binders(problem, plan, half_day, farm)
    rules = {
        say("the binder cannot cut {cut} ha", cut=cut): cut
        <= hours * rates.binder + SLACK,
        say("too few hands at the binder"): hands["binding"]
        >= out * rates.binder_hands,
        say("hands wait for a binder that does not come"): out or not hands["stooking"],
        say("too few hands set up {cut} ha", cut=cut): cut * rates.stooking
        <= hands["stooking"] * half_day.hand_hours + SLACK,
        say("the binder goes out for nothing"): cut > 0 or not out,
        say("hands go carting for nothing"): carted > 0 or not hands["carting"],
        say("too few hands for a carting crew"): not carted
        or hands["carting"] >= rates.carting_hands,
        say("too few hands cart {carted} ha", carted=carted): carted * rates.carting
        <= hands["carting"] * half_day.carting_hours + SLACK,
    }
    for words, kept in rules.items():
        if not kept:
            yield say("{farm}, {when}: {words}", farm=farm, when=when, words=words)


def _area(problem, plan, when, farm, task):
    here = {job.field for job in problem.jobs if job.farm == farm}
    return sum(
        ha
        for (on, field, of), ha in plan.done.items()
        if (on, of) == (when, task) and field in here
    )


def _carts(problem, plan, half_day):
    farm_of = {job.field: job.farm for job in problem.jobs}
    farms = {
        farm_of[field]
        for (when, field, task), ha in plan.done.items()
        if when == half_day.name and task == "carting" and ha > 0
    }
    if len(farms) > problem.rates.carts:
        yield say("{when}: carts on {n} farms", when=half_day.name, n=len(farms))
