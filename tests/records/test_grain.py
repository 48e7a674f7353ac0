"""Grain dried, dressed, looked at, milled and bagged: no gram without a name."""

import datetime
import uuid

import pytest
from django.core.exceptions import ValidationError

from sheafwright.answers.grain_wording import CHECKS
from sheafwright.documents.epcis import Transformation
from sheafwright.feeds.telling import told
from sheafwright.records.errors import SaidOtherwise, SetApart, TooLittleThere
from sheafwright.records.models import (
    Certificate,
    Customer,
    Dressing,
    FieldStatus,
    FlourBags,
    Lot,
    Milling,
    Movement,
    Paper,
    Place,
)
from sheafwright.records.papers.events import events_of
from sheafwright.records.papers.flour_label import flour_labels_of
from sheafwright.records.papers.labels import (
    labels_of,
    lot_may_be_sold_as,
    sowings_behind,
)
from sheafwright.records.papers.trade_facts import of_lot
from sheafwright.records.selectors.allotment import _lots
from sheafwright.records.selectors.grain import (
    at_prices_told,
    flour_checks,
    grain_now,
    owed_now,
)
from sheafwright.records.selectors.grain_next import next_step
from sheafwright.records.selectors.grain_terms import terms_now, terms_of
from sheafwright.records.selectors.lots import LotNow, lots_held
from sheafwright.records.selectors.mass_balance import mass_balance
from sheafwright.records.selectors.milled import (
    milled_organically,
    millings_of,
    not_organic_by_mill,
    runs_of_mill,
)
from sheafwright.records.selectors.today import MOST_OF_GRAIN, Urgency, jobs_today
from sheafwright.records.selectors.walk import walk_back, walk_on
from sheafwright.records.services.book import Step, movement_write, place_of
from sheafwright.records.services.grain import (
    dressing_record,
    drying_record,
    flour_bags_record,
    flour_check_record,
    grain_terms_set,
    milling_record,
    seed_loan_record,
    store_check_record,
)
from sheafwright.records.services.made import lot_place
from sheafwright.records.services.papers import OF_A_DELIVERY
from sheafwright.records.services.stock import entry_undo, grain_move, sale_record
from sheafwright.records.services.store import lot_test_record
from sheafwright.records.verify import verify

DAY = datetime.date(2026, 11, 10)
LATER = datetime.date(2026, 11, 20)


@pytest.fixture
def dry(writes, grain):
    def write(before=18, after=14, **said):
        said = {"lot": grain, "date": DAY, "how": "floor"} | said
        return writes(
            drying_record,
            moisture_before_pct=before,
            moisture_after_pct=after,
            **said,
        )

    return write


@pytest.fixture
def dress(writes, grain):
    def write(clean_kg=2300, **said):
        said = {"lot": grain, "date": DAY, "screenings_to": "fed"} | said
        return writes(dressing_record, clean_kg=clean_kg, **said)

    return write


@pytest.fixture
def mill(writes, grain):
    def write(flour_kg=780, **said):
        usual = {"lot": grain, "date": DAY, "flour": "stone_white", "weight_kg": 1000}
        usual |= {"flour_code": "F-26-1", "bran_kg": 200}
        usual["bran_code"] = "B-26-1" if said.get("bran_kg", 200) else ""
        return writes(milling_record, flour_kg=flour_kg, **usual | said)

    return write


@pytest.fixture
def undo(writes):
    def write(entry):
        movement = Movement.objects.get(pk=entry.pk)
        return writes(entry_undo, movement=movement, date=LATER)

    return write


def lot(code):
    return Lot.objects.get(code=code)


# Drying.


def test_what_drying_takes_is_water_by_the_moistures(dry, grain, kg_in):
    dry(18, 14)
    left = 2500 * 82 / 86
    assert kg_in("lot", grain) == pytest.approx(left, abs=0.001)
    assert kg_in("water") == pytest.approx(2500 - left, abs=0.001)


def test_what_a_scale_misses_beyond_the_water_is_unexplained(dry, grain, kg_in):
    before = kg_in("unexplained")
    dry(18, 14, weight_kg=1000, after_kg=940)
    water = 1000 - 1000 * 82 / 86
    assert kg_in("lot", grain) == 2440
    assert kg_in("water") == pytest.approx(water, abs=0.001)
    assert kg_in("unexplained") - before == pytest.approx(60 - water, abs=0.001)


