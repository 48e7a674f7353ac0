"""From a thatcher's enquiry to money in the bank, and back to the field, in a browser.

Each test is a step of one sale, in the order in which it was made.
"""

import io

import pytest
from pypdf import PdfReader

from web.browser import says, serving, sign_in, tap

HOME = "/marl-hollow"


@pytest.fixture(scope="module")
def in_store(book_of):
    """Ann's book with 2.6 t of reed in store, served."""
    with serving(book_of("trade_journey_book.py")) as served:
        yield served


@pytest.fixture(scope="module")
def ann(in_store, chromium):
    """Ann, on *Orders*."""
    with chromium.new_context(base_url=in_store.url) as context:
        page = context.new_page()
        sign_in(page, "Ann")
        page.goto(f"{HOME}/orders/")
        yield page


def printed(page, kind):
    """The words of the paper of a kind that is listed last."""
    row = page.locator("tr", has=page.get_by_text(kind, exact=True)).first
    pdf = page.request.get(row.locator("a").first.get_attribute("href")).body()
    [only] = PdfReader(io.BytesIO(pdf)).pages
    return " ".join(only.extract_text().split())


def test_nobody_asks_yet(ann):
    assert "No order is open, and nobody asks." in says(ann)


def test_papers_are_headed_and_a_thatcher_is_known(ann):
    tap(
        ann,
        "What your papers say of you",
        name="Marl Hollow Straw",
        address="Combe Lane",
        vat_number="GB 000 0000 00",
        pay_to="Invented Bank 00-00-00",
    )
    said = tap(
        ann,
        "Add a buyer",
        name="Orla Quince",
        trade="thatcher",
        address="Withy Lane",
        distance_km="18 km",
        bearing="north-east",
    )
    assert "Orla Quince" in said


def test_her_roof_is_described_by_its_outline_and_drawn(ann):
    ann.get_by_role("link", name="What does a roof take?").click()
    ann.get_by_role("link", name="an L", exact=True).click()
    lengths = {"length": "8 m", "width": "4", "wing": "4", "out": "13 ft 1.48 in"}
    for name, value in (lengths | {"pitch": "50"}).items():
        ann.fill(f"main [name={name}]", value)
    ann.select_option("main [name=ends]", "gable")
    ann.select_option("main [name=work]", "over_coat")
    ann.click("main form button")
    ann.get_by_text("The roof has 74.7 m², 8.0 squares").first.wait_for()
    assert ann.locator("svg.roof .roof-valley").count()
    said = says(ann)
    assert "Side 1" not in said and "Working at height kills" in said


def test_she_asks_for_the_straw_of_that_roof(ann):
    said = tap(
        ann,
        "Begin an enquiry for this roof",
        customer="Orla Quince",
        roof="Mill House",
        wanted_by="2027-04-30",
        least_length_cm="90 cm",
    )
    assert "No order is open; 1 buyer asks." in said
    # 20 bundles of 28 lb to the square and its ridge, and a tenth thrown out.
    assert "Orla Quince asks for" in said
    assert "For 8 squares: a coat over the old one." in said


def test_she_looks_and_leaves_a_handful(ann):
    said = tap(
        ann,
        "A buyer looked at straw",
        customer="Orla Quince",
        lot="26-01",
        looked_at="six bundles",
        would_take_kg="900 kg",
        handful="over the bench",
    )
    assert "six bundles, handful: over the bench" in said and "900 kg" in said


def test_stems_are_measured_and_graded(ann):
    ann.goto(f"{HOME}/straw/")
    ann.get_by_role("link", name="26-01").first.click()
    ann.get_by_role("link", name="Stems that were measured").first.click()
    rows = "".join(f"{950 + 5 * n},4.0,0,{n}\n" for n in range(1, 31))
    table = "length_mm,butt_mm,bends,bundle\n" + rows
    file = {"name": "stems.csv", "mimeType": "text/csv", "buffer": table.encode()}
    ann.set_input_files("main [name=stems_file]", file)
    ann.click("main form button")
    ann.locator(".messages", has_text="Written down.").wait_for()
    ann.goto(f"{HOME}/orders/")


