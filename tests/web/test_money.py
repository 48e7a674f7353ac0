"""The page of money, and the page for who never grew it."""

import datetime
import html
import io
import re
import uuid
from types import SimpleNamespace

import pytest
from django.core.files.base import ContentFile
from PIL import Image

from sheafwright.accounts.models import Membership, Units
from sheafwright.accounts.rights import Role
from sheafwright.records.due.replay import Told
from sheafwright.records.models import Purchase, SavedAnswer, WeatherSource

TODAY = datetime.date(2026, 2, 3)
PAGE, GUIDE = "/marl-hollow/money/", "/marl-hollow/should-grow/"
NEWCOMER = {
    "august_rain": "70 mm",
    "lies": "sheltered",
    "area": "5 acres",
    "ground": "middling",
    "standing": "not_organic",
    "hands": "6",
    "tractor": "on",
    "buyer": "agreed",
}


@pytest.fixture(autouse=True)
def day(marl):
    marl.looked_at_as_of = TODAY
    marl.save()


def words_of(answer):
    words = re.sub(r"(?s)<(script|style)[^>]*>.*?</\1>|<[^>]+>", " ", answer.text)
    return " ".join(html.unescape(words).split())


@pytest.fixture
def as_(client):
    def read(person, address=PAGE, **said):
        client.force_login(person)
        answer = client.post(address, said) if said else client.get(address)
        return answer.status_code, words_of(answer)

    return read


@pytest.fixture
def form(client, ann):
    """What the form of the page begins with."""

    def begun(address=PAGE):
        client.force_login(ann)
        answer = client.get(address)
        return {
            name: html.unescape(value)
            for value, name in [
                (
                    re.search(r'value="([^"]*)"', each)[1],
                    re.search(r'name="(\w+)"', each)[1],
                )
                for each in re.findall(r"<input[^>]*>", answer.text)
                if 'type="hidden"' not in each
            ]
        }

    return begun


def test_the_page_tells_what_the_sown_field_should_leave(ann, as_, sowing):
    status, page = as_(ann)
    assert status == 200
    assert "2 ha of tall wheat should l" in page
    assert "Harvest of 2026: Long Meadow." in page
    assert "Hours: threshing and combing" in page
    assert "Milling wheat" in page
    assert "September 2025" in page
    assert "No rent, no payment for the land and no tax" in page


def test_without_wheat_it_says_that_it_is_made_up(ann, as_):
    status, page = as_(ann)
    assert status == 200
    assert "this is of one hectare, made up" in page


def test_only_who_runs_the_holding_sees_its_money(client, marl, ann, ben, cleo):
    for role in (Role.ADVISER, Role.INSPECTOR, Role.BUYER, Role.HAND):
        Membership.objects.filter(person=ben).update(role=role)
        client.force_login(ben)
        assert client.get(PAGE).status_code in (403, 404), role
        assert client.post(PAGE, {"area": "1"}).status_code in (403, 404), role
        assert "Money" not in client.get("/marl-hollow/straw/").text
    client.force_login(cleo)
    assert client.get(PAGE).status_code in (403, 404)


def test_what_is_sent_back_unchanged_is_the_same_answer(ann, as_, form, sowing):
    _status, before = as_(ann)
    status, page = as_(ann, **form())
    assert status == 200
    sentence = re.search(r"2 ha of tall wheat should .*? paid\.", before)[0]
    assert sentence in page


def test_a_dearer_reed_is_tried(ann, as_, form, sowing):
    _status, page = as_(ann, **form() | {"reed_price": "2000"})
    assert "should leave about £" in page
    assert "Reed £5,760.00" not in page


def test_more_ground_is_tried_and_shared_out(ann, as_, form, sowing):
    _status, page = as_(ann, **form() | {"area": "4 ha"})
    assert "4 ha of tall wheat should l" in page


def test_what_cannot_be_is_said_and_what_was_typed_stays(client, ann, form, sowing):
    said = form() | {"crop": "a lot", "wage": "-3"}
    client.force_login(ann)
    answer = client.post(PAGE, said)
    assert answer.status_code == 400
    assert 'value="a lot"' in answer.text
    assert "greater than or equal to 0" in words_of(answer)


