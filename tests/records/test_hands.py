"""Who comes, with which machines, and what stands against it."""

import datetime

import pytest
from django.core.exceptions import ValidationError

from sheafwright.records import hands_wording as wording
from sheafwright.records.errors import NotOurs, SaidOtherwise
from sheafwright.records.papers.stook_card import stook_card_of
from sheafwright.records.selectors.against import against_work
from sheafwright.records.selectors.hands import (
    HalfDay,
    briefed,
    half_days,
    hands_now,
    who_comes,
)
from sheafwright.records.selectors.machines import (
    insurance_now,
    machines_now,
    tying_now,
)
from sheafwright.records.selectors.today import jobs_today
from sheafwright.records.selectors.work import owed_both_ways
from sheafwright.records.services.hands import (
    briefing_record,
    coming_say,
    hand_add,
    hand_tasks_set,
    insurance_add,
    machine_add,
    machine_check_record,
    machine_move,
    spare_count,
    tying_record,
)
from sheafwright.records.services.inspection import cleaning_record
from sheafwright.records.services.work import labour_record

TODAY = datetime.date(2026, 7, 30)
PARTS = ("canvas", "knotter", "knife", "belts", "guards")


def on(day, month=7):
    return datetime.date(2026, month, day)


@pytest.fixture(autouse=True)
def day(marl):
    marl.looked_at_as_of = TODAY
    marl.save()


@pytest.fixture
def tom(write):
    return write(hand_add, name="Tom", may_bind=True, may_stook=True)


@pytest.fixture
def binder(write):
    return write(machine_add, kind="binder", name="Old binder", cut_width_m=1.8)


@pytest.fixture
def drum(write):
    return write(machine_add, kind="drum", name="The drum")


def comes(holding, **asked):
    return {
        each.half_day: [h.name for h in each.comes]
        for each in who_comes(holding=holding, **asked)
    }


def test_half_days_come_in_the_order_of_the_day():
    assert half_days(TODAY, 2) == (
        (TODAY, "morning"),
        (TODAY, "afternoon"),
        (on(31), "morning"),
        (on(31), "afternoon"),
    )


def test_a_word_for_several_days_holds_on_each_of_them(marl, write, tom):
    write(coming_say, hand=tom, date=on(31), until=on(2, 8), when="morning")
    came = comes(marl)
    assert [half for half, names in came.items() if names] == [
        HalfDay(day, "morning") for day in (on(31), on(1, 8), on(2, 8))
    ]


def test_of_two_words_the_later_counts(marl, write, tom):
    write(coming_say, hand=tom, date=TODAY)
    write(coming_say, hand=tom, date=TODAY, when="afternoon", can_come=False)
    morning, afternoon = who_comes(holding=marl, days=1)
    assert [h.name for h in morning.comes] == ["Tom"]
    assert [h.name for h in afternoon.away] == ["Tom"]


def test_who_said_nothing_is_neither_coming_nor_away(marl, tom):
    morning, *_rest = who_comes(holding=marl, days=1)
    assert [h.name for h in morning.unsaid] == ["Tom"]
    assert not morning.comes
    assert not morning.away


def test_what_a_hand_may_do_changes_from_a_day_on(marl, write, tom):
    write(hand_tasks_set, hand=tom, since=on(20), may_cart=True)
    before, now = (hands_now(holding=marl, day=day) for day in (on(19), None))
    assert before[0].may == {"binding", "stooking"}
    assert now[0].may == {"carting"}


def test_one_who_comes_no_more_is_not_waited_for(marl, write, tom):
    write(coming_say, hand=tom, date=TODAY)
    write(hand_tasks_set, hand=tom, since=on(29), gone=True)
    assert hands_now(holding=marl) == ()
    assert not any(comes(marl).values())


def test_only_who_may_do_a_task_is_told_for_it(marl, write, tom):
    amy = write(hand_add, name="Amy", farm="Lower Farm", may_cart=True)
    for each in (tom, amy):
        write(coming_say, hand=each, date=TODAY)
    morning, *_rest = who_comes(holding=marl, days=1)
    assert [h.name for h in morning.who_may("carting")] == ["Amy"]


