"""A roof described on the spot, begun as an enquiry, kept, drawn again and printed."""

import html
import json
import re
import uuid
from urllib.parse import parse_qs, urlparse

import pytest
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from records.trade_book import DAY, deliver, enquire, order, order_of, orla, quote
from sheafwright.accounts.models import Person
from sheafwright.accounts.services import token_make
from sheafwright.answers.roof import roof
from sheafwright.feeds.holding import DEMO
from sheafwright.feeds.roof import read_roof, roof_question, roof_said
from sheafwright.records.models import Correction, Enquiry, Order, Paper, Sowing
from sheafwright.records.papers.trade_paper import trade_paper_of
from sheafwright.records.selectors.walk import walk_on
from sheafwright.records.services.trade import enquiry_roof_anew
from told import METRIC
from web.test_asks import SAID

__all__ = ["deliver", "enquire", "order", "order_of", "orla", "quote"]
PLAIN = {"outline_m": [[0, 0], [12, 0], [12, 7], [0, 7]], "pitch_deg": 50}
DORMER = {
    "kind_1": "gable_dormer",
    "side_1": "1",
    "width_1": "2 m",
    "height_1": "0.5 m",
    "slope_1": "50",
}


@pytest.fixture
def as_ann(ann):
    client = Client()
    client.force_login(ann)
    return client


@pytest.fixture
def ask(as_ann):
    """Ask of a shape: its answer's page."""

    def ask(question="roof", **said):
        said = SAID[question] | said
        return as_ann.post(f"/marl-hollow/ask/{question}/", said)

    return ask


def words(page):
    text = re.sub(r'<(\w+) class="src".*?</\1>', " ", page.text, flags=re.S)
    text = html.unescape(re.sub(r"<[^>]+>", " ", text))
    return " ".join(text.replace("\u00a0", " ").split())


def told(**said):
    return " ".join(roof(roof_question(PLAIN | said, "x")).sentence.split())


@pytest.mark.parametrize(
    ("question", "outline"),
    [
        ("roof", PLAIN["outline_m"]),
        ("roof-l", [[0, 0], [12, 0], [12, 6], [6, 6], [6, 11], [0, 11]]),
        (
            "roof-t",
            [[0, 0], [12, 0], [12, 6], [9, 6], [9, 11], [3, 11], [3, 6], [0, 6]],
        ),
        (
            "roof-u",
            [[0, 0], [14, 0], [14, 10], [10, 10], [10, 4], [4, 4], [4, 10], [0, 10]],
        ),
        ("roof-corners", PLAIN["outline_m"]),
    ],
)
@pytest.mark.parametrize("ends", ["hip", "gable"])
def test_each_shape_is_answered_and_drawn_as_the_engine_has_it(
    question, outline, ends, ask
):
    page = ask(question, ends=ends)
    assert page.status_code == 200
    assert told(outline_m=outline, ends=ends) in words(page)
    assert 'class="roof"' in page.text
    assert "Working at height kills" in words(page)


def test_a_file_of_the_command_is_answered_as_the_command_does(ask):
    answer = roof(read_roof(DEMO / "roof.toml"))
    sent = SimpleUploadedFile("roof.toml", (DEMO / "roof.toml").read_bytes())
    assert " ".join(answer.sentence.split()) in words(ask("roof-file", file=sent))


def test_feet_are_as_good_as_metres(ask):
    page = words(ask(length="39 ft 4.44 in", width="22.966 ft"))
    assert "The roof has 130.7 m², 14.1 squares, and 5.0 m of ridge." in page


def test_who_thinks_in_feet_reads_no_metre(ann, ask):
    Person.objects.filter(pk=ann.pk).update(units="imperial")
    page = ask(length="40", width="22", **DORMER | {"width_1": "6", "height_1": "2"})
    said = re.sub(r"In \w+, or with its unit, such as [^.]+\.", "", words(page))
    assert page.status_code == 200
    assert not METRIC.search(said)


def test_pitches_and_ends_may_be_said_of_each_side(ask):
    page = words(ask(pitch="50 60 45° 60"))
    assert told(pitch_deg=[50, 60, 45, 60]) in page
    page = words(ask(ends="gable", gabled="2"))
    assert told(ends=["hip", "gable", "hip", "hip"]) in page