def test_a_scale_that_shows_less_lost_goes_before_the_meter(dry, kg_in):
    dry(18, 14, weight_kg=1000, after_kg=960)
    assert kg_in("water") == 40


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ({"before": 14, "after": 15}, "drier after than before"),
        ({"before": 14, "after": 13.999, "weight_kg": 0.01}, "no gram of water"),
        ({"weight_kg": 100, "after_kg": 101}, "weigh less after"),
        ({"date": datetime.date(2199, 1, 1)}, "still to come"),
    ],
)
def test_drying_that_cannot_be_is_refused(dry, said, why):
    with pytest.raises(ValidationError, match=why):
        dry(**said)
    assert not Movement.objects.filter(kind="dry").exists()


def test_no_more_is_dried_than_there_is(dry):
    with pytest.raises(TooLittleThere, match="there are 2,500"):
        dry(weight_kg=2501)


def test_reed_is_not_dried_as_grain(dry, reed):
    with pytest.raises(ValidationError, match="no grain"):
        dry(lot=reed)


def test_drying_sent_twice_is_once_and_otherwise_is_refused(dry, kg_in):
    id = uuid.uuid4()
    dry(id=id), dry(id=id)
    water = kg_in("water")
    with pytest.raises(SaidOtherwise):
        dry(after=15, id=id)
    assert kg_in("water") == water


# Dressing.


def test_clean_grain_gets_a_lot_of_its_own_and_screenings_theirs(dress, grain, kg_in):
    dress(
        2300, clean_code="G-26-1C", screenings_to="kept", screenings_kg=180,
        screenings_code="T-26-1",
    )  # fmt: skip
    clean, tail = lot("G-26-1C"), lot("T-26-1")
    assert (clean.kind, clean.variety) == ("grain", grain.variety)
    assert tail.kind == "tail"
    assert (kg_in("lot", grain), kg_in("lot", clean)) == (0, 2300)
    assert (kg_in("lot", tail), kg_in("unexplained")) == (180, 20)


def test_dressed_grain_may_stay_the_same_lot(dress, grain, kg_in):
    dress(2300)
    assert (kg_in("lot", grain), kg_in("fed", grain)) == (2300, 200)


def test_part_of_a_lot_is_dressed(dress, grain, kg_in):
    dress(950, weight_kg=1000, clean_code="G-26-1C", screenings_to="away")
    assert (kg_in("lot", grain), kg_in("lot", lot("G-26-1C"))) == (1500, 950)
    assert kg_in("screenings") == 50


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ({"clean_kg": 2501}, "no more than went through"),
        ({"clean_kg": 2500}, "nothing is to be written down"),
        ({"screenings_to": "kept"}, "Say the lot of the screenings"),
        ({"clean_code": "R-26-1"}, "already|exists|one_lot"),
    ],
)
def test_dressing_that_cannot_be_is_refused(dress, said, why):
    with pytest.raises(ValidationError, match=why):
        dress(**said)
    assert not Dressing.objects.exists()
    assert not Movement.objects.filter(kind="dress").exists()


def test_what_comes_of_grain_set_apart_is_set_apart(dress, grain):
    Lot.objects.filter(pk=grain.pk).update(set_apart=True)
    dress(clean_code="G-26-1C")
    assert lot("G-26-1C").set_apart


def test_dressing_is_undone_and_its_lot_is_taken_up_again(dress, undo, grain, kg_in):
    undo(dress(clean_code="G-26-1C"))
    assert kg_in("lot", grain) == 2500
    dress(2200, clean_code="G-26-1C")
    assert kg_in("lot", lot("G-26-1C")) == 2200


def test_the_mass_balance_names_what_was_dressed_out(dress, marl):
    dress(screenings_to="kept", screenings_code="T-26-1")
    year = datetime.date(2026, 1, 1), datetime.date(2026, 12, 31)
    accounts = {a.material: a for a in mass_balance(
        holding=marl, since=year[0], until=year[1]
    )}  # fmt: skip
    out = {item.what: item.kg for item in accounts["grain"].went_out}
    came = {item.what: item.kg for item in accounts["tail"].came_in}
    assert (out["dressed"], came["dressed"]) == (200, 200)
    for each in accounts.values():
        sums = [sum(i.grams for i in side) for side in (
            each.came_in, each.went_out, each.lost
        )]  # fmt: skip
        assert each.opening_grams + sums[0] - sums[1] - sums[2] == each.closing_grams


# Milling.


