"""Hours of hands from seed to bundle, and the days of each task, from the tables."""

from sheafwright.core.inputs.work import HoursPerHectare, TaskDays
from sheafwright.feeds.tables import build_shipped

TASKS = ("sowing", "weeding", "cutting", "carting", "threshing")
"""In the order of the year's work; cutting includes stooking, threshing combing."""


def hours_per_hectare():
    """`HoursPerHectare` of the package."""
    return build_shipped(HoursPerHectare, "labour", "hours")


def task_days():
    """`TaskDays` of the package."""
    return build_shipped(TaskDays, "labour", "days")