def test_half_hips_dormers_and_overhangs_stand_as_in_a_file(ask):
    halves = [{"kind": "half_hip", "side": side, "from_m": 2.0} for side in (2, 4)]
    page = words(ask(ends="half_hip", half_hip_from="2 m"))
    assert told(features=halves) in page
    dormer = {"kind": "gable_dormer", "side": 1, "width_m": 2, "face_m": 0.5}
    page = words(ask(overhang="400 mm", **DORMER))
    features = [dormer | {"pitch_deg": 50}]
    assert told(features=features, overhang_m=0.4) in page


def test_a_low_pitch_is_warned_of_first(ask):
    page = words(ask(pitch="40"))
    warned = "the trade accepts no main slope below 45°"
    assert page.index(warned) < page.index("Drawn to scale")


def test_ones_own_rate_and_sizes_go_before_the_tables(ask):
    page = words(ask(few="20", many="24", bundle="14 kg", load="1 t", thickness="350"))
    rate = [bundles * 14 / 9.290304 for bundles in (20, 24)]
    own = {"kg_per_m2": rate, "bundle_kg": 14, "thickness_mm": 350}
    assert told(**own) in page
    assert "No standard says" not in page


@pytest.mark.parametrize("work", ["over_coat", "ridge", "patch"])
def test_every_work_is_reckoned(work, ask):
    more = {"patch_m2": 6} if work == "patch" else {}
    page = words(ask(work=work, patch="6 m²" if more else "", material="long_straw"))
    assert told(work=work, material="long_straw", **more) in page


CONE = {"kind_1": "conical_end", "side_1": "1", "pitch": "50 45 50 60"}
WRONG = [
    ("roof-corners", {"corners": "0 0; 12 7; 12 0; 0 7"}, "corners", "crosses itself"),
    ("roof-corners", {"corners": "0 0; 12 x"}, "corners", "is no length"),
    ("roof", {"length": "900 m"}, "length", "900 m across"),
    ("roof", {"length": "long"}, "length", "is not a quantity"),
    ("roof-l", {"wing": "13"}, "wing", "leaves nothing of a front of 12 m"),
    ("roof-t", {"before": "7"}, "wing", "else the roof is an L"),
    ("roof-u", {"yard": "11"}, "yard", "leave some of the range"),
    ("roof", {"pitch": "steep"}, "pitch", "These should be numbers"),
    ("roof", {"pitch": "50 50"}, "pitch", "one for all, or one for each"),
    ("roof", {"pitch": "85"}, "pitch", "it should be 5° to 80°"),
    ("roof", {"gabled": "2"}, "gabled", "whether these sides are gabled"),
    ("roof", {"ends": "gable", "gabled": "9"}, "gabled", "from 1 to 4 here"),
    ("roof", {"ends": "gable", "gabled": "1 2 3 4"}, "ends", "The roof never closes"),
    ("roof", {"ends": "half_hip"}, "half_hip_from", "Say how high"),
    ("roof", {"overhang": "5 m"}, "overhang", "It should be 0 m to 3 m."),
    ("roof", {"work": "patch"}, "patch", "Say how large the patch is."),
    ("roof", {"work": "patch", "patch": "500"}, "patch", "should be no larger"),
    ("roof", {"thickness": "60", "few": "20"}, "thickness", "would weigh"),
    ("roof", {"stem": "30 cm"}, "stem", "should be longer"),
    ("roof", {"few": "9", "many": "8"}, "few", "no more than the most"),
    ("roof", {"few": "90"}, "few", "would weigh"),
    ("roof", {"work": "ridge", "fixing": "sways"}, "fixing", "should be spars"),
    ("roof", DORMER | {"side_1": "7"}, "side_1", "on which side, from 1 to 4"),
    ("roof", DORMER | {"width_1": ""}, "width_1", "This is wanted, too."),
    ("roof", DORMER | {"width_1": "90"}, "width_1", "It should be 0.3 m to 30 m."),
    ("roof", DORMER | {"width_1": "9"}, "kind_1", "does not lie whole on its slope"),
    (
        "roof",
        {f"{name[:-1]}2": value for name, value in (DORMER | {"along_1": "0"}).items()},
        "kind_2",
        "does not lie whole on its slope",
    ),
    ("roof", CONE, "kind_1", "no conical end"),
]