def test_a_run_of_the_mill_gives_flour_bran_and_loss(mill, grain, kg_in):
    mill()
    flour, bran = lot("F-26-1"), lot("B-26-1")
    assert (flour.kind, bran.kind) == ("flour", "bran")
    assert (kg_in("lot", flour), kg_in("lot", bran)) == (780, 200)
    assert (kg_in("milling"), kg_in("mill", grain), kg_in("lot", grain)) == (
        20, 0, 1500,
    )  # fmt: skip


def test_what_is_at_the_mill_is_ground_first(mill, writes, grain, kg_in):
    writes(grain_move, lot=grain, to="mill", kg=600, date=DAY)
    mill()
    assert (kg_in("mill", grain), kg_in("lot", grain)) == (0, 1500)
    writes(grain_move, lot=grain, to="mill", kg=300, date=DAY)
    mill(290, weight_kg=None, flour_code="F-26-2", bran_kg=None)
    assert (kg_in("mill", grain), kg_in("milling")) == (0, 30)


def test_a_run_is_undone_whole(mill, undo, grain, kg_in):
    undo(mill())
    assert (kg_in("lot", grain), kg_in("mill", grain)) == (2500, 0)
    assert kg_in("lot", lot("F-26-1")) == 0
    assert not list(runs_of_mill(holding=grain.holding, most=9))


def test_no_more_comes_from_the_mill_than_went_there(mill):
    with pytest.raises(TooLittleThere, match="cannot come of 1,000"):
        mill(900)
    assert not Milling.objects.exists()


def test_grain_set_apart_is_not_milled(mill, grain):
    Lot.objects.filter(pk=grain.pk).update(set_apart=True)
    with pytest.raises(SetApart):
        mill()


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ({"bran_code": ""}, "lot of the bran"),
        ({"bran_kg": None, "bran_code": "B-26-1"}, "what the bran weighed"),
        ({"bran_code": "F-26-1"}, "lot of the bran"),
    ],
)
def test_bran_wants_a_lot_of_its_own(mill, said, why):
    with pytest.raises(ValidationError, match=why):
        mill(**said)
    assert not Lot.objects.filter(kind="flour").exists()


@pytest.fixture
def miller(marl, ann):
    return Certificate.objects.create(
        holding=marl, made_by=ann, holder="Combe Mill", body="Invented Organic",
        code="GB-ORG-99", scope="milling", since=datetime.date(2026, 1, 1),
        expires=datetime.date(2026, 11, 12),
    )  # fmt: skip


@pytest.fixture
def own_certificate(marl, ann):
    return Certificate.objects.create(
        holding=marl, made_by=ann, holder="Marl Hollow", body="Invented Organic",
        code="GB-ORG-00", scope="cereals, flour", since=datetime.date(2026, 1, 1),
        expires=datetime.date(2026, 12, 31), is_own=True, covers_straw=True,
    )  # fmt: skip


@pytest.fixture
def organic(marl, ann, long_meadow, sowing):
    return FieldStatus.objects.create(
        holding=marl, made_by=ann, field=long_meadow, way="organic",
        since=datetime.date(2020, 1, 1),
    )  # fmt: skip


@pytest.fixture
def old_flour(marl, ann, writes, grain):
    """A lot of flour as earlier releases wrote it: no run is told, only the weights."""
    writes(grain_move, lot=grain, to="mill", kg=500, date=DAY)
    flour = Lot.objects.create(
        holding=marl, made_by=ann, code="F-25", kind="flour", variety=grain.variety,
        harvest_year=grain.harvest_year,
    )  # fmt: skip
    mill = place_of(holding=marl, kind="mill", subject=grain.pk)
    waste = place_of(holding=marl, kind="waste")
    steps = Step(mill, -500_000), Step(lot_place(flour), 400_000), Step(waste, 100_000)
    movement_write(
        id=flour.pk, holding=marl, made_by=ann, kind="mill", date=DAY, steps=steps,
        subject=flour.pk,
    )  # fmt: skip
    return flour


def test_flour_is_organic_by_its_miller_on_the_day(mill, miller):
    assert milled_organically(mill(miller=miller))
    assert not milled_organically(
        mill(miller=miller, date=LATER, flour_code="F-2", bran_code="B-2",
             weight_kg=500, flour_kg=400, bran_kg=90)
    )  # fmt: skip
    assert not milled_organically(Milling(uncertified_miller="Dell Mill", date=DAY))


