"""A new grower, from an empty installation to a sold lot; and then the inspector."""

import datetime
import subprocess
import sys
from pathlib import Path

import pytest

from web.browser import serving

PASSWORD = "thatch-and-ridge-26"
YEAR = datetime.date.today().year


def _on(month, day, year=YEAR - 1):
    return datetime.date(year, month, day).isoformat()


@pytest.fixture(scope="module")
def empty(tmp_path_factory):
    """An installation that nobody has started yet."""
    with serving(tmp_path_factory.mktemp("new")) as served:
        yield served


@pytest.fixture(scope="module")
def grower(empty, chromium):
    """Dora, who starts the book."""
    page = chromium.new_context(base_url=empty.url).new_page()
    page.goto("/")
    for name, value in {
        "person_name": "Dora",
        "email": "dora@example.org",
        "password": PASSWORD,
        "name": "Hill Side",
        "latitude_deg": "52",
    }.items():
        page.fill(f"[name={name}]", value)
    page.click("main button")
    page.wait_for_url("**/hill-side/**")
    return page


def write(page, kind, choose=(), **said):
    """Fill a form as a person would: type, choose, tick, send."""
    page.goto(f"/hill-side/write/{kind}/")
    for name, value in said.items():
        field = page.locator(f"main [name={name}]")
        if name == "lot":
            field.select_option(label=value)
        elif field.evaluate("each => each.tagName") == "SELECT":
            field.select_option(value)
        elif isinstance(value, bool):
            field.set_checked(value)
        else:
            field.fill(value)
    for name in choose:
        page.locator(f"main [name={name}]").select_option(index=1)
    page.click("main form button")
    # A form that comes back says why.
    wrong = page.locator(".wrong, .errorlist")
    written = page.locator(".messages", has_text="Written down.")
    written.or_(wrong).first.wait_for()
    assert wrong.count() == 0, f"{kind}: {wrong.all_inner_texts()}"


@pytest.fixture(scope="module")
def sold(grower):
    """A year written down, page by page, up to a sale."""
    write(grower, "field", name="Hanger", area_ha="5 acres")
    write(
        grower,
        "seed-lot",
        name="S-1",
        variety="Squareheads Master",
        came="bought",
        standing="organic",
    )
    write(
        grower,
        "sowing",
        choose=("field", "seed_lot"),
        date=_on(10, 2, YEAR - 2),
        harvest_year=str(YEAR - 1),
        area_ha="5 acres",
        rate_kg_per_ha="1.5 cwt/acre",
        row_spacing_mm="7 in",
    )
    write(
        grower,
        "cut",
        choose=("sowing",),
        date=_on(8, 4),
        area_ha="5 acres",
        sheaves="1500",
    )
    write(grower, "rick", name="Barn rick", built=_on(8, 14), cover="roof")
    write(grower, "carting", choose=("stook_set", "rick"), date=_on(8, 14))
    write(
        grower,
        "threshing",
        choose=("rick",),
        date=_on(11, 20),
        combed=True,
        reed_weight_kg="5 t",
        reed_lot="R-1",
        grain_weight_kg="3.5 t",
        grain_lot="G-1",
    )
    write(
        grower,
        "sale",
        lot="R-1",
        date=_on(12, 1),
        buyer_name="A thatcher",
        kg="2 t",
        price="1600",
    )
    return grower


def test_the_first_page_of_an_empty_book_says_what_to_do(grower):
    grower.goto("/hill-side/ground/")
    assert "add the first" in grower.inner_text("h1")


def test_what_was_sold_is_no_longer_in_store(sold):
    sold.goto("/hill-side/straw/")
    assert "3.00\u00a0t" in sold.inner_text("h1")


def test_the_lot_is_walked_back_to_its_field_and_seed(sold):
    sold.goto("/hill-side/straw/")
    sold.get_by_role("link", name="R-1").click()
    walk = sold.inner_text("main")
    assert "Hanger" in walk and "S-1" in walk


def test_the_fields_year_runs_from_sown_to_sold(sold):
    sold.goto("/hill-side/ground/")
    # A plan that is worked out by now names it too.
    sold.get_by_role("link", name="Hanger", exact=True).last.click()
    steps = sold.locator(".year li.known b").all_inner_texts()
    assert [steps[0], steps[-1]] == ["sown", "sold"]