@pytest.mark.parametrize(("question", "typed", "name", "says"), WRONG)
def test_what_is_wrong_is_one_sentence_at_its_field(question, typed, name, says, ask):
    page = ask(question, **typed)
    assert page.status_code == 400
    field = page.context["form"][name]
    assert len(field.errors) == 1 and says in field.errors[0]
    assert len(page.context["form"].errors) == 1
    for each, value in (SAID[question] | typed).items():
        assert page.context["form"][each].value() == value


@pytest.mark.parametrize(
    ("file", "says"),
    [
        (b"outline_m = [[0, 0", "is not a TOML file"),
        (b"\xff\xfe\x00", "holds bytes that are no text"),
        (b"pitch_deg = 50", "lacks outline_m"),
        (b"outline_m = [[0,0],[9,0],[9,6]]\npitch_deg = 85", "it should be 5° to 80°"),
        (b"#" * 200_000, "smaller than 100 kB"),
    ],
)
def test_a_wrong_file_is_one_sentence_at_its_field(file, says, ask):
    page = ask("roof-file", file=SimpleUploadedFile("x.toml", file))
    assert page.status_code == 400
    assert says in page.context["form"]["file"].errors[0]


def test_there_is_always_room_for_one_thing_more(ask):
    many = {
        f"{name[:-1]}{row}": value
        for row in (1, 2, 3)
        for name, value in (DORMER | {"along_1": f"{3 * row}"}).items()
    }
    page = ask(ends="gable", **many)
    assert "Dormer, eyebrow or other end 4" in words(page)
    assert page.status_code == 200


def begun(page, kind="enquiry"):
    """Where the button to an entry of a roof leads, and what it says there."""
    found = re.search(rf'href="([^"]+/write/{kind}/\?[^"]*plan=[^"]+)"', page.text)
    address = html.unescape(found[1])
    said = parse_qs(urlparse(address).query)
    return address, {name: values[0] for name, values in said.items()}


def test_an_enquiry_begins_with_the_roof(ask, as_ann, orla):
    address, said = begun(ask(ends="gable", **DORMER))
    form = as_ann.get(address)
    assert "The roof has 130.7 m², 14.1 squares" in words(form)
    assert 'name="squares"' not in form.text and 'name="coat"' not in form.text
    sent = said | {"id": uuid.uuid4(), "customer": orla.pk, "date": DAY.isoformat()}
    assert as_ann.post("/marl-hollow/write/enquiry/", sent).status_code == 302
    [kept] = Enquiry.objects.all()
    question = roof_question(kept.roof_plan, "x")
    answer = roof(question)
    assert [each.kind for each in question.features] == ["gable_dormer"]
    assert kept.weight_kg == pytest.approx(answer.straw.bought.high, abs=0.1)
    assert kept.squares == pytest.approx(answer.shape.squares, abs=0.05)
    assert (kept.kind, kept.coat) == ("reed", "new_coat")


def test_what_was_typed_goes_before_what_the_roof_takes(enquire):
    assert enquire(roof_plan=PLAIN, weight_kg=900.0).weight_kg == 900


def test_squares_and_a_coat_are_the_quick_way(as_ann, orla):
    form = as_ann.get("/marl-hollow/write/enquiry/")
    assert 'name="squares"' in form.text and "/ask/roof/" in form.text
    sent = {"kind": "reed", "squares": "6", "coat": "over_coat", "customer": orla.pk}
    sent |= {"id": uuid.uuid4(), "date": DAY.isoformat(), "roof_plan": ""}
    assert as_ann.post("/marl-hollow/write/enquiry/", sent).status_code == 302
    assert Enquiry.objects.get().roof_plan is None


@pytest.mark.parametrize(
    ("plan", "says"),
    [
        ("{", "Describe the roof anew."),
        ("[]", "Describe the roof anew."),
        ("{}", "The roof lacks outline_m."),
        (json.dumps(PLAIN | {"pitch_deg": 95}), "it should be 5° to 80°"),
    ],
)
def test_a_roof_that_cannot_be_is_refused_with_the_enquiry(plan, says, as_ann, orla):
    sent = {"kind": "reed", "customer": orla.pk, "roof_plan": plan}
    sent |= {"id": uuid.uuid4(), "date": DAY.isoformat()}
    page = as_ann.post("/marl-hollow/write/enquiry/", sent)
    assert page.status_code == 400
    assert says in words(page)
    assert not Enquiry.objects.exists()