def test_the_holdings_own_mill_is_certified_as_the_holding_is(mill, own_certificate):
    run = mill()
    assert milled_organically(run)
    Certificate.objects.update(expires=DAY - datetime.timedelta(1))
    assert not milled_organically(run)
    Certificate.objects.update(expires=LATER, is_own=False)
    assert not milled_organically(run)


def test_flour_whose_mill_nobody_told_of_still_walks_and_verifies(old_flour, marl):
    names = {node.name for node in walk_back(lot=old_flour).nodes}
    assert {"Long Meadow", "G-26-1", "F-25"} <= names
    assert verify().is_sound
    assert not milled_organically(millings_of([old_flour]).get(old_flour.pk))
    assert not list(runs_of_mill(holding=marl, most=9))


def test_an_undone_run_tells_no_more_of_its_flour(mill, undo, own_certificate):
    run = mill()
    assert not not_organic_by_mill([lot("F-26-1"), lot("B-26-1")])
    undo(run)
    assert len(not_organic_by_mill([lot("F-26-1"), lot("B-26-1")])) == 2
    mill(uncertified_miller="Dell Mill")
    assert millings_of([lot("F-26-1")])[lot("F-26-1").pk].uncertified_miller


MILLERS = {
    "own": {},
    "certified": {"miller": True},
    "none": {"uncertified_miller": "Dell Mill"},
    "untold": None,
}


@pytest.fixture(params=MILLERS)
def by_whom(request, mill, organic, own_certificate):
    """Flour and bran of one miller, or flour of nobody knows whom; may it be organic"""
    if request.param == "untold":
        return [request.getfixturevalue("old_flour")], False
    said = dict(MILLERS[request.param])
    if "miller" in said:
        said["miller"] = request.getfixturevalue("miller")
    mill(**said)
    return [lot("F-26-1"), lot("B-26-1")], request.param != "none"


def test_no_door_calls_flour_organic_but_by_its_miller(by_whom, marl, ann, writes):
    lots, may = by_whom
    for each in lots:
        assert (lot_may_be_sold_as(each, sowings_behind(each)) == "organic") is may
        assert (of_lot(each)["sold_as"] == "organic") is may
        (label,) = labels_of(
            holding=marl, lots=[each], count=1, address_of=lambda lot: lot.code
        ).labels
        assert bool(label.organic) is may
        bags = writes(
            flour_bags_record, lot=each, date=DAY, bags=1, bag_kg=1, best_before=LATER
        )
        bag = flour_labels_of(bags=bags, count=1, address_of=lambda lot: lot.code)
        assert bool(bag.label.organic) is may
        assert _is_stated(each) is may
    assert _allotted_as_organic(marl, lots) == {may}
    assert _told_as_organic(marl) is may


def _is_stated(flour):
    try:
        OF_A_DELIVERY[Paper.Kind.ORGANIC](flour, None)
    except ValidationError as refused:
        assert "isn't certified" in str(refused)
        return False
    return True


def _allotted_as_organic(marl, lots):
    held = [LotNow(each, 1000) for each in lots]
    asked = _lots(marl, held, ("flour", "bran"), ())
    return {each.organic for each in asked}


def _told_as_organic(marl):
    told = events_of(holding=marl, begins=DAY, ends=LATER)
    (milled,) = (each for each in told if isinstance(each, Transformation))
    return bool(milled.origin.organic_code)


def test_grain_itself_needs_no_mill_to_be_organic(grain, organic):
    assert lot_may_be_sold_as(grain, sowings_behind(grain)) == "organic"
    assert not not_organic_by_mill([grain])


def test_a_run_names_one_miller(mill, miller):
    with pytest.raises(ValidationError, match="one miller"):
        mill(miller=miller, uncertified_miller="Dell Mill")


def test_a_run_is_held_against_what_is_usual(mill, marl):
    mill()
    [run] = runs_of_mill(holding=marl, most=9)
    assert run.came.level == "usual"
    assert run.came.lost == pytest.approx(0.02)
    assert run.lost_grams == 20_000


def test_flour_is_walked_back_to_its_field_and_on_to_its_buyer(
    dress, mill, writes, long_meadow
):
    dress(clean_code="G-26-1C")
    mill(lot=lot("G-26-1C"))
    flour = lot("F-26-1")
    writes(sale_record, lot=flour, kg=100, date=LATER, buyer_name="Combe Bakery")
    back = {node.name for node in walk_back(lot=flour).nodes}
    assert {"Long Meadow", "G-26-1", "G-26-1C", "F-26-1"} <= back
    on = {node.name for node in walk_on(field=long_meadow).nodes}
    assert "Combe Bakery" in on


