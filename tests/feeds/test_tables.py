"""Parameter tables: what is read, what is refused, and in which words."""

import dataclasses
from pathlib import Path

import pytest

from sheafwright.core.errors import UnreadableInput
from sheafwright.core.inputs.losses import Drying, Ripeness, StookLosses
from sheafwright.feeds import tables

JUDGING = Path(__file__).parents[2] / "../shared/data/judging/losses.toml"


@dataclasses.dataclass(frozen=True)
class Stook:
    rate: float
    limits: tuple[float, ...]
    free_days: int = 10


ROW = """
[stook]
rate = { value = 0.27, unit = "d-1", standing = "from memory", source = "Ann 1999" }
limits = { value = [1.0, 5.0], unit = "mm", standing = "assumed", source = "" }
"""


def stook(text):
    return tables.build(Stook, tables.parse(text, "ann.toml")["stook"], "ann.toml")


def test_a_table_fills_the_dataclass_field_by_field():
    assert stook(ROW) == Stook(rate=0.27, limits=(1.0, 5.0), free_days=10)


def test_a_row_keeps_its_unit_standing_and_source():
    row = tables.parse(ROW, "ann.toml")["stook"]["rate"]
    assert (row.unit, row.standing, row.source) == ("d-1", "from memory", "Ann 1999")
    assert row.table == "ann.toml [stook]"


def test_a_growers_bare_value_counts_as_assumed():
    row = tables.parse("[stook]\nrate = 0.3", "ann.toml")["stook"]["rate"]
    assert (row.value, row.standing) == (0.3, "assumed")


REFUSED = {
    "[stook": "ann.toml is not a TOML file",
    "[stook]\nrate = {value = 1, standing = 'certain'}": "rate has standing 'certain'",
    "[stook]\nrate = {unit = 'd-1'}": "rate should be a value, or a row",
    "[stook]\nrate = {value = 1, colour = 'red'}": "rate should be a value, or a row",
    "[stook]\nrate = 0.3": "ann.toml lacks limits",
    ROW + "colour = 1": "ann.toml has colour, which nothing reads",
    f"[stook]\nlimits = [1.0]\nrate = 1{'0' * 400}": "it should be a number",
    f"[stook]\nrate = 1{'0' * 5000}": "ann.toml is not a TOML file",
}


@pytest.mark.parametrize(("text", "words"), REFUSED.items(), ids=REFUSED.values())
def test_a_table_that_cannot_be_used_is_refused_in_words(text, words):
    with pytest.raises(UnreadableInput) as refusal:
        stook(text)
    assert words in str(refusal.value)


def test_a_refused_standing_names_those_that_may_stand():
    with pytest.raises(UnreadableInput, match="published, from memory"):
        tables.parse("[s]\nr = {value = 1, standing = 'sure'}", "ann.toml")


def test_a_growers_file_is_read_like_a_shipped_table(tmp_path):
    path = tmp_path / "ann.toml"
    path.write_text(ROW, encoding="utf-8")
    assert tables.read_file(path)["stook"]["rate"].value == 0.27


@pytest.mark.parametrize(
    ("content", "says"),
    [(None, "cannot be read .No such file"), (b"rate = 0.3 \xb0C", "read as UTF-8")],
)
def test_a_file_that_cannot_be_read_is_named(tmp_path, content, says):
    path = tmp_path / "ann.toml"
    if content:
        path.write_bytes(content)
    with pytest.raises(UnreadableInput, match=f"ann.toml .*{says}"):
        tables.read_file(path)


def test_a_shipped_table_is_read_once():
    assert tables.shipped("development") is tables.shipped("development")


@pytest.mark.skipif(not JUDGING.exists(), reason="needs ../shared/data/judging")
def test_the_judging_table_fills_the_losses():
    table = tables.read_file(JUDGING)
    for section, kind in [
        ("ripeness", Ripeness),
        ("stook", StookLosses),
        ("drying", Drying),
    ]:
        tables.build(kind, table[section], str(JUDGING))