def test_she_is_quoted(ann):
    said = tap(
        ann,
        "Quote for what was asked about",
        open_until="2026-12-24",
        weight_kg="1600 kg",
        price_per_t="1400",
        vat_pct="20",
        haulage="60",
        haulage_vat_pct="20",
    )
    assert "Quoted 1.60 t at £1,400.00 a tonne, open until 24 December 2026." in said
    quoted = printed(ann, "quotation")
    assert "In all £2,760.00" in quoted
    assert "Roof Mill House" in quoted and "74.7 m² (8.0 squares)" in quoted


def test_she_takes_it_and_the_order_begins_as_it_was_quoted(ann):
    tap(ann, "Take an order")
    said = says(ann)
    assert "Deliver 1.60 t of 26-01 to Orla Quince by 30 April 2027." in said
    assert "It is in store now." in said
    order = printed(ann, "order")
    assert "Roof Mill House" in order and "Stems from 90 cm" in order
    assert "74.7 m² (8.0 squares)" in order


def test_the_order_tells_what_it_gets_and_why(ann):
    ann.get_by_role("link", name="All of O").click()
    ann.get_by_text("What it gets").wait_for()
    ann.get_by_text("Why so").click()
    said = says(ann)
    assert "Of 26-01 9 stems in 10 are 97 cm or longer, by 30 measured." in said
    assert "six bundles" in said and "over the bench" in said
    ann.get_by_role("link", name="All of Orla Quince").click()
    assert "Orla Quince, thatcher: 1 order is open." in says(ann)
    ann.goto(f"{HOME}/orders/")


def test_what_is_oversold_is_told_before_it_is_taken(ann):
    ann.goto(f"{HOME}/write/order/?kind=reed&weight_kg=5 t")
    assert "Oversold: 6.60 t of combed reed is promised" in says(ann)
    ann.goto(f"{HOME}/orders/")


def test_it_is_kept_for_her_and_sent(ann):
    said = tap(ann, "Keep 26-01 for it")
    assert "1.60 t of 26-01 is reserved." in ann.locator("main").text_content()
    assert "Bundles slip" in said
    said = tap(ann, "Deliver 1.60 t of 26-01", bundles="252", vehicle="Ben, trailer")
    assert "Invoice Orla Quince for what was delivered." in said
    assert "26-01 252 1,600 kg" in printed(ann, "delivery note")


def test_a_certificate_goes_with_it(ann):
    ann.get_by_role("link", name="All of O").click()
    tap(ann, "A certificate, statement or grain note", kind="lot certificate")
    told = printed(ann, "lot certificate")
    assert "grade 1 for coatwork, with " in told and "Mean length 102.8 cm" in told
    assert "walk it back to its field" in told and "Grown on Long Meadow" in told


def test_she_is_invoiced(ann):
    said = tap(ann, "Invoice what was delivered")
    assert "Orla Quince owes £2,760.00." in said
    invoice = printed(ann, "invoice")
    assert "To pay £2,760.00" in invoice and "Invented Bank" in invoice


def test_she_pays(ann):
    said = tap(ann, "£2,760.00 for I-0001 came in")
    assert "No order is open, and nobody asks." in said


def test_the_lot_tells_what_it_brought_its_roof_and_where_it_grew(ann):
    ann.goto(f"{HOME}/straw/")
    ann.get_by_role("link", name="26-01").first.click()
    ann.get_by_text("What it brought").wait_for()
    said = says(ann)
    assert "It has brought £2,300.00 so far." in said
    walk = ann.locator("main").text_content()
    assert "Long Meadow" in walk
    ann.get_by_role("link", name="Mill House").click()
    ann.get_by_text("The roof has 74.7 m², 8.0 squares").first.wait_for()
    assert ann.locator("svg.roof .roof-valley").count()


def test_one_sale_five_papers_and_one_payment_were_written(in_store):
    assert in_store.count("records_sale") == 1
    assert in_store.count("records_paper") == 5
    assert in_store.count("records_payment") == 1