def test_nothing_of_a_crop_is_refused_in_a_sentence(ann, as_, form, sowing):
    status, page = as_(ann, **form() | {"crop": "0"})
    assert status == 400
    assert "it should be more than nothing" in page


def test_it_is_by_the_acre_and_the_ton_for_who_reckons_so(ann, as_, form, sowing):
    ann.units = Units.IMPERIAL
    ann.save()
    _status, page = as_(ann)
    assert "By the acre" in page and "/acre" in page and "a ton (" in page
    assert "/ha" not in page.split("How this was worked out")[0]
    _status, again = as_(ann, **form())
    sentence = re.search(r"acres of tall wheat should .*? paid\.", page)[0]
    assert sentence in again


def test_a_closer_look_draws_it_and_parts_what_it_hangs_on(client, ann, sowing):
    client.force_login(ann)
    answer = client.get(PAGE, {"year": 2026, "closely": "1"})
    assert "<svg" in answer.text
    assert "Share alone" in answer.text


@pytest.mark.parametrize("year", ["1", "x", "99999", ""])
def test_a_year_that_is_none_shows_the_usual(year, ann, as_, sowing):
    status, page = as_(ann, f"{PAGE}?year={year}")
    assert status == 200
    assert "Harvest of 2026" in page


def test_what_is_tried_is_slid_from_the_number_that_it_has(client, ann, sowing):
    client.force_login(ann)
    slides = re.findall(r'<input type="range"[^>]*>', client.get(PAGE).text)
    assert len(slides) == 9
    for each in slides:
        ends = {n: float(re.search(rf'{n}="([^"]*)"', each)[1]) for n in SLIDE}
        steps = (ends["value"] - ends["min"]) / ends["step"]
        # Else a browser would move it to a step, and what nobody touched would differ.
        assert steps == pytest.approx(round(steps), abs=1e-6), each
        assert ends["min"] <= ends["value"] <= ends["max"], each


SLIDE = ("min", "max", "step", "value")


@pytest.mark.parametrize("units", Units.values)
def test_what_nobody_slid_changes_nothing(units, ann, as_, form, sowing):
    ann.units = units
    ann.save()
    _status, before = as_(ann)
    _status, after = as_(ann, **form())
    table = r"Likely crop By the .*? possible years −?£[\d,]+"
    assert re.search(table, after)[0] == re.search(table, before)[0]


def test_the_likely_crop_and_the_headline_are_told_apart(ann, as_, sowing):
    _status, page = as_(ann)
    assert "The likely crop, with every number at its likely value, comes to" in page
    headline = re.search(r"should (lack|leave) about £([\d,]+)/ha", page)
    middle = re.search(r"middle one of possible years (−?)£([\d,]+)", page)
    assert headline[2] == middle[2]
    assert (headline[1] == "lack") == (middle[1] == "−")


# Money spent.


@pytest.fixture
def buys(client, ann, marl):
    """Write money spent as Ann, on the page."""

    def buy(**said):
        client.force_login(ann)
        said = {
            "id": str(uuid.uuid4()),
            "date": "2026-01-20",
            "line": "twine",
            "what": "ten spools",
            "supplier": "Combe Stores",
            "net": "48.20",
        } | said
        return client.post("/marl-hollow/write/purchase/", said)

    return buy


def test_what_is_spent_stands_beside_the_budget_and_may_be_struck_out(
    client, ann, as_, buys, sowing
):
    assert buys(vat="9.64").status_code == 302
    _status, page = as_(ann)
    assert "The book has £57.84 spent so far, and no sale with a price." in page
    assert re.search(r"Twine £[\d.]+ £57.84 ", page)
    assert re.search(r"Fuel £[\d.]+ nothing written", page)
    assert "ten spools 20 Jan 2026 twine Combe Stores £57.84 the holding" in page
    bought = Purchase.objects.get()
    strike = f"/marl-hollow/write/purchase-strike/?purchase={bought.pk}"
    assert strike in client.get(PAGE).text
    said = {"id": str(uuid.uuid4()), "purchase": bought.pk, "why": "written twice"}
    struck = client.post(strike, said | {"date": "2026-02-01"})
    assert struck.status_code == 302
    _status, page = as_(ann)
    assert "No money of this harvest is written down yet." in page


