"""The drum from the book: which rick next, what runs gave, days and crew, the sheet."""

import datetime
import uuid

import pytest

from sheafwright.documents.drum_day import drum_day_pdf
from sheafwright.records.models import Loss, Movement, Place, Rick, WeatherSource
from sheafwright.records.papers.drum_day import drum_day_of
from sheafwright.records.selectors.drum_order import kg_in_ricks, order_of_ricks
from sheafwright.records.selectors.runs import (
    days_at_drum,
    last_run_told,
    own_rates,
    runs_checked,
)
from sheafwright.records.services.crop import observation_record
from sheafwright.records.services.hands import (
    briefing_record,
    coming_say,
    hand_add,
    machine_add,
)
from sheafwright.records.services.stock import entry_undo, loss_record
from sheafwright.records.services.store import rick_reading_record
from sheafwright.records.services.threshing import Outturn, threshing_record
from sheafwright.records.services.work import labour_record

TODAY = datetime.date(2026, 12, 1)
THRESHED = datetime.date(2026, 10, 5)
RUN_KG = 500
REED_KG = (225, 228, 222, 226, 230, 224, 227, 223, 225, 229)
DAY = datetime.timedelta(1)


@pytest.fixture(autouse=True)
def in_december(marl):
    marl.looked_at_as_of = TODAY
    marl.save()


def of_kg(reed, number):
    return (
        Outturn("reed", reed, f"R{number}"),
        Outturn("grain", 145, f"G{number}"),
        Outturn("waste", RUN_KG - reed - 145),
    )


@pytest.fixture
def thresh(writes, ricked):
    """A run of 500 kg a day, from the first day on."""

    def thresh(*reeds, first=0):
        for number, reed in enumerate(reeds, first):
            gave = of_kg(reed, number)
            said = {"date": THRESHED + number * DAY, "outturn": gave, "kg": RUN_KG}
            last = writes(threshing_record, rick=ricked, **said)
        return last

    return thresh


def test_a_run_is_held_against_those_before_it_alone(marl, thresh):
    thresh(*REED_KG)
    thresh(170, first=10)
    last, *before = runs_checked(holding=marl, most=20)
    assert last.is_odd
    assert last.check.runs == 10
    assert "Reed 34%, below the lower limit of" in last.check.sentence
    assert [each.check.runs for each in before] == list(range(9, -1, -1))


def test_the_entry_is_answered_with_what_is_odd_of_it(marl, thresh):
    thresh(*REED_KG)
    assert last_run_told(marl) is None
    thresh(170, first=10)
    assert "Look at the comb's setting" in last_run_told(marl)


def test_a_run_undone_sets_no_limit(marl, writes, thresh):
    wrong = Movement.objects.get(pk=thresh(300).pk)
    writes(entry_undo, movement=wrong, date=TODAY, note="typed wrong")
    thresh(*REED_KG, first=1)
    assert runs_checked(holding=marl, most=1)[0].check.runs == 9


def test_long_straw_is_held_against_long_straw(marl, writes, ricked, thresh):
    thresh(*REED_KG)
    gave = (Outturn("long_straw", 300, "L"), Outturn("grain", 140, "GL"))
    writes(
        threshing_record,
        rick=ricked,
        date=TODAY,
        kg=RUN_KG,
        combed=False,
        outturn=gave,
    )
    assert runs_checked(holding=marl, most=1)[0].check.runs == 0


def test_a_day_at_the_drum_has_its_crew_and_its_weights(marl, writes, thresh):
    thresh(225)
    for who, hours in (("Ann", 8), ("ann ", 1), ("Ben", 6)):
        said = {"date": THRESHED, "task": "threshing", "job": "comb", "hours": hours}
        writes(labour_record, who=who, **said)
    writes(labour_record, date=THRESHED, who="Dan", hours=9, job="rats", task="upkeep")
    [day] = days_at_drum(holding=marl)
    assert (day.crew, day.hours) == (2, 15)
    assert (day.kg, day.straw_kg, day.grain_kg) == (500, 225, 145)
    assert own_rates([day]) == (500,)


def test_a_rick_of_many_days_written_as_one_is_no_day_s_work(marl, writes, ricked):
    gave = (Outturn("reed", 9000, "R"), Outturn("grain", 5000, "G"))
    writes(threshing_record, rick=ricked, date=THRESHED, outturn=gave)
    assert own_rates(days_at_drum(holding=marl)) == ()


