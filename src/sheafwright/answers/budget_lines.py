"""Each line of a crop's budget: for one value of what is not known, or for draws."""

from typing import NamedTuple

import numpy as np

from sheafwright.answers.labour_need import NeedQuestion, Sown, labour_need
from sheafwright.answers.work_day import WorkQuestion, work_day
from sheafwright.core.money import cash, machines
from sheafwright.core.money.products import products
from sheafwright.core.work.field import field_capacity
from sheafwright.feeds import outturns
from sheafwright.feeds.sheaves import sheaves
from sheafwright.feeds.telling import mark
from sheafwright.feeds.threshing import threshing
from sheafwright.feeds.work import work_rates

INPUTS = (
    "crop",
    "kept",
    "reed_price",
    "grain_price",
    "hours",
    "repairs",
    "reed_share",
    "grain_share",
)
"""What is not known, in the order of the draws."""
GROWS = ("carting", "threshing")
"""Tasks whose hours go with the weight of the crop."""
DISTANCE = 0.5
"""From field to rick. [km]"""
MONTHS_OF = {
    "reed": "reed_cheque",
    "spoilt": "reed_cheque",
    "grain": "grain_cheque",
    "seed": "ground",
    "contractor": "ground",
    "work_sowing": "ground",
    "work_weeding": "weeding",
    "work_cutting": "cutting",
    "work_carting": "carting",
    "work_threshing": "threshing",
    "work_straw": "selling",
    "work_grain": "grain_cheque",
    "twine": "cutting",
    "fuel": "carting",
    "repairs": "carting",
    "hire": "threshing",
    "storage": "selling",
    "haulage": "selling",
    "certification": "yearly",
    "insurance": "yearly",
    "interest": "reed_cheque",
}
"""Line to when it is paid. What machines lose of their value is paid on no day."""
INCOME = {
    "reed": mark("reed"),
    "spoilt": mark("straw that spoiled"),
    "grain": mark("grain"),
}
COSTS = {
    "seed": mark("seed"),
    "contractor": mark("contractor"),
    "work_sowing": mark("hours: ground and sowing"),
    "work_weeding": mark("hours: weeding"),
    "work_cutting": mark("hours: cutting and stooking"),
    "work_carting": mark("hours: carting"),
    "work_threshing": mark("hours: threshing and combing"),
    "work_straw": mark("hours: bundles and selling straw"),
    "work_grain": mark("hours: cleaning and selling grain"),
    "twine": mark("twine"),
    "fuel": mark("fuel"),
    "repairs": mark("repairs of our machines"),
    "machines": mark("what our machines tie up and lose"),
    "hire": mark("hire of machines"),
    "storage": mark("storage"),
    "haulage": mark("haulage"),
    "certification": mark("certificate"),
    "insurance": mark("insurance"),
    "interest": mark("interest from seed to cheque"),
}
LABOUR = tuple(name for name in COSTS if name.startswith("work_"))


class Work(NamedTuple):
    """What the likely crop takes of hands and machines."""

    tasks: dict[str, float]
    """[h]"""
    own: dict[str, int]
    """Harvests of one's own book that told each task's hours; 0 for the tables'."""
    machines: dict[str, float]
    """[h]"""


def work_of(terms, harvest_year, own_hours):
    """`Work` of a likely crop.

    Parameters
    ----------
    terms : sheafwright.feeds.budget.Terms
    harvest_year : int
    own_hours : dict of str to tuple of float
        Task to its hours in each harvest of one's own book. [h/ha]
    """
    area, outlay = terms.area, terms.outlay
    need = labour_need(NeedQuestion(harvest_year, (Sown(area),), own_hours))
    tables_crop = sheaves().crop_kg_per_ha / 1000
    tasks = {each.task: each.likely for each in need.tasks}
    own = {each.task: each.harvests for each in need.tasks}
    for task in GROWS:
        tasks[task] *= 1 if own[task] else terms.ranges.crop[1] / tables_crop
    tasks["sowing"] *= 1 if own["sowing"] else outlay.own_ground_work
    return Work(tasks, own, _machines(terms))


def _machines(terms):
    """Hours of each machine. [h]"""
    area, use, rates = terms.area, terms.use_of_machines, work_rates()
    day = work_day(WorkQuestion(area, rates.binder.hands, DISTANCE))
    capacity = field_capacity(
        use.cultivator_width, use.cultivator_speed, use.cultivator_efficiency
    )
    hours = {
        "cultivator": use.cultivator_passes * area / float(capacity),
        "binder": day.field.binder_hours,
        "cart": sum(day.cartage.hours) / 2,
        "drum": drum_days(terms) * rates.day.hand_hours,
    }
    # It draws, or drives by its belt, every one of them.
    return {"tractor": sum(hours.values()), **hours}


def drum_days(terms):
    """Days at the drum of a likely crop. [d]"""
    reed = terms.area * terms.ranges.crop[1] * reed_share()[1]
    return reed / np.mean(threshing().drum_day.reed_a_day)


def reed_share():
    """Least, likely and most of the sheaves that is reed. [1]"""
    return _share("reed")


def grain_share():
    """Least, likely and most of the sheaves that is grain. [1]"""
    return _share("grain")


def _share(product):
    low, high = outturns.usual_shares(combed=True)[product]
    return low, (low + high) / 2, high


