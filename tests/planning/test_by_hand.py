"""The checker itself finds what is wrong, or it would prove nothing."""

import datetime

import pytest

from planning import by_hand
from sheafwright.core.inputs.cropping import Pin, Wanted
from sheafwright.feeds.cropping import CroppingQuestion, FieldAsked

LEYS = ("ley", "ley")


@pytest.mark.parametrize(
    ("history", "crop", "may"),
    [
        (LEYS, "autumn_wheat", True),
        ((*LEYS, "autumn_wheat"), "late_wheat", True),
        ((*LEYS, "autumn_wheat", "autumn_wheat"), "late_wheat", False),
        ((*LEYS, "autumn_wheat", "oats"), "autumn_wheat", False),
        (("autumn_wheat", "oats", *LEYS), "autumn_wheat", True),
        (("autumn_wheat", *LEYS), "autumn_wheat", False),
        ((*LEYS, "oats", "roots"), "autumn_wheat", True),
        ((*LEYS, "oats", "roots", "oats"), "autumn_wheat", False),
        ((*LEYS, *LEYS), "autumn_wheat", False),
        ((*LEYS, *LEYS, "roots"), "autumn_wheat", True),
        ((*LEYS, *LEYS, "oats"), "autumn_wheat", False),
        (("oats", "ley"), "oats", False),
        (("ley", *5 * ("oats",)), "oats", False),
        (("ley", *5 * ("oats",)), "ley", True),
        ((), "oats", False),
        ((), "ley", True),
    ],
)
def test_the_rotation_of_the_guidance_is_told_from_a_list_of_crops(history, crop, may):
    assert by_hand.may_follow(list(history), crop) is may


def field(name, **said):
    said = {"history": LEYS, "conversion_from": datetime.date(2010, 1, 1)} | said
    return FieldAsked(name, 1.0, **said)


def asked(*fields, **said):
    said = {"hours_a_week": 500.0} | said
    return CroppingQuestion(first_year=2027, years=1, fields=fields, **said)


@pytest.mark.parametrize(
    ("question", "plan"),
    [
        (asked(field("A")), {}),
        (asked(field("A", history=("ley",))), {"A": ["oats"]}),
        (asked(field("A", without=("oats",))), {"A": ["oats"]}),
        (asked(field("A"), pins=(Pin("A", 2027, "ley"),)), {"A": ["oats"]}),
        (asked(field("A"), wanted=(Wanted(2027, "wheat", 1),)), {"A": ["oats"]}),
        (asked(field("A"), wanted=(Wanted(2027, "corn", 0, 0.5),)), {"A": ["oats"]}),
        (
            asked(
                field("A", conversion_from=None),
                wanted=(Wanted(2027, "wheat", 1, organic=True),),
            ),
            {"A": ["late_wheat"]},
        ),
        (
            asked(
                field("A"),
                field("B", conversion_from=datetime.date(2026, 1, 1)),
                varieties={"late_wheat": "Bearded"},
            ),
            {"A": ["late_wheat"], "B": ["late_wheat"]},
        ),
        (asked(field("A"), hours_a_week=1.0), {"A": ["roots"]}),
        (asked(field("A"), binders=0.01), {"A": ["late_wheat"]}),
    ],
)
def test_each_broken_rule_is_found(question, plan):
    assert len(list(by_hand.broken(question, plan))) == 1


def test_a_plan_that_keeps_all_is_let_be():
    assert list(by_hand.broken(asked(field("A")), {"A": ["autumn_wheat"]})) == []