def test_the_next_rick_is_the_one_that_stands(marl, writes, ricked, sowing):
    seen = {"sowing": sowing, "date": datetime.date(2026, 7, 20)}
    writes(observation_record, height_cm=130, lodged_pct=5, **seen)
    at = datetime.datetime(2026, 11, 30, 8, tzinfo=datetime.UTC)
    writes(rick_reading_record, rick=ricked, at=at, temperature_c=18)
    order = order_of_ricks(holding=marl)
    assert order.sentence.startswith("Barn end goes to the drum next: comb it.")
    assert order.turns[0].why_so == ("It has about 1.08 m of straw and 5% of it lay.",)
    assert kg_in_ricks(holding=marl) == 9000


def test_a_rick_never_probed_is_probed_first(marl, ricked):
    [turn] = order_of_ricks(holding=marl).turns
    assert turn.probe_first


def test_a_rick_that_climbs_is_told_by_its_heat_alone(marl, writes, ricked):
    for day, heat in ((29, 40), (30, 47)):
        at = datetime.datetime(2026, 11, day, 8, tzinfo=datetime.UTC)
        writes(rick_reading_record, rick=ricked, at=at, temperature_c=heat)
    [turn] = order_of_ricks(holding=marl).turns
    assert turn.why[0].startswith("It heats, 47 °C and rising by 7.0 °C a day")


def test_a_hot_rick_is_barred(marl, writes, ricked):
    at = datetime.datetime(2026, 11, 30, 8, tzinfo=datetime.UTC)
    writes(rick_reading_record, rick=ricked, at=at, temperature_c=62)
    assert order_of_ricks(holding=marl).next is None


def test_rats_and_a_bad_grower_s_word_are_told(marl, writes, ricked):
    Rick.objects.filter(pk=ricked.pk).update(fit_to_comb=False)
    place = Place.objects.get(kind="rick", subject=ricked.pk)
    said = {"by": Loss.By.RATS, "counted_as": "vermin", "place": place, "kg": 10}
    writes(loss_record, date=datetime.date(2026, 11, 20), **said)
    [turn] = order_of_ricks(holding=marl).turns
    assert "Rats or mice were in it on 20 November." in turn.why
    assert not turn.combed


def test_an_empty_rick_waits_for_nothing(marl, rick):
    assert order_of_ricks(holding=marl).turns == ()


@pytest.fixture
def crew(writes):
    """Tom, who was shown the drum and comes; Una, who was not and doesn't say."""
    may = {"may_thresh": True}
    tom, _una = (writes(hand_add, name=name, **may) for name in ("Tom", "Una"))
    drum = writes(machine_add, kind="drum", name="The drum")
    said = {"hand": tom, "machine": drum, "date": TODAY, "by": "Ann", "signed": True}
    writes(briefing_record, **said)
    return tom


def test_the_sheet_names_those_who_come(marl, writes, ricked, crew):
    writes(coming_say, hand=crew, date=TODAY)
    assert drum_day_of(holding=marl, units="metric").hands == ("Tom",)


def test_where_nobody_says_so_it_names_all_who_may(marl, ricked, crew):
    assert drum_day_of(holding=marl, units="metric").hands == (
        "Tom",
        "Una: show them the drum first, and sign",
    )


def test_the_sheet_has_the_rick_the_target_and_what_can_hurt(marl, thresh):
    thresh(*REED_KG)
    said = drum_day_of(holding=marl, units="imperial")
    assert said.rick.startswith("Barn end, 3.94\xa0tons: ")
    assert "by your own" in said.target[0]
    cautions = " ".join(said.cautions)
    for word in ("belt", "farmer's lung", "Ear protection", "smoking", "trained"):
        assert word in cautions
    assert drum_day_pdf(said).startswith(b"%PDF")


def test_without_ricks_and_hands_the_sheet_is_to_be_filled(marl):
    said = drum_day_of(holding=marl, units="metric")
    assert said.rick == "No rick may be opened today"
    assert said.hands and all(set(line) == {"."} for line in said.hands)
    assert said.target[0] == "Reed 40 to 50% of the sheaves' weight is usual."


def test_the_winter_is_due_of_the_ricks_and_the_rate(marl, ann, thresh, tmp_path):
    from django.core.files.base import ContentFile

    from sheafwright.records.due import common_asks
    from sheafwright.records.due.comb_winter import comb_winter_due

    thresh(*REED_KG)
    source = WeatherSource.objects.create(
        id=uuid.uuid4(),
        holding=marl,
        made_by=ann,
        name="Here",
        record=ContentFile(b"date\n", "weather.csv"),
    )
    common = common_asks(marl, source)
    due = comb_winter_due(source, common)
    assert due.asks["kg"] == 4000
    assert due.asks["own_days"] == (500,) * 10
    thresh(225, first=10)
    assert comb_winter_due(source, common).inputs_sha256() != due.inputs_sha256()
