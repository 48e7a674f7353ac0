"""The rates of work fill the core's sets, and say what they rest on."""

import dataclasses

from sheafwright.feeds import tables
from sheafwright.feeds.work import WorkRates, work_rates


def test_every_section_is_read():
    names = {field.name for field in dataclasses.fields(WorkRates)}
    assert names == set(tables.shipped("work_rates"))


def test_ranges_run_from_the_least_to_the_most():
    rates = work_rates()
    for low, high in (
        rates.stooking.area_a_day,
        rates.carting.loaders,
        rates.carting.stackers,
        rates.known.bad_mis_ties,
    ):
        assert 0 < low < high


def test_only_the_cutter_bar_and_what_others_counted_are_published():
    rows = [
        row for rows in tables.shipped("work_rates").values() for row in rows.values()
    ]
    published = {row.name for row in rows if row.standing == "published"}
    assert published == {"width", "hand_hours_per_ha", "bad_mis_ties"}
