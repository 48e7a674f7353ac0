"""From damp grain at the drum to a labelled bag of flour, and back to the field.

Each test is a step of one winter, in the order in which it was done.
"""

import io

import pytest
from pypdf import PdfReader

from sheafwright.answers.grain_keeping import grain_keeping
from web.browser import says, serving, sign_in, tap

GRAIN = "/marl-hollow/grain/"


@pytest.fixture(scope="module")
def granary(book_of):
    """Ann's book with 1.8 t of damp grain, served."""
    with serving(book_of("grain_journey_book.py")) as served:
        yield served


@pytest.fixture(scope="module")
def ann(granary, chromium):
    """Ann, on *Grain*."""
    with chromium.new_context(base_url=granary.url) as context:
        page = context.new_page()
        sign_in(page, "Ann")
        page.goto(GRAIN)
        yield page


def test_damp_grain_is_to_be_dried_first(ann):
    said = says(ann)
    assert "1.80 t of grain in store." in said
    assert "First, 26-02: Dry it: 17.5%, and a mill takes up to 15.0%." in said


def test_a_tonne_milled_is_set_beside_a_tonne_of_grain(ann):
    assert "7.4 times its price as grain (£330 a tonne), before milling" in says(ann)


def test_it_is_dried_and_dressed(ann):
    said = tap(ann, "Dry it", how="spread and turned", moisture_after_pct="14.5")
    # 1,800 kg at 17.5% is 1,736.842 kg at 14.5%.
    assert "1.74 t of grain in store. First, 26-02: Dress it" in said
    said = tap(
        ann,
        "Dress it",
        clean_kg="1650",
        clean_code="26-02C",
        screenings_to="fed",
    )
    assert "First, 26-02C: Look at it in its store" in said


def test_it_is_looked_at_and_tested(ann):
    said = tap(
        ann,
        "Look at it in its store",
        where="bin 1",
        temperature_c="12 °C",
        found="nothing amiss",
    )
    assert f"26-02C: {grain_keeping(0.145, 12).sentence}" in said
    said = tap(
        ann,
        "Have it tested",
        protein_pct="12.6",
        hagberg_s="245",
        specific_weight_kg_per_hl="77.5 kg/hl",
        admixture_pct="0.8",
    )
    assert "Choose: sell it, mill it, feed it" in said


def test_the_choice_begins_with_what_is_known(ann):
    ann.get_by_role("link", name="Choose").click()
    ann.click("main form button")
    ann.locator("caption", has_text="What the grain that is left").wait_for()
    assert "Falling number 245 s 250 s 200 s £1.00" in says(ann)
    ann.goto(GRAIN)


def test_it_is_milled_by_a_certified_miller(ann):
    said = tap(
        ann,
        "A run of the mill",
        lot="26-02C",
        flour="white flour from stones",
        miller="Combe Mill, GB-ORG-00",
        cleaned_first=True,
        weight_kg="500",
        flour_kg="405",
        flour_code="F-1",
        bran_kg="85",
        bran_code="B-1",
    )
    assert (
        "White flour from stones: 81% of the grain, as is usual (78% to 83%)." in said
    )
    assert "405 kg of flour and 85.0 kg of bran in store." in said


def test_bags_are_filled_and_labelled(ann):
    tap(ann, "Bag it", bags="200", bag_kg="1.5", best_before="2027-08-20")
    href = ann.get_by_role("link", name="F-1, to print").get_attribute("href")
    pages = PdfReader(io.BytesIO(ann.request.get(f"{href}?count=8").body())).pages
    assert len(pages) == 1
    said = " ".join(pages[0].extract_text().split())
    for words in (
        "Stoneground white flour",
        "1.5 kg",
        "Maris Widgeon, harvest of 2026",
        "Ingredients: WHEAT flour",
        "Contains WHEAT (gluten).",
        "Best before 20 Aug 2027",
        "Lot F-1",
        "Organic: GB-ORG-00",
        "UK Agriculture",
        "Marl Hollow Flour, Combe Lane, Nether Combe",
    ):
        assert said.count(words) == 8, words


def test_what_comes_before_selling_is_ticked(ann):
    assert "8 of 8 are still to be done." in says(ann)
    said = tap(ann, "Food business registered")
    assert "7 of 8 are still to be done." in said
    assert "by Ann" in said


def test_flour_is_sold_with_what_is_not_done_said_first(ann):
    ann.get_by_role("link", name="F-1", exact=True).first.click()
    ann.get_by_role("link", name="Record a sale").click()
    assert "Before flour is sold, this is not said to be done: hygiene plan" in says(
        ann
    )
    ann.fill("[name=kg]", "90")
    ann.fill("[name=buyer_name]", "Combe Bakery")
    ann.fill("[name=price]", "225")
    ann.click("main form button")
    ann.wait_for_url("**/grain/")
    assert "315 kg of flour" in says(ann)


def test_the_bag_is_walked_back_to_its_field(ann):
    ann.get_by_role("link", name="F-1", exact=True).first.click()
    said = says(ann)
    assert "405 kg of white flour from stones of lot 26-02C, by Combe Mill." in said
    for words in ("Long Meadow", "26-02", "26-02C"):
        assert words in said
    ann.goto("/marl-hollow/ground/")
    ann.get_by_role("link", name="Long Meadow").first.click()
    assert "Combe Bakery" in says(ann)


def test_the_record_book_and_the_events_tell_of_the_flour(ann):
    year = "?begins=2026-01-01&ends=2026-12-31"
    pdf = ann.request.get(f"/marl-hollow/book/record-book.pdf{year}").body()
    book = " ".join(
        " ".join(page.extract_text().split())
        for page in PdfReader(io.BytesIO(pdf)).pages
    )
    for words in ("flour, 2026", "bran, 2026", "F-1", "At the stones"):
        assert words in book, words
    told = ann.request.get(f"/marl-hollow/book/events.jsonld{year}").json()
    kinds = [each["type"] for each in told["epcisBody"]["eventList"]]
    # Threshed, dressed and milled.
    assert kinds.count("TransformationEvent") == 3
