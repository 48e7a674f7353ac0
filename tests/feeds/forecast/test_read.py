import datetime

import numpy as np
import pytest

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds.forecast.read import read

MEMBERS = b"date,member,rain_mm\n2026-08-06,a,1.5\n"


@pytest.fixture
def saved(tmp_path):
    def save(content):
        path = tmp_path / "forecast.dat"
        path.write_bytes(content)
        return path

    return save


def test_json_is_known_by_its_content(saved, sample_bytes):
    forecast = read(saved(sample_bytes))
    np.testing.assert_allclose(forecast.rain, [[3.5, 1.2]])
    assert forecast.source.endswith("forecast.dat")


def test_csv_is_known_by_its_content(saved):
    assert read(saved(MEMBERS)).first == datetime.date(2026, 8, 6)


def test_the_offset_reaches_the_days(saved, sample_bytes):
    in_utc, in_tokyo = (read(saved(sample_bytes), utc_offset_hours=h) for h in (0, 9))
    assert in_utc.rain[0, 0] != in_tokyo.rain[0, 0]


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b" \n", "is empty; it should be a Locationforecast JSON or a CSV"),
        (b"<html>", "line 1: the columns should be date, member, rain_mm"),
        (b"[1]", "properties is missing"),
    ],
)
def test_what_is_neither_is_refused(saved, content, says):
    with pytest.raises(UnreadableInput, match=says):
        read(saved(content))


@pytest.mark.parametrize("name", ["absent.json", ".", "nul\0"])
def test_a_file_that_cannot_be_read_is_named(tmp_path, name):
    with pytest.raises(UnreadableInput, match="cannot be read"):
        read(f"{tmp_path}/{name}")


def test_an_address_needs_somebody_to_ask():
    with pytest.raises(UnreadableInput, match="needs a contact for the service"):
        read("https://example.org/compact")
