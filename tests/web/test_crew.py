"""*Cutting* says who does what, and a tap on a breakdown or a shower changes it."""

import re

import pytest

from crew_book import DAY, binder, dates, keep, outlook, people, turns
from sheafwright.accounts.models import Membership
from sheafwright.records.fill import fill_crew
from sheafwright.records.models import Breakdown, Shower


@pytest.fixture
def book(marl, sowing, writes):
    marl.looked_at_as_of = DAY
    marl.save()
    keep(marl, "outlook", sowing, outlook(0.8, 0.8, 0.75, 0.6, 0.5))
    people(writes, ("Ann", "Ben", "Dan", "Eve"))
    return binder(writes)


@pytest.fixture
def as_ann(client, ann):
    client.force_login(ann, "django.contrib.auth.backends.ModelBackend")
    return client


def page(client):
    return client.get("/marl-hollow/cutting/").content.decode()


def form(shown, kind):
    """What the page's one-tap form of a kind says, with no button yet."""
    (found,) = re.findall(
        rf'<form method="post" action="/marl-hollow/write/{kind}/".*?</form>',
        shown,
        re.DOTALL,
    )
    return dict(re.findall(r'name="(\w+)" value="([^"]*)"', found.split("<button")[0]))


def tap(client, shown, kind, half):
    said = form(shown, kind) | {"half": half}
    said.pop("csrfmiddlewaretoken", None)
    return client.post(f"/marl-hollow/write/{kind}/", said, follow=True)


def test_it_says_that_it_is_being_planned_until_it_is(as_ann, book):
    assert "Being planned; look again" in page(as_ann)


def test_whether_a_field_can_wait_stands_beside_it(as_ann, book, marl):
    assert "If left past" not in page(as_ann)
    keep(marl, "turns", marl, turns({"Long Meadow": 0.12}, dates(3)[-1]))
    shown = page(as_ann)
    assert "If left past Sat 22 Aug" in shown
    # So much of a perfect crop of 2 ha, at £3,025 a hectare.
    assert "holds up the others: £730 less" in shown


def test_a_field_that_can_wait_is_said_to_without_money(as_ann, book, marl):
    kept = turns({"Long Meadow": 0.01}, dates(3)[-1], "can_wait")
    keep(marl, "turns", marl, kept)
    assert "<span>can wait</span>" in page(as_ann)


@pytest.fixture
def planned(as_ann, book, marl):
    pytest.importorskip("ortools", reason="CP-SAT is not installed")
    fill_crew(marl)
    return as_ann


def test_who_does_what_is_shown_with_the_caution_and_the_working(planned):
    shown = page(planned)
    assert "Who does what" in shown
    assert "Ann and Ben cut" in shown
    assert "Only who has been shown the binder works on it" in shown
    assert "A constraint program" in shown


def test_a_broken_binder_is_one_tap_and_the_plan_says_what_changed(planned, book):
    answer = tap(planned, page(planned), "breakdown", "morning")
    shown = answer.content.decode()
    assert answer.redirect_chain[-1][0] == "/marl-hollow/cutting/"
    assert "The old binder is broken." in shown
    assert "no binder is in order" in shown
    assert Breakdown.objects.get().state == "broken"
    shown = tap(planned, shown, "breakdown", "afternoon").content.decode()
    assert "The old binder is mended." in shown


def test_a_shower_is_one_tap(planned):
    shown = tap(planned, page(planned), "shower", "morning").content.decode()
    assert "A shower on Thursday 20 August in the morning." in shown
    assert "nothing: a shower" in shown
    assert Shower.objects.get().half == "morning"


def test_an_older_plan_is_called_so(planned, writes):
    people(writes, ("Zoe",))
    assert "the plan is being made anew" in page(planned)


def test_who_may_only_look_has_nothing_to_tap(planned, marl, cleo):
    Membership.objects.create(person=cleo, holding=marl, role="adviser")
    planned.force_login(cleo, "django.contrib.auth.backends.ModelBackend")
    shown = page(planned)
    assert "Who does what" in shown
    assert "/write/shower/" not in shown


def test_with_a_binder_and_nobody_it_is_asked_who_may_come(
    as_ann, marl, sowing, writes
):
    binder(writes)
    assert "Write down who may come to work" in page(as_ann)


def test_without_the_solver_the_page_says_what_to_install(
    as_ann, book, marl, monkeypatch
):
    monkeypatch.setattr("sheafwright.answers.crew.is_there", lambda: False)
    fill_crew(marl)
    shown = page(as_ann)
    assert "sheafwright[crew]" in shown
    assert "All fields" in shown
