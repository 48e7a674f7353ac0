"""Hours of the demo's own people, and what an hour costs there; all of it invented."""

import decimal

from sheafwright.records.models.work import Task
from sheafwright.records.services.work import labour_rate_set, labour_record

OWN = ("Rowan Pike", "Tansy Holm", "Hazel Marl")
JOBS = {
    Task.SOWING: "plough, drill and roll",
    Task.CUTTING: "cutting and stooking",
    Task.CARTING: "carting",
    Task.THRESHING: "drum and comb",
}
RATES = (("", "", "12.50"), ("Rowan Pike", "", "14.00"), ("", "threshing", "15.00"))
"""Whose, at what, for how much."""


def rates_story(book, day):
    """From a day on; a day's wage is the same for all but two kinds."""
    yield day
    for who, task, rate in RATES:
        book.write(
            labour_rate_set,
            f"rate {who} {task}",
            since=day,
            who=who,
            task=task,
            rate=decimal.Decimal(rate),
        )


def own_hours(book, name, day, task, hours, hands, sowing=None):
    """So many of our own work at a task for so long each.

    Parameters
    ----------
    name : str
        That the entries' ids come of.
    hours : float
        Of each. [h]
    hands : int
    """
    for who in OWN[:hands]:
        book.write(
            labour_record,
            f"{name} {who}",
            date=day,
            who=who,
            hours=max(0.5, round(2 * hours) / 2),
            task=task,
            job=JOBS[task],
            sowing=sowing,
        )