def test_money_that_is_none_is_refused_on_the_form(buys):
    for net in ("-3", "much", "1.005"):
        assert buys(net=net).status_code == 400
    assert not Purchase.objects.exists()


def test_bills_go_out_as_csv_with_what_they_cost(client, ann, buys, sowing):
    buys(vat="9.64", vat_back="on", sowing=str(sowing.pk), what="=1+1")
    file = client.get("/marl-hollow/money/bills.csv?year=2026")
    lines = b"".join(file.streaming_content).decode("utf-8-sig").splitlines()
    assert lines[1] == (
        "2026-01-20,twine,'=1+1,Combe Stores,48.20,9.64,yes,48.20,Long Meadow,"
    )


def test_a_bills_photo_is_shown_to_who_runs_the_holding_alone(
    client, ann, ben, buys, sowing, settings, tmp_path
):
    settings.MEDIA_ROOT = tmp_path
    picture = io.BytesIO()
    Image.new("RGB", (40, 60), "white").save(picture, "JPEG")
    buys(photo=ContentFile(picture.getvalue(), "bill.jpg"))
    address = f"/marl-hollow/money/bills/{Purchase.objects.get().pk}"
    assert address in client.get(PAGE).text
    shown = client.get(address)
    assert shown.status_code == 200
    assert b"".join(shown.streaming_content).startswith(b"\xff\xd8")
    client.force_login(ben)
    assert client.get(address).status_code == 404
    assert client.get("/marl-hollow/money/bills.csv").status_code == 404


def test_a_bill_without_a_photo_has_none(client, ann, buys, sowing):
    buys()
    address = f"/marl-hollow/money/bills/{Purchase.objects.get().pk}"
    assert client.get(address).status_code == 404


# Should I grow it at all?


def test_a_newcomer_is_told_odds_hours_money_lists_and_reasons(ann, as_):
    status, page = as_(ann, GUIDE, **NEWCOMER)
    assert status == 200
    assert "years of 10 most of the straw would come home fit to comb" in page
    assert "Honest reasons not to" in page
    assert "Until you have one, a neighbour's binder decides" in page
    assert "A moisture meter with a long probe £250" in page
    assert "Help a grower through one harvest" in page
    assert "August 2027" in page


def test_the_guide_asks_in_five_parts_and_keeps_nothing(ann, as_):
    status, page = as_(ann, GUIDE)
    assert status == 200
    for part in ("The place", "The fields", "Hands", "Machines and seed", "The market"):
        assert part in page
    assert "nobody works them who was not shown" in page


def test_replayed_seasons_go_before_the_rain(marl, ann, as_):
    source = WeatherSource.objects.create(
        holding=marl, made_by=ann, name="Knoll", record="knoll.csv"
    )
    policies = {"advice": {"mean": 0.8, "p10": 0.4, "spoiled": 6}}
    policies |= dict.fromkeys(("foresight", "fixed_date"), policies["advice"])
    whole = {"seasons": [{}] * 30, "best_plain_rule": "fixed_date", "working": []}
    replay = SimpleNamespace(to_json=lambda: whole | {"policies": policies})
    SavedAnswer.objects.create(
        holding=marl,
        question="replay",
        subject=source.pk,
        said=Told(replay).to_json(),
        day=TODAY,
        seed=1,
    )
    _status, page = as_(ann, GUIDE)
    assert "those of 30 seasons in your own weather record, of Knoll" in page
    assert "rain of a usual August" not in page
    no_rain = {name: x for name, x in NEWCOMER.items() if name != "august_rain"}
    _status, page = as_(ann, GUIDE, **no_rain)
    assert "In about 8 years of 10" in page


def test_a_hand_may_read_the_guide(ben, as_):
    assert as_(ben, GUIDE)[0] == 200


@pytest.mark.parametrize(
    ("name", "typed", "says"),
    [
        ("area", "900 ha", "can't be right; it should be from"),
        ("hands", "0", "greater than or equal to 1"),
        ("august_rain", "3 mm", "An August with 3 mm can't be right"),
        ("ground", "chalk", "not one of the available choices"),
    ],
)
def test_what_is_wrong_in_the_guide_is_said(name, typed, says, ann, as_):
    status, page = as_(ann, GUIDE, **NEWCOMER | {name: typed})
    assert status == 400
    assert says in page
