"""Whatever a forecast file holds, it is a whole forecast or one clear sentence."""

import copy
import json
from pathlib import Path

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from sheafwright.core.errors import SheafwrightError
from sheafwright.feeds.forecast.daily import Forecast
from sheafwright.feeds.forecast.fetch import _http_date
from sheafwright.feeds.forecast.read import parse

SAMPLE = Path(__file__).parents[1] / "feeds/forecast/locationforecast.json"
JSON = SAMPLE.read_bytes()
CSV = b"date,member,rain_mm,tmin_c,tmax_c\n" + b"".join(
    b"2026-08-%02d,%c,%d.5,9,1%d\n" % (day, member, day % 4, day % 7)
    for member in b"abc"
    for day in range(6, 13)
)

scalars = (
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=12)
    | st.sampled_from([1e308, 10**400, "2026-08-06T03:00:00Z", "0001-01-01T00:00:00Z"])
)
values = st.recursive(
    scalars,
    lambda v: st.lists(v, max_size=2) | st.dictionaries(st.text(), v, max_size=2),
)


def whole_or_one_sentence(content):
    try:
        forecast = parse(content, "theirs")
    except SheafwrightError as refused:
        said = str(refused)
        assert said.startswith("theirs")
        assert said.endswith(".")
        assert "\n" not in said
        assert len(said) < 400
    else:
        assert_whole(forecast)


def assert_whole(forecast: Forecast):
    assert (forecast.first - forecast.issued).days in (0, 1)
    assert forecast.rain.size
    assert (forecast.rain >= 0).all()
    assert np.isfinite(forecast.rain).all()
    if forecast.tmin is not None:
        assert forecast.tmin.shape == forecast.tmax.shape == forecast.rain.shape
        assert (forecast.tmin <= forecast.tmax).all()


def paths(node, path=()):
    """The way to every part of a document."""
    yield path
    if isinstance(node, dict | list):
        keys = node if isinstance(node, dict) else range(len(node))
        for key in keys:
            yield from paths(node[key], (*path, key))


def with_part(document, path, value):
    changed = copy.deepcopy(document)
    *way, last = path
    node = changed
    for key in way:
        node = node[key]
    node[last] = value
    return changed


PATHS = [path for path in paths(json.loads(JSON)) if "properties" in path]


def test_the_samples_themselves_are_whole():
    assert_whole(parse(JSON, "theirs"))
    assert_whole(parse(CSV, "theirs"))


@given(path=st.sampled_from(PATHS), value=values)
def test_json_with_any_part_replaced(path, value):
    document = with_part(json.loads(JSON), path, value)
    whole_or_one_sentence(json.dumps(document).encode())


@given(end=st.integers(0, len(JSON) - 3))
def test_json_cut_anywhere_is_refused(end):
    try:
        parse(JSON[:end], "theirs")
    except SheafwrightError:
        whole_or_one_sentence(JSON[:end])
    else:
        raise AssertionError("a cut document was taken for whole")


@given(
    base=st.sampled_from([JSON, CSV]),
    at=st.integers(0, len(JSON)),
    removed=st.integers(0, 40),
    put=st.binary(max_size=8),
)
@settings(max_examples=300)
def test_bytes_replaced_anywhere(base, at, removed, put):
    at %= len(base)
    whole_or_one_sentence(base[:at] + put + base[at + removed :])


@given(st.binary(max_size=200))
def test_any_bytes(content):
    whole_or_one_sentence(content)


@given(
    line=st.integers(1, 21),
    column=st.integers(0, 4),
    cell=st.text(max_size=12)
    | st.dates().map(str)
    | (st.integers() | st.floats()).map(str),
)
def test_csv_with_any_cell_replaced(line, column, cell):
    lines = [row.split(",") for row in CSV.decode().splitlines()]
    lines[line][column] = cell
    whole_or_one_sentence("\n".join(map(",".join, lines)).encode())


@given(st.text(max_size=40) | st.from_regex(r"[A-Z][a-z]{2}, \d+ Aug \d+ [\d:]+ \S+"))
def test_any_time_in_a_header(text):
    time = _http_date(text)
    assert time is None or time.utcoffset().total_seconds() == 0
