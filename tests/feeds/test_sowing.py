"""Days of sowing, in the years of their harvests."""

import numpy as np

from sheafwright.feeds.sowing import dates_in

YEARS = np.array([2023, 2024])


def test_what_is_sown_in_autumn_is_harvested_the_year_after():
    assert dates_in(YEARS, 10, 12).astype(str).tolist() == ["2022-10-12", "2023-10-12"]
    assert dates_in(YEARS, 2, 25).astype(str).tolist() == ["2023-02-25", "2024-02-25"]


def test_the_29th_of_february_is_1_march_where_there_is_none():
    assert dates_in(YEARS, 2, 29).astype(str).tolist() == ["2023-03-01", "2024-02-29"]
