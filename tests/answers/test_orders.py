"""Promises before prices, odds with every day, and oversell told before it happens."""

import dataclasses
import datetime
import json
from pathlib import Path

import jsonschema
import pytest

from sheafwright.answers.asked_grades import GradeFor, asked_grades, of_lots_before
from sheafwright.answers.orders import orders
from sheafwright.answers.orders_question import (
    Known,
    LotAsked,
    OrderAsked,
    OrdersQuestion,
    ToCome,
    problem_of,
)
from sheafwright.core.errors import NoPlan, OutOfRange
from sheafwright.feeds.telling import Reader, again, read_by
from sheafwright.planning.allocation.check import broken_rules
from told import FOREIGN, METRIC, loose

SCHEMA = json.loads(
    (Path(__file__).parent / "schemas" / "orders.json").read_text("utf-8")
)
TODAY = datetime.date(2024, 12, 1)
APRIL, MAY = datetime.date(2025, 4, 30), datetime.date(2025, 5, 31)
JANUARY = datetime.date(2025, 1, 20)
FEBRUARY = datetime.date(2025, 2, 20)
LOT = LotAsked("24-01", "reed", 2500.0, 2024, 1.0, "coat", "Widgeon", True)
OLD = LotAsked("22-04", "reed", 800.0, 2022, 0.85)
RICK = ToCome(
    "Barn rick",
    "reed",
    (2000.0, 3000.0, 3600.0),
    (JANUARY, FEBRUARY, datetime.date(2025, 4, 2)),
    variety="Widgeon",
    organic=True,
)
FIRST = OrderAsked(
    "O-1", "Orla Quince", "reed", 2400.0, 1400.0, APRIL, 0.9, most_lots=1
)
SECOND = OrderAsked("O-2", "Bram Tolliver", "reed", 3000.0, 1300.0, MAY)
NAMES = {"reed", "O-1", "O-2", "O-3", "Orla Quince", "Bram Tolliver", "Barn rick"}


def asked(*those, lots=(LOT, OLD), to_come=(RICK,)):
    return orders(OrdersQuestion(TODAY, those, lots, to_come))


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


def of(answer, name):
    return next(each for each in answer.orders if each.asked.name == name)


def test_no_order_is_said_so():
    assert valid(asked())["sentence"] == "No order is open."


def test_what_is_told_of_two_orders():
    answer = asked(SECOND, FIRST)
    said = valid(answer)
    assert said["sentence"] == (
        "Deliver 2.40 t of 24-01 to Orla Quince by 30 April 2025."
    )
    first, second = (each["sentence"] for each in said["orders"])
    assert first == "O-1, Orla Quince: 2.40 t of 24-01. It is in store now."
    assert second == (
        "O-2, Bram Tolliver: 100 kg of 24-01, 800 kg of 22-04 and 2.10 t of Barn rick. "
        "Ready by April 2025 in 8 years of 10. In time for 31 May 2025: 8 chances in "
        "10."
    )


def test_the_checker_finds_nothing_wrong():
    question = OrdersQuestion(TODAY, (FIRST, SECOND), (LOT, OLD), (RICK,))
    assert list(broken_rules(problem_of(question), orders(question).plan)) == []


def test_a_lot_that_does_not_suit_says_why():
    answer = asked(
        dataclasses.replace(FIRST, organic=True, grades=asked_grades("coat"))
    )
    assert answer.orders[0].why[-2] == (
        "Lot 22-04 does not suit: its stems are 85 cm, and 90 cm is asked, nobody "
        "graded it and it is not organic."
    )


COAT = asked_grades("coatwork 1")
STEMS = {GradeFor("coatwork", 1): 0.83, GradeFor("coatwork", 2): 0.97}
MEASURED = dataclasses.replace(
    LOT,
    grade="ridge",
    known=Known(STEMS, "stems", 43),
    length_by="stems",
    length_stems=43,
)


def test_what_stems_say_counts_before_what_was_written():
    [told] = asked(dataclasses.replace(FIRST, grades=COAT), lots=(MEASURED,)).orders
    assert told.why[:2] == (
        "By 43 stems 24-01 is grade 1 for coatwork, with 83% confidence.",
        "Of 24-01 9 stems in 10 are 100 cm or longer, by 43 measured.",
    )
    [told] = asked(
        dataclasses.replace(FIRST, grades=asked_grades("ridge")),
        lots=(MEASURED,),
        to_come=(),
    ).orders
    assert told.why[-1] == (
        "Lot 24-01 does not suit: its grade is grade 1 for coatwork."
    )


