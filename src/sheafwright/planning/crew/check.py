"""Proof that a plan can be carried out: plain sums, and nothing of the solver's."""

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
            yield f"{name} is nobody"
        elif half_day in person.away:
            yield f"{name} is away on {half_day}"
        elif duty.task not in person.may:
            yield f"{name} may not do {duty.task}"
        elif not hours[half_day][duty.task]:
            yield f"{half_day} is not fit for {duty.task}"


def _areas(problem, plan):
    for job in problem.jobs:
        done = sum(
            area
            for (_, field, task), area in plan.done.items()
            if (field, task) == (job.field, job.task)
        )
        if done > job.area + SLACK:
            yield f"{job.task} of {job.field}: {done} of {job.area} ha"


def _binders(problem, plan):
    known = {binder.name: binder for binder in problem.binders}
    for half_day, name in plan.binders:
        if half_day in known[name].broken:
            yield f"{name} is broken on {half_day}"


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
        f"the binder cannot cut {cut} ha": cut <= hours * rates.binder + SLACK,
        "too few hands at the binder": hands["binding"] >= out * rates.binder_hands,
        "hands wait for a binder that does not come": out or not hands["stooking"],
        f"too few hands set up {cut} ha": cut * rates.stooking
        <= hands["stooking"] * half_day.hand_hours + SLACK,
        "too few hands for a carting crew": not carted
        or hands["carting"] >= rates.carting_hands,
        f"too few hands cart {carted} ha": carted * rates.carting
        <= hands["carting"] * half_day.carting_hours + SLACK,
    }
    for words, kept in rules.items():
        if not kept:
            yield f"{farm}, {when}: {words}"


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
        yield f"{half_day.name}: carts on {len(farms)} farms"