@pytest.mark.parametrize(
    ("said", "about", "sentence"),
    [
        ({"until": on(29)}, "until", "2026-07-29 is before 2026-07-30, when it begins"),
        ({"until": on(30, 11)}, "until", "say at most 62 at once"),
        ({"date": datetime.date(2028, 1, 1)}, "date", "more than a year away"),
        ({"when": "night"}, "when", "not a valid choice"),
    ],
)
def test_odd_days_are_refused(said, about, sentence, write, tom):
    with pytest.raises(ValidationError) as refused:
        write(coming_say, hand=tom, **{"date": TODAY} | said)
    assert sentence in refused.value.message_dict[about][0]


@pytest.mark.parametrize("name", ["Tom", "tom "])
def test_a_name_is_written_down_once(name, write, tom):
    with pytest.raises(ValidationError, match="is written down already"):
        write(hand_add, name=name)


def test_a_hand_sent_twice_is_one_hand(marl, write, tom):
    said = {"name": "Tom", "may_bind": True, "may_stook": True}
    assert write(hand_add, id=tom.pk, **said) == tom
    with pytest.raises(SaidOtherwise):
        write(hand_add, id=tom.pk, **said | {"may_bind": False})
    assert len(hands_now(holding=marl)) == 1


def test_a_hand_signs_in_only_as_one_of_ours(write, cleo):
    with pytest.raises(NotOurs, match="no such person on this holding"):
        write(hand_add, name="Cleo", person=cleo)


def test_only_a_binder_has_a_width_to_cut(write):
    with pytest.raises(ValidationError, match="Only a binder cuts"):
        write(machine_add, kind="drum", name="The drum", cut_width_m=1.8)


def test_the_june_check_is_asked_for_until_every_part_is_seen(marl, write, binder):
    asked = lambda: machines_now(holding=marl)[0].wants_check  # noqa: E731
    everything = dict.fromkeys(PARTS, "sound")
    write(machine_check_record, machine=binder, date=on(31, 5), **everything)
    assert asked()
    write(machine_check_record, machine=binder, date=on(12, 6), canvas="worn")
    assert asked()
    rest = everything | {"canvas": ""}
    write(machine_check_record, machine=binder, date=on(13, 6), **rest)
    assert not asked()
    assert machines_now(holding=marl)[0].worn == ("canvas",)


def test_before_june_no_check_is_asked_for(marl, binder):
    marl.looked_at_as_of = on(31, 5)
    assert not machines_now(holding=marl)[0].wants_check


def test_a_part_is_as_it_was_last_seen(marl, write, binder):
    write(machine_check_record, machine=binder, date=on(12, 6), knotter="broken")
    assert machines_now(holding=marl)[0].broken == ("knotter",)
    write(machine_check_record, machine=binder, date=on(14, 6), knotter="sound")
    now = machines_now(holding=marl)[0]
    assert now.is_ready
    assert now.checked == on(14, 6)


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({}, "This entry says nothing"),
        ({"canvas": "sound"}, "A threshing drum has no canvas; leave that out."),
        ({"belts": "torn"}, "not a valid choice"),
        ({"belts": "worn", "date": on(31)}, "is still to come"),
    ],
)
def test_an_odd_check_is_refused(said, sentence, write, drum):
    with pytest.raises(ValidationError, match=sentence):
        write(machine_check_record, machine=drum, **{"date": TODAY} | said)


def test_a_shared_binder_is_cleaned_down_when_it_comes_back(marl, write, binder):
    wants = lambda: machines_now(holding=marl)[0].wants_cleaning  # noqa: E731
    write(machine_move, machine=binder, since=on(20), holder="Lower Farm")
    assert not wants()
    write(machine_move, machine=binder, since=on(25), stands="the barn")
    assert wants()
    about = {"what": "Old binder", "how": "brushed and blown", "machine": binder}
    write(cleaning_record, date=on(24), **about)
    assert wants()
    write(cleaning_record, date=on(25), **about)
    assert not wants()