def test_a_buyers_own_rule_grades_for_that_buyer():
    strict = {GradeFor("coatwork", 1): 0.1, GradeFor("coatwork", 2): 0.2}
    lot = dataclasses.replace(
        MEASURED, known_for={"Orla Quince": Known(strict, "stems", 43)}
    )
    hers = dataclasses.replace(FIRST, grades=COAT)
    his = dataclasses.replace(SECOND, kg=900.0, grades=COAT)
    answer = asked(hers, his, lots=(lot,), to_come=())
    assert of(answer, "O-1").given == {}
    assert "it is graded below what is asked" in of(answer, "O-1").why[-1]
    assert of(answer, "O-2").given == {"24-01": pytest.approx(900)}
    kind = dataclasses.replace(lot, known_for={"Orla Quince": MEASURED.known})
    [told] = asked(hers, lots=(kind,), to_come=()).orders
    assert "confidence, by Orla Quince's own rule." in told.why[0]


@pytest.mark.parametrize(
    ("known", "says"),
    [
        (
            Known({GradeFor("coatwork", 2): 1.0}, "handful"),
            (
                "A handful of 24-01 was found good: grade 2 or better for coatwork; no "
                "stems are measured."
            ),
        ),
        (None, "That 24-01 is grade 2 or better for coatwork is as it was written"),
    ],
)
def test_how_a_grade_is_known_is_said(known, says):
    order = dataclasses.replace(FIRST, grades=asked_grades("coatwork"))
    lot = dataclasses.replace(LOT, known=known)
    assert asked(order, lots=(lot,)).orders[0].why[0].startswith(says)


@pytest.mark.parametrize(
    ("text", "grades"),
    [
        ("", set()),
        ("coat", {GradeFor("coatwork", 2)}),
        ("grade 1, coatwork", {GradeFor("coatwork", 1)}),
        (
            "Grade 1 for coatwork; ridge",
            {GradeFor("coatwork", 1), GradeFor("ridge", 2)},
        ),
        (
            "first long straw, 2 ridge",
            {GradeFor("long_straw", 1), GradeFor("ridge", 2)},
        ),
        ("best, coat for the church", {"best", "coat for the church"}),
        ("grade 1", {"grade 1"}),
    ],
)
def test_grades_are_read_as_growers_write_them(text, grades):
    assert asked_grades(text) == grades


def test_lots_before_it_tell_of_what_grade_a_rick_should_be():
    before = [STEMS, dict.fromkeys(STEMS, 1.0)]
    known = Known(of_lots_before(before), "past", 2)
    rick = dataclasses.replace(RICK, known=known)
    order = dataclasses.replace(FIRST, kg=900.0, grades=COAT)
    [told] = asked(order, lots=(), to_come=(rick,)).orders
    assert told.given == {"Barn rick": pytest.approx(900)}
    assert told.why[-1] == (
        "By 2 lots measured before it, Barn rick should be grade 1 for coatwork, with "
        "71% confidence."
    )
    assert of_lots_before([]) == {}


def test_an_order_is_not_filled_before_its_window():
    spring = datetime.date(2025, 4, 1)
    order = dataclasses.replace(FIRST, since=spring)
    answer = asked(order)
    assert answer.sentence == (
        "Deliver 2.40 t of 24-01 to Orla Quince from 1 April 2025 to 30 April 2025."
    )
    [told] = answer.orders
    assert told.chance == 1.0
    assert told.sure_by == APRIL
    with pytest.raises(OutOfRange, match="wanted by a later day"):
        dataclasses.replace(FIRST, since=MAY)


def test_a_set_apart_lot_goes_to_nobody():
    answer = asked(FIRST, lots=(dataclasses.replace(LOT, apart=True),), to_come=())
    assert answer.orders[0].given == {}
    assert "it is set apart" in answer.orders[0].why[2]


