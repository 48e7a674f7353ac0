"""The pages of the drum and of labour, as the owner and a hand read them."""

import csv
import datetime
import io
import re
import uuid
from decimal import Decimal

import pytest

from sheafwright.records.services.threshing import Outturn, threshing_record
from sheafwright.records.services.work import labour_rate_set, labour_record

TODAY = datetime.date(2026, 12, 1)
FIRST = datetime.date(2026, 10, 5)
PAGE, LABOUR = "/marl-hollow/threshing/", "/marl-hollow/labour/"
REED_KG = (225, 228, 222, 226, 230, 224, 227, 223, 225, 229)


@pytest.fixture(autouse=True)
def in_december(marl):
    marl.looked_at_as_of = TODAY
    marl.save()


@pytest.fixture
def as_(client):
    def read(person, address=PAGE):
        client.force_login(person)
        return words(client.get(address))

    return read


def words(answer):
    assert answer.status_code == 200
    text = re.sub(r"<[^>]+>", " ", answer.content.decode())
    return " ".join(text.replace("&#x27;", "'").split())


@pytest.fixture
def threshed(writes, ricked):
    for number, reed in enumerate(REED_KG):
        gave = (
            Outturn("reed", reed, f"R{number}"),
            Outturn("grain", 145, f"G{number}"),
        )
        day = FIRST + datetime.timedelta(number)
        writes(threshing_record, rick=ricked, date=day, outturn=gave, kg=500)


def test_an_empty_page_says_so(ann, as_):
    said = as_(ann)
    assert "Nothing threshed yet." in said
    assert "Without a weather record nobody can tell which days are fit." in said


def test_the_headline_says_which_rick_is_next(ann, as_, ricked):
    said = as_(ann)
    assert "Barn end goes to the drum next, once it has been probed" in said
    assert "probe it first" in said
    assert "No order in the book waits for a rick" in said


def test_days_and_runs_of_ones_own_are_told(ann, as_, threshed):
    said = as_(ann)
    assert "On your own last 10 days at the drum 500" in said
    assert "It gave as your own 9 runs before it did." in said


def test_a_badly_set_comb_shows_as_soon_as_the_run_is_written(
    client, ben, ricked, threshed
):
    client.force_login(ben)
    said = {
        "id": uuid.uuid4(),
        "date": TODAY.isoformat(),
        "rick": ricked.pk,
        "kg": "500 kg",
        "combed": "on",
        "reed_weight_kg": "170 kg",
        "reed_lot": "R-bad",
        "grain_weight_kg": "145 kg",
        "grain_lot": "G-bad",
    }
    answer = client.post("/marl-hollow/write/threshing/", said, follow=True)
    page = words(answer)
    assert "Written down." in page
    assert page.count("Reed 34%, below the lower limit of") >= 3
    assert "Before the next rick: Barn end, " in page
    assert "Look at the comb's setting before the next rick." in page


def test_the_sheet_of_the_day_is_a_paper(client, ben, ricked):
    client.force_login(ben)
    answer = client.get("/marl-hollow/threshing/day.pdf")
    assert b"".join(answer.streaming_content).startswith(b"%PDF")


@pytest.fixture
def worked(writes, threshed):
    writes(labour_rate_set, since=FIRST, rate=Decimal("12.50"))
    said = {"job": "=comb", "task": "threshing", "date": FIRST}
    writes(labour_record, who="Ben", hours=8, **said)


def test_labour_is_told_by_task_person_and_lot(ann, as_, worked):
    said = as_(ann, LABOUR)
    assert "Harvest of 2026: 8.0 hours, £100." in said
    assert "3.5 hours a tonne of straw, 4.0 hours a hectare." in said
    for heading in ("By task", "By person", "By lot"):
        assert heading in said
    assert "shared among what the drum gave that day, by weight" in said


def test_an_acre_is_told_to_whom_thinks_in_acres(ann, as_, worked):
    ann.units = "imperial"
    ann.save()
    assert "1.6 hours an acre." in as_(ann, LABOUR)


def test_an_empty_labour_book_says_so(ann, as_):
    said = as_(ann, LABOUR)
    assert "No hours are written down yet." in said
    assert "Nothing is sown or planned for the next harvest yet." in said


def test_the_next_season_is_told_week_by_week(marl, ann, as_, sowing):
    marl.looked_at_as_of = datetime.date(2026, 3, 1)
    marl.save()
    said = as_(ann, LABOUR)
    assert "The harvest of 2026, 2 ha of wheat, takes about" in said
    assert "Hours a week" in said


def test_hours_come_as_csv_that_no_spreadsheet_runs(client, ann, worked):
    client.force_login(ann)
    answer = client.get(f"{LABOUR}hours.csv?year=2026")
    text = b"".join(answer.streaming_content).decode("utf-8-sig")
    heading, line = list(csv.reader(io.StringIO(text)))
    assert heading[:5] == ["Day", "Who", "Task", "At what", "Hours"]
    assert line[:5] == ["2026-10-05", "Ben", "threshing and combing", "'=comb", "8.0"]
    assert line[5:7] == ["12.50", "100.00"]
    assert line[8] == "G0, R0"


@pytest.mark.parametrize("year", ["", "x", "99999", "١"])
def test_a_year_that_is_none_shows_the_last(ann, as_, worked, year):
    assert "Harvest of 2026" in as_(ann, f"{LABOUR}?year={year}")


def test_wages_are_not_for_hands(client, ben, worked):
    client.force_login(ben)
    assert client.get(LABOUR).status_code == 404
    assert client.get(f"{LABOUR}hours.csv").status_code == 404