# Store, bags and what comes before selling.


def _now(marl):
    held = lots_held(holding=marl, kinds=("grain", "tail", "flour", "bran"))
    return {now.lot.code: now for now in grain_now(held.lots)}


def _step(marl, code="G-26-1", day=LATER, left=0):
    return next_step(_now(marl)[code], day=day, left=left)


def test_what_comes_next_follows_the_work(marl, grain, dry, dress, writes):
    assert _step(marl).entry == "dressing"
    said = {"lot": grain, "where": "bin 2", "found": "nothing"}
    writes(store_check_record, **said, date=DAY, moisture_pct=17.5, temperature_c=12)
    assert _step(marl).entry == "drying"
    assert _step(marl).given == {"moisture_before_pct": "17.5"}
    dry(17.5, 14, date=LATER)
    assert _step(marl).entry == "dressing"
    dress(date=LATER)
    assert _step(marl).entry == "lot-test"
    assert _step(marl, day=DAY + datetime.timedelta(40)).entry == "store-check"
    writes(
        lot_test_record, lot=grain, date=LATER, protein_pct=12.5, hagberg_s=260,
        specific_weight_kg_per_hl=77, admixture_pct=1,
    )  # fmt: skip
    assert _step(marl).entry == "grain-choice"
    assert _step(marl).given["protein"] == 12.5


# What of it stands on *Today*.


@pytest.fixture
def jobs(marl):
    marl.looked_at_as_of = LATER
    marl.save()

    def look():
        found = jobs_today(holding=marl)
        return [(each.urgency, each.says) for each in found if each.page == "grain"]

    return look


def test_grain_that_wants_dressing_is_on_today_until_it_is(grain, dress, writes, jobs):
    dress_it = "G-26-1: Dress it: nobody has cleaned it since the drum."
    assert jobs() == [(Urgency.GRAIN, dress_it)]
    dress(date=LATER)
    said = {"lot": grain, "where": "bin 2", "date": LATER}
    writes(store_check_record, **said, found="nothing")
    # What is left, to have it tested or to choose, presses nobody.
    assert jobs() == []


def test_insects_in_grain_come_before_what_only_waits(grain, writes, jobs, marl):
    said = {"lot": grain, "where": "bin 2", "date": LATER}
    writes(store_check_record, **said, found="insects")
    ((urgency, says),) = jobs()
    assert urgency == Urgency.HEAP < Urgency.GRAIN
    assert says.startswith("G-26-1: Insects or mites in bin 2")
    (job,) = (each for each in jobs_today(holding=marl) if each.page == "grain")
    assert told(job.why) == "2.50\u00a0t of grain in store, Maris Widgeon, 2026."


def test_grain_at_the_mill_waits_for_its_run(grain, dress, mill, writes, jobs):
    dress()
    writes(grain_move, lot=grain, to="mill", kg=1000, date=DAY)
    run = "Have G-26-1 milled, and write down the run."
    assert (Urgency.GRAIN, run) in jobs()
    mill()
    assert (Urgency.GRAIN, run) not in jobs()


def test_what_comes_before_flour_is_sold_is_one_thing_to_do(mill, writes, jobs):
    for code, weight in (("F-1", 100), ("F-2", 200)):
        mill(weight, weight_kg=weight, flour_code=code, bran_kg=None)
    see = (Urgency.GRAIN, "See to what comes before flour is sold.")
    assert see not in jobs()
    for code in ("F-1", "F-2"):
        writes(
            flour_bags_record, lot=lot(code), date=DAY, bags=2, bag_kg=1.5,
            best_before=LATER,
        )  # fmt: skip
    assert jobs().count(see) == 1
    for what in CHECKS:
        writes(flour_check_record, what=what, date=DAY, who="Ann")
    assert see not in jobs()


def test_today_speaks_of_the_few_lots_that_press_most(grain, dress, writes, jobs):
    for n in range(9):
        dress(
            90, weight_kg=100, clean_code=f"C-{n}", screenings_to="away",
            date=DAY - datetime.timedelta(40),
        )  # fmt: skip
    said = {"lot": lot("C-7"), "where": "bin 2", "date": DAY, "found": "wet"}
    writes(store_check_record, **said)
    assert len(jobs()) == MOST_OF_GRAIN
    assert jobs()[0][1].startswith("C-7: Drips or wet walls")