def test_what_comes_too_late_is_not_counted_on():
    answer = asked(dataclasses.replace(SECOND, by=JANUARY), lots=())
    [told] = answer.orders
    assert told.given == {}
    assert "after 20 January 2025" in " ".join(told.why)
    assert told.chance < 0.1


def test_a_better_year_fills_what_is_not_counted_on():
    """2.25 t may be counted on, and 3 t comes in half the years."""
    answer = asked(SECOND, lots=())
    [told] = answer.orders
    assert sum(told.given.values()) == pytest.approx(2250)
    assert told.chance == pytest.approx(0.5, abs=0.06)
    assert told.sure_by is None


def test_a_lot_that_nobody_measured_is_to_be_measured():
    lot = dataclasses.replace(LOT, length=None)
    [told] = asked(FIRST, lots=(lot,), to_come=()).orders
    assert "Nobody measured 24-01: do, before it goes." in told.why
    [told] = asked(FIRST, lots=(LOT,), to_come=()).orders
    assert "Nobody measured" not in " ".join(told.why)


def test_oversell_is_told_before_it_happens():
    answer = asked(FIRST, SECOND, dataclasses.replace(SECOND, name="O-3"))
    [over] = answer.oversold
    assert over.promised == 8400
    assert over.surely == pytest.approx(5550, abs=120)
    assert "Oversold: 8.40 t of combed reed is promised" in answer.sentence
    assert over.chance == 0


def test_what_is_only_asked_about_oversells_nothing():
    answer = asked(FIRST, dataclasses.replace(SECOND, kg=9000.0, promised=False))
    assert answer.oversold == ()


def test_what_another_order_would_cost_is_told():
    other = dataclasses.replace(FIRST, name="O-3", promised=False, gbp_per_t=1500.0)
    told = of(asked(FIRST, other, to_come=()), "O-3")
    assert told.is_short
    assert told.cost > 0
    assert "Filling it would cost the other orders about £" in " ".join(told.why)


def test_a_reservation_is_kept_though_another_pays_more():
    kept = dataclasses.replace(
        SECOND, reserved={"24-01": 1000.0}, promised=False, gbp_per_t=10.0
    )
    told = of(asked(FIRST, kept, to_come=()), "O-2")
    assert told.given["24-01"] >= 1000 - 1e-6
    assert "1.00 t of 24-01 is reserved." in told.why


def test_more_reserved_than_there_is_is_refused_in_words():
    both = [
        dataclasses.replace(each, reserved={"24-01": 2000.0}, most_lots=None)
        for each in (FIRST, SECOND)
    ]
    with pytest.raises(NoPlan, match="more is reserved of some lot"):
        asked(*both)


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: dataclasses.replace(FIRST, kind="hay"), "'hay' is nothing"),
        (lambda: dataclasses.replace(FIRST, kg=float("nan")), "asks for nan kg"),
        (lambda: dataclasses.replace(FIRST, gbp_per_t=-1), "pays £-1"),
        (lambda: dataclasses.replace(RICK, kg=(3.0, 2.0, 1.0)), "no less than"),
        (lambda: dataclasses.replace(RICK, ready=(MAY, APRIL, MAY)), "no sooner"),
        (lambda: OrdersQuestion(TODAY, (FIRST, FIRST)), "O-1 is there twice"),
        (lambda: OrdersQuestion(TODAY, (FIRST,) * 99), "99 orders are too many"),
    ],
)
def test_an_odd_question_is_refused_in_words(make, says):
    with pytest.raises(OutOfRange, match=says):
        make()


def test_every_word_may_be_told_in_another_language():
    over = dataclasses.replace(SECOND, name="O-3", kg=9000.0)
    answer = asked(FIRST, SECOND, over)
    said = answer.to_json()
    says = [step["says"] for step in said["working"]]
    telling = [said["sentence"], said["oversold"], says]
    telling += [[each["sentence"], each["why"]] for each in said["orders"]]
    assert list(loose(telling, NAMES)) == []
    with read_by(FOREIGN):
        assert str(again(answer.sentence)).startswith("⟦")


def test_who_thinks_in_hundredweights_reads_no_metric_weight():
    with read_by(Reader("imperial")):
        answer = asked(FIRST, SECOND)
        said = [answer.sentence, *(o.sentence for o in answer.orders)]
        said += [why for o in answer.orders for why in o.why]
    assert not METRIC.search(" ".join(said))