def test_a_mistake_is_undone_by_its_reverse(sold):
    write(
        sold,
        "sale",
        lot="G-1",
        date=_on(12, 2),
        buyer_name="A miller",
        kg="1 t",
    )
    sold.goto(f"/hill-side/book/?begins={_on(12, 1)}&ends={_on(12, 31)}")
    sold.get_by_role("link", name="sold").first.click()
    sold.fill("[name=note]", "It was never fetched")
    sold.click("main form button")
    sold.goto("/hill-side/grain/")
    assert "3.50\u00a0t" in sold.inner_text("h1")


@pytest.fixture(scope="module")
def inspector(sold, empty, chromium):
    """Ida, whom Dora lets in to inspect."""
    sold.goto("/hill-side/settings/")
    form = sold.locator("form[action$='/people/']")
    form.locator("[name=email]").fill("ida@example.org")
    form.locator("[name=name]").fill("Ida")
    form.locator("[name=role]").select_option("inspector")
    form.locator("[name=password]").fill(PASSWORD)
    form.get_by_role("button").click()
    page = chromium.new_context(base_url=empty.url).new_page()
    page.goto("/sign-in/")
    page.fill("[name=username]", "ida@example.org")
    page.fill("[name=password]", PASSWORD)
    page.click("main button")
    page.wait_for_url("**/hill-side/book/")
    return page


def test_the_inspector_finds_every_kilogram(inspector):
    inspector.goto(f"/hill-side/book/?begins={_on(1, 1)}&ends={_on(12, 31)}")
    assert "0.0\u00a0kg is unexplained" in inspector.inner_text("h1")
    assert "Lost:" in inspector.inner_text("main")


@pytest.mark.parametrize(
    "paper", ["record-book.pdf", "record-book.zip", "events.jsonld"]
)
def test_the_inspector_takes_the_book_away(paper, inspector):
    address = f"/hill-side/book/{paper}?begins={_on(1, 1)}&ends={_on(12, 31)}"
    answer = inspector.request.get(address)
    assert answer.ok
    assert len(answer.body()) > 500


def test_the_inspector_changes_nothing_and_sees_no_advice(inspector):
    for page in ("today/", "write/cut/", "settings/"):
        assert inspector.request.get(f"/hill-side/{page}").status == 404


def test_the_book_of_the_year_verifies(sold, empty):
    command = [Path(sys.executable).with_name("sheafwright"), "verify"]
    said = subprocess.run(
        [*command, "--holding", empty.folder], capture_output=True, text=True
    )
    assert said.returncode == 0, said.stderr
    assert "movements" in said.stdout


@pytest.fixture(scope="module")
def green(sold):
    """Hanger sown again, and up."""
    write(
        sold,
        "sowing",
        choose=("field", "seed_lot"),
        date=_on(10, 5),
        harvest_year=str(YEAR),
        area_ha="5 acres",
        rate_kg_per_ha="1.2 cwt/acre",
        row_spacing_mm="7 in",
    )
    return sold


def _send(page):
    page.click("main form button")
    page.locator(".messages", has_text="Written down.").wait_for()


def test_the_page_of_a_field_leads_to_what_it_wants_to_know(green):
    green.goto("/hill-side/ground/")
    green.get_by_role("link", name="Hanger", exact=True).first.click()
    assert "Say what kind of soil it is" in green.inner_text("main")
    green.get_by_role("link", name="Say what kind of soil it is").click()
    green.select_option("[name=soil_kind]", "medium")
    green.fill("[name=why]", "dug it and felt it")
    _send(green)
    green.goto("/hill-side/ground/")
    green.get_by_role("link", name="Hanger", exact=True).first.click()
    says = green.inner_text("main")
    assert "what kind of soil" not in says
    # The wheat before it was sown from this book; the weather is still to come.
    assert "Say which weather record it has" in says


def test_a_count_of_plants_is_answered_as_soon_as_it_is_written(green):
    green.goto("/hill-side/growing/")
    green.get_by_role("link", name="Count the plants").click()
    green.fill("[name=counts]", "31 24 28 35 22")
    green.fill("[name=place_m2]", "0.25")
    _send(green)
    assert "112 plants/m² stand" in green.inner_text("main")
    assert "Reckoned with 112 plants/m² as counted" in green.text_content("main")
