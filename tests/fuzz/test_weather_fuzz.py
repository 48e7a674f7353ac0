"""Whatever a weather file holds, the command gives an answer or one clear sentence.

And whatever it answers, no value that weather can't have is left in the record.
"""

import contextlib
import gzip
import io
import json
import runpy
import tempfile
from importlib import resources
from pathlib import Path
from unittest import mock

import jsonschema
import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sheafwright.cli.main import main
from sheafwright.feeds import weather
from sheafwright.feeds.weather.checks import shipped_checks
from sheafwright.feeds.weather.variables import ORDERED

TESTS = Path(__file__).parents[1]
SCHEMA = json.loads((TESTS / "answers/schemas/weather.json").read_text("utf-8"))
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)
LONGEST_SENTENCE = 300


def command(*arguments):
    """Exit code, standard output and standard error of the real command."""
    out, err, code = io.StringIO(), io.StringIO(), 0
    arguments = ["sheafwright", "weather", *map(str, arguments)]
    with (
        mock.patch("sys.argv", arguments),
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(err),
    ):
        try:
            main()
        except SystemExit as stop:
            code = stop.code or 0
    return code, out.getvalue(), err.getvalue()


def answer_or_sentence(path, *options):
    """The answer as JSON, or the one sentence that refuses the file."""
    code, out, err = command(path, *options, "--json")
    if code == 0:
        answer = json.loads(out)
        VALIDATOR.validate(answer)
        assert err == ""
        assert_possible(weather.read(path, *options[1:]))
        return answer
    assert (code, out) == (2, "")
    assert err.startswith("sheafwright: ")
    assert err.endswith(".\n")
    assert err.count("\n") == 1
    assert len(err) <= LONGEST_SENTENCE
    return err


def assert_possible(record):
    for name, values in record.values.items():
        lowest, highest = getattr(shipped_checks().range, name)
        known = values[~np.isnan(values)]
        assert lowest <= known.min() <= known.max() <= highest
    for lower, upper in ORDERED:
        if {lower, upper} <= record.values.keys():
            assert not (record.values[lower] > record.values[upper]).any()


DEMO = resources.files("sheafwright") / "data/demo/weather.csv.gz"
DEMO_LINES = gzip.decompress(DEMO.read_bytes()).decode().splitlines()
HEADING = DEMO_LINES[0].split(",")
ROWS = [line.split(",") for line in DEMO_LINES[1:] if "2019" <= line[:4] <= "2024"]


def csv(rows, heading=HEADING):
    return "\n".join(map(",".join, [heading, *rows])).encode() + b"\n"


def changed(name, change, every=1):
    """The rows with a change to one column of every so many rows."""
    at = HEADING.index(name)
    return [
        [*row[:at], change(row[at]), *row[at + 1 :]] if n % every == 0 else row
        for n, row in enumerate(ROWS)
    ]


def swapped(one, other):
    names = {one: other, other: one}
    return csv(ROWS, [names.get(name, name) for name in HEADING])


def fahrenheit(cell):
    return f"{float(cell) * 1.8 + 32:.1f}"


def year(of, called=None):
    rows = [row for row in ROWS if row[0].startswith(of)]
    return [[row[0].replace(of, called or of), *row[1:]] for row in rows]


def with_date(date, row):
    return [[date, *row[1:]]]


IN_FAHRENHEIT = [
    [date, fahrenheit(tmin), fahrenheit(tmax), *rest]
    for date, tmin, tmax, *rest in ROWS
]
NO_LEAP_DAY = [row for row in ROWS if row[0] != "2024-02-29"]
RELABELLED = [row for row in ROWS if row[0][:4] != "2023"] + year("2021", "2023")

REFUSED = {
    "empty": (b"", "is empty"),
    "only a heading": (csv([]), "no days below the heading"),
    "cut off in a line": (csv(ROWS)[:-9], "the line looks cut off"),
    "cut off gzip": (gzip.compress(csv(ROWS))[:-99], "damaged or cut-off gzip"),
    "Latin-1": (csv(ROWS).replace(b"rain_mm", b"rain_\xb0"), "not UTF-8"),
    "UTF-16 without its mark": (csv(ROWS).decode().encode("utf-16-le"), "is not text"),
    "binary": (bytes(range(256)) * 50, "is not text"),
    "zip": (b"PK\x03\x04\x14\0\0\0\x08\0" * 9, "is not text"),
    "another text": (b"once upon a time\n" * 99, "no weather file we know"),
    "tmin and tmax swapped": (swapped("tmin_c", "tmax_c"), "swapped"),
    "rain and tmin swapped": (swapped("rain_mm", "tmin_c"), "another column"),
    "rain and pressure swapped": (swapped("rain_mm", "pressure_hpa"), "another column"),
    "rain and wind swapped": (swapped("rain_mm", "wind_m_s"), "another column"),
    "all rain negative": (
        csv(changed("rain_mm", "-{}".format)),
        "rain_mm is impossible",
    ),
    "Fahrenheit": (csv(IN_FAHRENHEIT), "degrees Fahrenheit"),
    "29 February 2023": (csv(ROWS[:9] + with_date("2023-02-29", ROWS[9])), "line 11"),
    "month 13": (csv(ROWS[:9] + with_date("2023-13-01", ROWS[9])), "line 11"),
    "year 9999": (csv(ROWS[:9] + with_date("9999-01-01", ROWS[9])), "line 11"),
    "American dates": (csv(with_date("2/28/2024", ROWS[0])), "line 2"),
    "infinite": (csv(changed("rain_mm", lambda cell: "inf", 9)), "rain_mm 'inf'"),
    "a decimal comma": (csv(ROWS).replace(b".", b","), "columns where the heading"),
    "a million rows": (csv(ROWS[:1] * 1_000_000), "1,000,000 rows"),
}
TOLD = {
    "a byte-order mark": (b"\xef\xbb\xbf" + csv(ROWS), None),
    "UTF-16": (csv(ROWS).decode().encode("utf-16"), None),
    "some rain negative": (csv(changed("rain_mm", lambda cell: "-2", 99)), "range"),
    "code 999": (csv(changed("rain_mm", lambda cell: "999", 99)), "range"),
    "some nights too warm": (csv(changed("tmin_c", lambda cell: "39", 99)), "order"),
    "no 29 February 2024": (csv(NO_LEAP_DAY), "missing_days"),
    "a year twice": (csv(ROWS + year("2020")), "duplicated_days"),
    "a year under another's name": (csv(RELABELLED), "repeated_year"),
    "two years as one": (csv(ROWS + year("2021", "2022")), "duplicated_days"),
    "back to front": (csv(ROWS[::-1]), None),
}