def test_insects_and_heat_press_most(marl, grain, writes):
    said = {"lot": grain, "where": "bin 2", "date": DAY}
    writes(store_check_record, **said, found="insects")
    assert "Insects or mites in bin 2" in _step(marl).says
    writes(
        store_check_record, **said, found="nothing", temperature_c=45, moisture_pct=16
    )
    assert _step(marl).presses == 10


def test_tests_before_dressing_still_tell(marl, grain, dress, writes):
    writes(lot_test_record, lot=grain, date=DAY, protein_pct=12.5)
    dress(clean_code="G-26-1C")
    now = _now(marl)["G-26-1C"]
    assert now.quality("protein_pct") == 12.5
    assert now.moisture == 14.5


def test_bags_are_no_more_than_the_lot_holds(mill, writes):
    mill()
    said = {"lot": lot("F-26-1"), "date": DAY, "best_before": LATER}
    with pytest.raises(TooLittleThere):
        writes(flour_bags_record, **said, bags=521, bag_kg=1.5)
    writes(flour_bags_record, **said, bags=520, bag_kg=1.5)
    assert FlourBags.objects.count() == 1


def test_grain_is_not_bagged_and_best_before_is_after(mill, writes, grain):
    mill()
    said = {"date": DAY, "bags": 1, "bag_kg": 1.5}
    with pytest.raises(ValidationError, match="Only flour or bran"):
        writes(flour_bags_record, **said, lot=grain, best_before=LATER)
    with pytest.raises(ValidationError, match="after the day"):
        writes(flour_bags_record, **said, lot=lot("F-26-1"), best_before=DAY)


def test_a_thing_ticked_is_done_until_it_ends_or_is_no_longer(marl, writes):
    def state(what):
        return next(c for c in flour_checks(holding=marl) if c.what == what).is_done

    said = {"date": DAY, "who": "Ann"}
    assert not state("registered")
    writes(flour_check_record, what="registered", **said)
    writes(flour_check_record, what="insured", until=LATER, **said)
    assert (state("registered"), state("insured")) == (True, False)
    writes(flour_check_record, what="registered", done=False, **said)
    assert not state("registered")


def test_what_is_owed_goes_down_as_it_goes_back(marl, writes, seed_lot, grain):
    writes(
        seed_loan_record, seed_lot=seed_lot, lender="Nell Ash", date=DAY, lent_kg=200,
        owed_kg=300,
    )  # fmt: skip
    writes(grain_move, lot=grain, to="owed", kg=120, date=DAY)
    assert owed_now(holding=marl).grams == 180_000


def test_a_buyers_terms_go_before_the_usual_ones(marl, ann, writes):
    mill = Customer.objects.create(
        holding=marl, made_by=ann, name="Combe Mill", trade="miller"
    )
    writes(grain_terms_set, customer=mill, since=DAY, protein_full_pct=12.5)
    writes(grain_terms_set, since=DAY, price=350, moisture_most_pct=14.5)
    usual, own = terms_now(holding=marl)
    assert (usual.customer, own.customer) == (None, mill)
    assert terms_of(own).protein_full == 12.5
    assert terms_of(usual).moisture_most == pytest.approx(0.145)
    assert at_prices_told(holding=marl).as_grain.brings == pytest.approx(
        350 * at_prices_told(holding=marl).heap.left / 1000
    )


def test_terms_that_refuse_what_is_full_quality_are_refused(writes):
    with pytest.raises(ValidationError, match="below what is full"):
        writes(grain_terms_set, since=DAY, protein_least_pct=14)
    with pytest.raises(ValidationError, match="damper"):
        writes(grain_terms_set, since=DAY, moisture_refused_pct=14)


def test_prices_are_those_of_the_books_sales(marl, mill, writes, grain):
    mill()
    sold = {"date": LATER, "buyer_name": "Combe Bakery"}
    writes(sale_record, lot=lot("F-26-1"), kg=100, price=200, **sold)
    writes(sale_record, lot=grain, kg=1000, price=400, **sold)
    choice = at_prices_told(holding=marl)
    assert choice.question.flour_price == pytest.approx(2)
    assert choice.times == pytest.approx(0.98 * 2000 / 400)


def test_every_place_of_the_grain_line_balances(dry, dress, mill, marl, writes):
    dry(16, 14)
    dress(2200, clean_code="G-26-1C", screenings_to="away")
    mill(lot=lot("G-26-1C"))
    balances = Place.objects.filter(holding=marl).values_list("balance__grams")
    assert sum(grams for (grams,) in balances) == 0