def test_a_roof_of_reed_is_not_asked_for_in_long_straw(as_ann, orla):
    sent = {"kind": "long_straw", "customer": orla.pk, "roof_plan": json.dumps(PLAIN)}
    sent |= {"id": uuid.uuid4(), "date": DAY.isoformat()}
    page = as_ann.post("/marl-hollow/write/enquiry/", sent)
    assert "described in another material" in page.context["form"].errors["kind"][0]


def test_sent_twice_it_is_one_enquiry(enquire):
    id = uuid.uuid4()
    assert enquire(id=id, roof_plan=PLAIN) == enquire(id=id, roof_plan=PLAIN)


def test_a_kept_roof_is_drawn_as_it_was_described(enquire, as_ann):
    kept = enquire(roof_plan=roof_said(read_roof(DEMO / "roof.toml")))
    assert kept.roof == "The cottage at Marl Hollow"
    assert "The roof, drawn" in words(as_ann.get("/marl-hollow/orders/"))
    page = as_ann.get(f"/marl-hollow/enquiries/{kept.pk}/roof/")
    assert "The roof has 142.8 m², 15.4 squares" in words(page)
    assert 'class="roof"' in page.text
    plain = enquire(squares=6.0, coat="over_coat")
    page = as_ann.get(f"/marl-hollow/enquiries/{plain.pk}/roof/")
    assert "Nobody described this roof. For 6 squares" in words(page)


def test_papers_and_the_lot_tell_which_roof(
    enquire, quote, order_of, deliver, reed, as_ann
):
    asked = enquire(roof_plan=PLAIN, roof="Mill House")
    made = order_of(quotation=quote(asked), roof="Mill House")
    for kind in ("quotation", "order"):
        facts = trade_paper_of(Paper.objects.filter(kind=kind).latest("number")).facts
        [size] = [fact.said for fact in facts if fact.what == "Roof, measured"]
        assert size == "130.7 m² (14.1 squares), 5.0 m of ridge and 25.9 m of hips"
    deliver(500, order=made)
    page = as_ann.get(f"/marl-hollow/lots/{reed.pk}/")
    assert "Roofs it went to" in words(page)
    assert f"/orders/{made.pk}/roof/" in page.text
    own = as_ann.get(f"/marl-hollow/orders/{made.pk}/roof/")
    assert "The roof has 130.7 m², 14.1 squares" in words(own)


def test_a_walk_from_the_field_ends_at_the_roof(order_of, deliver, reed):
    deliver(500, order=order_of(roof="Mill House"))
    fields = {sowing.field for sowing in Sowing.objects.all()}
    ends = [node.detail for field in fields for node in walk_on(field=field).nodes]
    assert "10 November 2026, Mill House" in ends


def test_a_program_asks_with_a_roof_of_its_own(ann, marl, orla):
    _token, key = token_make(person=ann, label="a program")
    sent = {"id": str(uuid.uuid4()), "customer": str(orla.pk), "kind": "reed"}
    sent |= {"date": DAY.isoformat(), "roof_plan": PLAIN}
    client = Client(headers={"Authorization": f"Bearer {key}"})

    def post(**said):
        return client.post(
            "/api/marl-hollow/enquiry/", sent | said, content_type="application/json"
        )

    assert post(roof_plan=PLAIN | {"pitch_deg": 95}).status_code == 400
    assert post().status_code == 200
    assert roof_question(Enquiry.objects.get().roof_plan, "x").pitch_deg == (50,) * 4