def test_a_machine_gone_for_good_is_told_of_no_more(marl, write, binder):
    write(machine_move, machine=binder, since=on(20), gone=True)
    assert machines_now(holding=marl) == ()


def test_spares_are_as_they_were_last_counted(marl, write, binder):
    about = {"machine": binder, "part": "knotter", "what": "bill hook"}
    write(spare_count, date=on(1), count=2, **about)
    write(spare_count, date=on(2), count=1, holder="Lower Farm", **about)
    write(spare_count, date=on(9), count=0, **about | {"what": "Bill hook "})
    (spare,) = machines_now(holding=marl)[0].spares
    assert (spare.count, spare.holder, spare.name) == (1, "Lower Farm", "bill hook")
    assert machines_now(holding=marl)[0].spares_for("knotter") == 1


def test_only_a_signed_briefing_of_this_year_counts(marl, write, tom, binder, drum):
    write(briefing_record, hand=tom, machine=binder, date=on(1), by="Ann", signed=True)
    write(briefing_record, hand=tom, machine=drum, date=on(1), by="Ann")
    assert briefed(holding=marl) == {(tom.pk, binder.pk)}
    assert briefed(holding=marl, year=2027) == frozenset()


def test_ties_and_twine_of_a_year_are_put_together(marl, write, binder):
    said = {"machine": binder, "date": on(28)}
    write(tying_record, sheaves=100, mis_ties=6, **said)
    write(tying_record, sheaves=300, mis_ties=2, **said)
    write(tying_record, twine_kg=3, area_ha=1.2, **said)
    tied = tying_now(holding=marl)
    assert tied.watched == 400
    assert tied.mis_ties_in_100 == pytest.approx(2)
    assert tied.twine_kg_per_ha == pytest.approx(2.5)
    assert tied.twine_kg_per_acre == pytest.approx(2.5 * 0.40468564224)


def test_of_what_nobody_counted_nothing_is_said(marl):
    assert tying_now(holding=marl) == (0, None, None)


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({}, "This entry says nothing"),
        ({"mis_ties": 2}, "Say of how many sheaves watched"),
        ({"mis_ties": 5, "sheaves": 4}, "5 untied of 4 watched"),
        ({"twine_kg": 2}, "Say on how much ground the twine went"),
    ],
)
def test_an_odd_count_of_ties_is_refused(said, sentence, write, binder):
    with pytest.raises(ValidationError, match=sentence):
        write(tying_record, machine=binder, date=TODAY, **said)


def test_a_drum_ties_no_sheaves(write, drum):
    with pytest.raises(ValidationError, match="Only a binder ties sheaves"):
        write(tying_record, machine=drum, date=TODAY, sheaves=9, mis_ties=1)


@pytest.mark.parametrize(
    ("runs_to", "ended", "soon"),
    [
        (on(29), True, False),
        (on(30), False, True),
        (on(29, 8), False, True),
        (on(30, 8), False, False),
    ],
)
def test_insurance_is_spoken_of_a_month_before_it_ends(
    runs_to, ended, soon, marl, write
):
    write(insurance_add, since=datetime.date(2025, 7, 30), runs_to=runs_to)
    now = insurance_now(holding=marl)
    assert (now.has_ended, now.ends_soon) == (ended, soon)


def test_of_two_insurances_the_longest_counts(marl, write):
    assert insurance_now(holding=marl) is None
    for runs_to in (on(1, 12), on(1, 8)):
        write(insurance_add, since=on(1, 1), runs_to=runs_to)
    assert insurance_now(holding=marl).insurance.runs_to == on(1, 12)
    assert insurance_now(holding=marl, covers="public") is None


def test_insurance_ends_after_it_begins(write):
    with pytest.raises(ValidationError, match="is before 2026-07-30, when it begins"):
        write(insurance_add, since=TODAY, runs_to=on(1))


