"""Tables as pages show them: what stands open, is folded, or left out on a phone."""

import pytest
from django.template.loader import render_to_string

from sheafwright.web.tables import Column, Link, Table
from sheafwright.web.templatetags.said import codes_whole
from sheafwright.web.tracing import FEW, Row, parted

COLUMNS = (Column("Lot"), Column("Weight", True), Column("Why"))


def table(count, **said):
    rows = tuple((f"24-{n:02}", f"{n}\u00a0kg", "–") for n in range(count))
    return Table(COLUMNS, rows, **said)


def drawn(table):
    return render_to_string("web/parts/_table.html", {"table": table})


@pytest.mark.parametrize(
    ("count", "shown", "is_open"), [(9, 0, 9), (9, 3, 3), (4, 3, 4), (5, 3, 3)]
)
def test_of_many_rows_the_first_stand_open(count, shown, is_open):
    made = table(count, shown=shown)
    assert len(made.open_lines()) == is_open
    assert len(made.open_lines()) + len(made.folded_lines()) == count
    assert ("<details" in drawn(made)) is (is_open < count)


def test_what_is_folded_is_on_the_page_and_counted():
    page = drawn(table(9, shown=3))
    assert "6 more" in page
    assert all(f"24-{n:02}" in page for n in range(9))


def test_a_code_is_never_broken_nor_a_dash_read_on_a_phone():
    (first, weight, why), *_ = table(1).open_lines()
    assert (first[2], weight[2], why[2]) == ("whole", "n whole", "none whole")


def test_a_column_of_long_words_is_read_below_its_heading():
    rows = ((Link("24-01", "/lot/"), "1", "because " * 9), ("24-02", "2", "so it is"))
    said = Table(COLUMNS, rows).open_lines()
    assert [row[2][2] for row in said] == ["long", "long"]
    assert "long" not in said[0][0][2]


def test_no_address_is_touched_where_a_code_is_held_whole():
    said = codes_whole('<a href="/24-16/">24-16</a> and O-0001')
    whole = '<span class="whole">{}</span>'.format
    assert said == f'<a href="/24-16/">{whole("24-16")}</a> and {whole("O-0001")}'


def stems(count, odd=()):
    return [Row(n, f"Stem {n}", n not in odd, "", (), n in odd) for n in range(count)]


def test_of_many_stems_the_odd_ones_stand_open():
    shown, folded = parted(stems(30, odd={4, 17}))
    assert [row.number for row in shown] == [4, 17]
    assert len(folded) == 28


def test_few_stems_stand_open_all():
    assert parted(stems(FEW)) == (stems(FEW), [])