@pytest.fixture
def path(tmp_path):
    return tmp_path / "ann.csv"


@pytest.mark.parametrize(("content", "words"), REFUSED.values(), ids=REFUSED)
def test_a_file_bad_as_a_whole_is_refused_in_one_sentence(path, content, words):
    path.write_bytes(content)
    assert words in answer_or_sentence(path)


@pytest.mark.parametrize(("content", "check"), TOLD.values(), ids=TOLD)
def test_a_file_bad_in_places_is_answered_and_they_are_told(path, content, check):
    path.write_bytes(content)
    answer = answer_or_sentence(path)
    assert answer["days"] == len(ROWS)
    told = {suspect["check"] for suspect in answer["suspect"]}
    assert check is None or check in told


def test_a_folder_and_a_file_that_is_not_there_are_refused(tmp_path):
    assert "Is a directory" in answer_or_sentence(tmp_path)
    assert "No such file" in answer_or_sentence(tmp_path / ("nowhere" * 30))


def layouts():
    """The invented lines of the layouts' own tests, in bytes."""
    lines = {
        name: runpy.run_path(str(TESTS / f"feeds/weather/test_{name}.py"))
        for name in ("irish", "dutch", "ghcn", "epw", "mapped")
    }
    dutch = lines["dutch"]
    texts = [
        lines["irish"]["SHORT"],
        lines["irish"]["LONG"],
        dutch["PREAMBLE"] + dutch["HEADING"] + dutch["ROWS"],
        lines["ghcn"]["dly"](),
        lines["ghcn"]["by_element"](),
        lines["ghcn"]["by_day"](),
        lines["epw"]["TWO_DAYS"],
        lines["mapped"]["CSV"],
        csv(ROWS[:30]).decode(),
    ]
    return [text.encode() for text in texts], lines["mapped"]["COLUMNS"]


CONTENTS, COLUMNS = layouts()
PLAIN_BITS = b',|\n|"| |-|9|999|-9999|e9|nan|1_0|29-feb-2023|20230229|#|;|.'.split(b"|")
BITS = st.sampled_from([b"", b"\0", b"\xff", "\u2028".encode(), *PLAIN_BITS])


@st.composite
def damaged(draw):
    """A file of a layout with cuts, bits put in, and lines doubled or moved."""
    content = draw(st.sampled_from(CONTENTS))
    for _ in range(draw(st.integers(1, 5))):
        start = draw(st.integers(0, len(content)))
        end = start + draw(st.sampled_from([0, 0, 1, 3, 20, 10_000]))
        content = content[:start] + draw(BITS) + content[end:]
    lines = content.split(b"\n")
    lines += draw(st.lists(st.sampled_from(lines), max_size=3))
    return b"\n".join(lines)


def holds_for(content, *options):
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "ann.csv"
        path.write_bytes(content)
        answer_or_sentence(path, *options)


def by_columns_file(content, columns):
    with tempfile.TemporaryDirectory() as folder:
        toml = Path(folder) / "ann.toml"
        toml.write_bytes(columns)
        holds_for(content, "--columns", toml)


def short(examples):
    return settings(
        max_examples=examples, deadline=None, suppress_health_check=list(HealthCheck)
    )


anything = st.binary(max_size=300) | st.text(max_size=300).map(str.encode)


@short(60)
@given(damaged() | anything)
def test_a_damaged_file_is_answered_or_refused(content):
    holds_for(content)


@pytest.mark.prove
@short(5000)
@given(damaged() | anything)
def test_many_damaged_files_are_answered_or_refused(content):
    holds_for(content)


@st.composite
def damaged_columns(draw):
    """A columns file with one thing of it another."""
    content, start = COLUMNS.encode(), draw(st.integers(0, len(COLUMNS)))
    other = draw(
        BITS | st.sampled_from([b"[]", b"{}", b"true", b"1e999", b"1979-05-27"])
    )
    return content[:start] + other + content[start + draw(st.integers(0, 12)) :]


@short(40)
@given(damaged_columns() | anything)
def test_a_damaged_columns_file_is_used_or_refused(columns):
    by_columns_file(CONTENTS[-2], columns)


@pytest.mark.prove
@short(3000)
@given(damaged_columns() | anything)
def test_many_damaged_columns_files_are_used_or_refused(columns):
    by_columns_file(CONTENTS[-2], columns)