def against(holding):
    return [wording.stands_against(each) for each in against_work(holding=holding)]


@pytest.fixture
def insured(write):
    write(insurance_add, since=on(1, 1), runs_to=on(31, 12))


def looked_over(write, machine, **found):
    said = dict.fromkeys(PARTS, "sound") | found
    write(machine_check_record, machine=machine, date=on(12, 6), **said)


def test_with_everything_in_order_nothing_stands_against_work(
    marl, write, tom, binder, insured
):
    looked_over(write, binder)
    write(spare_count, machine=binder, date=on(12, 6), part="knotter", count=1)
    write(briefing_record, hand=tom, machine=binder, date=on(1), by="Ann", signed=True)
    write(coming_say, hand=tom, date=TODAY)
    assert against(marl) == []


def test_what_stands_against_work_is_said_the_worst_first(marl, write, tom, binder):
    looked_over(write, binder, guards="broken", canvas="worn")
    write(machine_move, machine=binder, since=on(20), stands="the barn")
    write(coming_say, hand=tom, date=on(31))
    assert against(marl) == [
        "Old binder: guards broken or missing; don't run it so.",
        "Tom was not shown Old binder this year, or did not sign.",
        "No employers' liability insurance is written down.",
        "Old binder came back and was not cleaned down since.",
        "No spare knotter for Old binder.",
        "Old binder: canvas worn.",
    ]


def test_who_may_not_work_at_a_machine_need_not_be_shown_it(
    marl, write, tom, drum, insured
):
    write(coming_say, hand=tom, date=TODAY)
    assert against(marl) == ["The drum was not looked over since the first of June."]


def test_with_no_hands_no_insurance_is_missed(marl):
    assert against(marl) == []


def jobs(holding):
    return [job.says for job in jobs_today(holding=holding) if job.page == "hands"]


def test_today_tells_of_those_who_come_today_and_of_what_is_due(
    marl, write, tom, binder
):
    write(insurance_add, since=on(1, 1), runs_to=on(20, 8))
    write(coming_say, hand=tom, date=on(31))
    due = [
        "Old binder was not looked over since the first of June.",
        "Employers' liability insurance ends on 20 August 2026.",
    ]
    assert jobs(marl) == due
    write(coming_say, hand=tom, date=TODAY, when="afternoon")
    told = "Tom was not shown Old binder this year, or did not sign."
    assert jobs(marl) == [told, *due]


def test_days_owed_are_told_each_way_and_by_farm(marl, write):
    for name in ("Dan", "Eve"):
        write(hand_add, name=name, farm="Lower Farm")
    for who, hours, owed in (
        ("Dan", 8, "to_them"),
        ("eve ", 4, "to_them"),
        ("Dan", 16, "to_us"),
        ("Kit", 3, "to_us"),
        ("Tom", 9, "none"),
    ):
        about = {"date": TODAY, "job": "carts", "owed": owed}
        write(labour_record, who=who, hours=hours, **about)
    assert [
        (each.who, each.to_us, each.to_them) for each in owed_both_ways(holding=marl)
    ] == [("Kit", 3, 0), ("Lower Farm", 16, 12)]


@pytest.mark.parametrize(
    ("hours", "said"),
    [(0, "nothing"), (8, "1 day (8 h)"), (12, "1.5 days (12 h)")],
)
def test_hours_owed_are_said_in_days(hours, said):
    assert wording.days(hours, 8) == said


def test_the_stook_card_says_what_is_published_and_what_is_custom(marl):
    card = stook_card_of(holding=marl)
    said = {rule.does: rule.standing for rule in card.rules}
    (sheaves,) = (does for does in said if "a stook unless" in does)
    assert "8 sheaves" in sheaves
    assert "only 4 to 6 together" in sheaves
    assert "8 is assumed" in said[sheaves]
    assert all(
        standing.startswith(("Published", "Common practice", "8 is assumed"))
        for standing in said.values()
    )
    assert card.pairs == 4
    assert card.cautions[-1] == "Local codes and trained people first."