def ends_of(terms):
    """Least, likely and most of each input, (input, 3)."""
    shares = {"reed_share": reed_share(), "grain_share": grain_share()}
    return np.array(
        [
            shares[name] if name in shares else getattr(terms.ranges, name)
            for name in INPUTS
        ]
    )


class Lines(NamedTuple):
    """A budget: each line a number, or one a draw."""

    income: dict[str, object]
    """[£]"""
    costs: dict[str, object]
    """[£]"""
    tonnes: dict[str, object]
    """Of each product. [t]"""
    hours: dict[str, object]
    """Of each task. [h]"""

    @property
    def all_costs(self):
        """[£]"""
        return sum(self.costs.values())

    @property
    def margin(self):
        """What is left. [£]"""
        return sum(self.income.values()) - self.all_costs

    @property
    def break_even(self):
        """Price of reed at which nothing is left. [£/t]"""
        other = sum(self.income.values()) - self.income["reed"]
        return cash.break_even(self.all_costs, other, self.tonnes["reed"])


def lines_of(terms, work, values):
    """`Lines` where each input has some values.

    Parameters
    ----------
    values : dict of str to array_like
        Each of ``INPUTS``.
    """
    tonnes = _tonnes(terms, values)
    bigger = values["crop"] / terms.ranges.crop[1]
    hours = _hours(terms, work, values, tonnes, bigger)
    income = {
        "reed": tonnes["reed"] * values["reed_price"],
        "spoilt": tonnes["spoilt"] * terms.outlay.spoilt_gbp_per_t,
        "grain": tonnes["grain"] * values["grain_price"],
    }
    found = {
        **_by_area(terms),
        **{f"work_{task}": each * wage(terms) for task, each in hours.items()},
        **_of_machines(terms, work, bigger, values["repairs"]),
        **_by_tonne(terms, tonnes),
    }
    found["interest"] = _interest(terms, income, found)
    costs = {name: found[name] for name in COSTS}
    return Lines(income, costs, tonnes, hours)


def wage(terms):
    """What an hour costs, with what goes on top of the wage. [£/h]"""
    return terms.outlay.wage_gbp_per_h * (1 + terms.outlay.on_costs)


def _tonnes(terms, values):
    made = products(
        values["crop"], values["reed_share"], values["grain_share"], values["kept"]
    )
    return {name: terms.area * each for name, each in made._asdict().items()}


def _hours(terms, work, values, tonnes, bigger):
    tasks = {
        task: each * values["hours"] * (bigger if task in GROWS else 1)
        for task, each in work.tasks.items()
    }
    straw = tonnes["reed"] + tonnes["spoilt"]
    tasks["straw"] = straw * terms.outlay.straw_h_per_t * values["hours"]
    tasks["grain"] = tonnes["grain"] * terms.outlay.grain_h_per_t * values["hours"]
    return tasks


def _by_area(terms):
    area, outlay = terms.area, terms.outlay
    part = area / (area + outlay.other_ha)
    return {
        "seed": area * outlay.seed_kg_per_ha * outlay.seed_gbp_per_kg,
        "contractor": area * outlay.contractor_gbp_per_ha,
        "twine": area * outlay.twine_gbp_per_ha,
        "certification": part * outlay.certification_gbp_a_year,
        "insurance": part * outlay.insurance_gbp_a_year,
    }


def _by_tonne(terms, tonnes):
    outlay, straw = terms.outlay, tonnes["reed"] + tonnes["spoilt"]
    haulage = (
        straw * outlay.straw_haulage_gbp_per_t
        + tonnes["grain"] * outlay.grain_haulage_gbp_per_t
    )
    return {"storage": straw * outlay.storage_gbp_per_t, "haulage": haulage}


def _of_machines(terms, work, bigger, dearer):
    """Ownership, repairs and fuel of ours, and hire of what is not."""
    rate, use = terms.outlay.interest, terms.use_of_machines
    owned = repairs = hire = 0.0
    for name, machine in terms.machines.items():
        hours = work.machines[name]
        if not machine.own:
            hire = hire + _hire(terms, name, hours) * bigger
            continue
        each_year, part = hours + machine.hours_elsewhere, _part(machine, hours)
        owned += part * machines.ownership_a_year(machine, each_year, rate, use.other)
        repairs += part * machines.repairs_a_year(machine, each_year)
    burnt = work.machines["tractor"] * machines.fuel_per_hour(use.power, use.load)
    return {
        "machines": float(owned),
        "repairs": repairs * dearer,
        "hire": hire,
        "fuel": float(burnt) * terms.outlay.fuel_gbp_per_l,
    }


def _part(machine, hours):
    return float(machines.crop_part(machine, hours))


def _hire(terms, name, hours):
    """Of a machine that is not ours, by the day. [£]"""
    days = hours / work_rates().day.hand_hours
    return days * terms.outlay.machine_hire_gbp_per_day


def _interest(terms, income, costs):
    """On what is laid out, less what came in before the cheque. [£]"""
    rate, until = terms.outlay.interest, _middle(terms, "reed")
    paid = {name: each for name, each in costs.items() if name in MONTHS_OF}
    return sum(
        cash.interest(each, until - _middle(terms, name), rate)
        for name, each in paid.items()
    ) - sum(
        cash.interest(each, until - _middle(terms, name), rate)
        for name, each in income.items()
    )


def _middle(terms, line):
    first, last = months_of(terms, line)
    return (first + last) / 2


def months_of(terms, line):
    """First and last month in which a line is paid."""
    return getattr(terms.months, MONTHS_OF[line])
