"""What holds for the repository as a whole: its text, its tables, its locks."""

import re
import runpy
import subprocess
import tomllib
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from packaging.requirements import Requirement

from sheafwright.feeds import weather
from sheafwright.feeds.tables import STANDINGS
from sheafwright.feeds.weather.variables import VARIABLES

ROOT = Path(__file__).parents[1]
TABLES = sorted((ROOT / "src/sheafwright/data").glob("*.toml"))
SOURCED = {"published", "from memory"}

# A letter or dot in brackets keeps a pattern from matching its own line.
FOREIGN = {
    "a path of one machine": r"/(work|root|home|Users)/",
    "a package registry's host": r"pypi[.]org|pythonhosted[.]|[n]pmjs|[i]ndex-url",
    "work left undone": r"\b([T]ODO|[F]IXME)\b",
}
FOUND = ["see /home" + "/ann", "https://pypi" + ".org/simple", "# TO" + "DO: rain"]


def text_files():
    listed = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.splitlines()
    for name in listed:
        content = (ROOT / name).read_bytes() if (ROOT / name).is_file() else b"\0"
        if b"\0" not in content:
            yield name, content.decode("utf-8", errors="replace")


def lines_with(pattern):
    for name, text in text_files():
        for number, line in enumerate(text.splitlines(), 1):
            if re.search(pattern, line):
                yield f"{name}:{number}: {line.strip()[:80]}"


@pytest.mark.skipif(not (ROOT / ".git").exists(), reason="needs the list of files kept")
@pytest.mark.parametrize("pattern", FOREIGN.values(), ids=FOREIGN)
def test_no_file_holds(pattern):
    assert list(lines_with(pattern)) == []


@pytest.mark.parametrize(
    ("pattern", "line"), list(zip(FOREIGN.values(), FOUND, strict=True))
)
def test_what_no_file_may_hold_is_recognised(pattern, line):
    assert re.search(pattern, line)


def rows(path):
    document = tomllib.loads(path.read_text("utf-8"))
    for section, entries in document.items():
        yield from ((f"[{section}] {name}", row) for name, row in entries.items())


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.name)
def test_every_table_row_has_value_unit_standing_and_source(path):
    wanted = {"value", "unit", "standing", "source"}
    assert [name for name, row in rows(path) if set(row) != wanted] == []
    assert [name for name, row in rows(path) if not row["unit"].strip()] == []
    assert [n for n, row in rows(path) if row["standing"] not in STANDINGS] == []


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.name)
def test_every_row_that_rests_on_a_text_names_it(path):
    sourced = {name: row for name, row in rows(path) if row["standing"] in SOURCED}
    assert [name for name, row in sourced.items() if not row["source"].strip()] == []


def locked():
    lines = (ROOT / "constraints.txt").read_text("utf-8").splitlines()
    return dict(line.split("==") for line in lines if not line.startswith("#"))


def dependencies():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    return project["dependencies"] + project["optional-dependencies"]["test"]


@pytest.mark.parametrize("dependency", dependencies())
def test_every_dependency_is_locked_within_its_bounds(dependency):
    wanted = Requirement(dependency)
    assert wanted.specifier.contains(locked()[wanted.name.replace("_", "-")])


CHECK_TABLES = runpy.run_path(str(ROOT / "tools/check_tables.py"))


def test_the_pages_show_the_check_values_the_tests_prove():
    stale = [
        path.name
        for path, text in CHECK_TABLES["pages"]()
        if path.read_text("utf-8") != text
    ]
    assert not stale, f"run make docs: {stale} no longer show what the tests check"


def test_every_file_of_checks_is_shown_on_a_page():
    files = {path.stem for path in (ROOT / "tests/core/checks").glob("*.toml")}
    asked = CHECK_TABLES["ASKED"].findall(
        "".join(
            path.read_text("utf-8") for path in (ROOT / "docs/science").glob("*.md")
        )
    )
    assert files <= {name for _, names, _ in asked for name in names.split(", ")}


def test_a_bar_inside_a_source_does_not_end_its_cell():
    assert CHECK_TABLES["line"](["a | b", "c"]) == "| a \\| b | c |"


DEMO = ROOT / "src/sheafwright/data/demo"
MAKE_WEATHER = runpy.run_path(str(ROOT / "tools/make_demo_weather.py"))


@pytest.fixture(scope="module")
def demo_weather():
    return pd.read_csv(DEMO / "weather.csv.gz", index_col="date", parse_dates=True)


def has_dry_week(rain):
    return (rain.rolling(7).max() < 1.0).any()


def test_the_demo_weather_is_what_its_maker_makes(demo_weather):
    made = MAKE_WEATHER["weather"](np.random.default_rng(MAKE_WEATHER["SEED"]))
    # The last digit may round the other way on another machine.
    np.testing.assert_allclose(demo_weather, made, rtol=0, atol=0.11)


def test_about_half_of_the_demo_augusts_hold_a_dry_week(demo_weather):
    august = demo_weather.rain_mm[demo_weather.index.month == 8]
    assert 0.4 < august.groupby(august.index.year).apply(has_dry_week).mean() < 0.6


def test_the_demo_rain_is_that_of_a_maritime_place(demo_weather):
    yearly = demo_weather.rain_mm.groupby(demo_weather.index.year).sum()
    assert 760 < yearly.mean() < 840
    assert yearly.min() > 450


def test_yesterdays_demo_pressure_foretells_todays_rain(demo_weather):
    yesterday = demo_weather.pressure_hpa.shift(1)
    wet = (demo_weather.rain_mm >= 1.0).groupby(yesterday > yesterday.median()).mean()
    assert wet[False] > 1.5 * wet[True]


def test_the_demo_record_is_read_through_its_columns_without_a_doubt():
    examined = weather.examine(DEMO / "weather.csv.gz", columns=DEMO / "columns.toml")
    assert examined.suspects == ()
    assert examined.record.station == "Marl Hollow"
    assert (examined.record.latitude, examined.record.days) == (52.4, 11323)


def test_every_variable_of_a_record_has_its_name_in_the_nomenclature():
    page = (ROOT / "docs/reference/nomenclature.md").read_text("utf-8")
    assert [name for name in VARIABLES if f"`{name}`" not in page] == []


PAGES = [*ROOT.glob("*.md"), *(ROOT / "docs").rglob("*.md")]


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_every_link_of_a_page_leads_somewhere(page):
    links = re.findall(r"\]\((?!https?:)([^)#]+)", page.read_text("utf-8"))
    assert [link for link in links if not (page.parent / link).exists()] == []