def test_an_order_keeps_a_roof_without_any_enquiry(ask, as_ann, orla, deliver, reed):
    address, said = begun(ask(**DORMER, name="Withy End"), "order")
    form = as_ann.get(address)
    assert "The roof has 130.7 m², 14.1 squares" in words(form)
    sent = said | {"id": uuid.uuid4(), "customer": orla.pk, "date": DAY.isoformat()}
    sent |= {"price_per_t": "1400", "vat_pct": "20", "haulage": "0"}
    sent |= {"haulage_vat_pct": "20"}
    assert as_ann.post("/marl-hollow/write/order/", sent).status_code == 302
    kept = Order.objects.get(pk=sent["id"])
    assert kept.roof == "Withy End" and kept.roof_plan["features"]
    takes = roof(roof_question(kept.roof_plan, "x")).straw.bought.high
    assert kept.weight_kg == pytest.approx(takes, abs=0.1)
    own = f"/marl-hollow/orders/{kept.pk}/"
    assert f'href="{own}roof/"' in as_ann.get(own).text
    page = as_ann.get(f"{own}roof/")
    assert "The roof has 130.7 m², 14.1 squares" in words(page)
    assert 'class="roof"' in page.text
    paper = trade_paper_of(Paper.objects.get(kind="order", order=kept))
    [size] = [fact.said for fact in paper.facts if fact.what == "Roof, measured"]
    assert size.startswith("130.7 m² (14.1 squares)")
    deliver(500, order=kept)
    page = as_ann.get(f"/marl-hollow/lots/{reed.pk}/")
    assert f'href="{own}roof/"' in page.text


def test_an_order_of_another_material_than_its_roof_is_refused(order_of):
    with pytest.raises(ValidationError, match="in another material"):
        order_of(kind="long_straw", roof_plan=PLAIN)
    assert not Order.objects.exists()


def test_an_orders_form_asks_for_no_roof_that_its_enquiry_has(enquire, quote, as_ann):
    plain, roofed = quote(), quote(enquire(roof_plan=PLAIN))
    form = "/marl-hollow/write/order/"
    for address in (form, f"{form}?quotation={plain.pk}", f"{form}?quotation=x"):
        assert "Describe the roof, and" in words(as_ann.get(address))
    page = as_ann.get(f"{form}?quotation={roofed.pk}")
    assert "Describe the roof, and" not in words(page)


def test_an_order_without_a_roof_says_so(order, as_ann):
    page = as_ann.get(f"/marl-hollow/orders/{order.pk}/roof/")
    assert "Nobody described this roof." in words(page)


def test_a_roof_described_anew_leaves_what_it_was_written(enquire, ask, as_ann):
    kept = enquire(roof_plan=PLAIN, roof="Mill House")
    drawn = f"/marl-hollow/enquiries/{kept.pk}/roof/"
    assert "Describe it anew" in words(as_ann.get(drawn))
    address, said = begun(ask(width="8"), "enquiry-roof")
    form = as_ann.get(address)
    assert "The roof has 149.3 m²" in words(form) and 'name="enquiry"' in form.text
    sent = said | {"id": uuid.uuid4(), "enquiry": kept.pk, "why": "the eaves measured"}
    for _twice in range(2):
        page = as_ann.post("/marl-hollow/write/enquiry-roof/", sent)
        assert page.status_code == 302
    was = Enquiry.objects.get()
    question = roof_question(was.roof_plan, "x")
    assert question.outline_m[2] == (12, 8)
    answer = roof(question)
    assert was.weight_kg == pytest.approx(answer.straw.bought.high, abs=0.1)
    assert was.squares == pytest.approx(answer.shape.squares, abs=0.05)
    assert was.roof == "Mill House"
    assert Correction.objects.count() == 1
    page = words(as_ann.get(drawn))
    assert "The roof has 149.3 m²" in page
    assert "The roof has 130.7 m², 14.1 squares, and 5.0 m of ridge." in page
    assert "the eaves measured" in page
    # An inspector's book names no buyer.
    book = "/marl-hollow/book/?begins=2020-01-01&ends=2100-01-01"
    assert "the eaves measured" not in words(as_ann.get(book))


def test_a_program_that_may_see_no_trade_reads_no_enquiry_put_right(
    enquire, writes, ann, ben, marl
):
    kept = enquire(roof_plan=PLAIN)
    plan = PLAIN | {"pitch_deg": 45}
    writes(enquiry_roof_anew, enquiry=kept, plan=plan, why="measured", kg=900.0)
    assert Enquiry.objects.get().weight_kg == 900
    for person, count in ((ann, 1), (ben, 0)):
        _token, key = token_make(person=person, label="a program")
        client = Client(headers={"Authorization": f"Bearer {key}"})
        answer = client.get("/api/marl-hollow/corrections/")
        assert answer.status_code == 200 and len(answer.json()) == count
