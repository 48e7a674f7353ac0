"""From *Straw* to a grade by a photograph taken with a phone, in a browser.

Each test is a step of one sample, in the order in which it was made.
"""

import pytest

from photographs import HOSTILE, dark, good
from web.browser import says, serving, sign_in
from web.test_look import PHONE, grave, small_targets, too_wide

HOME = "/marl-hollow"


@pytest.fixture(scope="module")
def in_store(book_of):
    """Ann's book with 2.6 t of reed in store, served."""
    with serving(book_of("trade_journey_book.py")) as served:
        yield served


@pytest.fixture(scope="module")
def ben(in_store, chromium):
    """Ben, who works there, on *Straw* with a phone."""
    with chromium.new_context(base_url=in_store.url, viewport=PHONE) as context:
        page = context.new_page()
        sign_in(page, "Ben")
        page.goto(f"{HOME}/straw/")
        yield page


def photo(content, name="IMG.jpg"):
    return {"name": name, "mimeType": "image/jpeg", "buffer": content}


def send(page, content, field="taken"):
    page.set_input_files(f"[name={field}]", photo(content))
    with page.expect_navigation():
        page.get_by_role("button", name="Measure the stems").click()


def is_fit_to_read(page):
    return (too_wide(page), small_targets(page), grave(page)) == (False, [], [])


def test_the_form_is_a_tap_from_straw(ben):
    ben.get_by_role("link", name="Measure stems from a photograph").click()
    ben.wait_for_url("**/straw/photographs/?lot=*")
    assert ben.input_value("[name=lot]")
    assert ben.get_attribute("[name=taken]", "capture") == "environment"
    assert is_fit_to_read(ben)


def test_the_board_is_there_to_print(ben):
    address = ben.get_by_role("link", name="The board, to print").get_attribute("href")
    assert ben.request.get(address).body().startswith(b"%PDF-")


def test_a_bad_photograph_is_refused_with_what_to_do(ben, in_store):
    send(ben, dark())
    wrong = ben.locator(".field", has=ben.locator("[name=taken]"))
    assert "too dark; take it in more light, without a flash." in wrong.inner_text()
    assert is_fit_to_read(ben)
    assert in_store.count("records_tracing") == 0


# The others are sent without a browser, in test_straw_photo.py.
@pytest.mark.parametrize("kind", ["a bomb", "two things at once"])
def test_a_hostile_file_is_refused_in_a_sentence(ben, in_store, kind):
    make, sentence = HOSTILE[kind]
    send(ben, make(), "photos")
    wrong = ben.locator(".field", has=ben.locator("[name=photos]"))
    assert sentence in wrong.locator(".errorlist").inner_text()
    assert not list((in_store.folder / "kept").rglob("straw/*/*"))


def test_a_good_one_is_traced_for_the_eye(ben):
    ben.fill("[name=bundle]", "7")
    send(ben, good())
    ben.wait_for_url("**/straw/tracings/*/")
    assert "5 stems were traced: look whether each is right." in says(ben)
    drawn = ben.locator(".traced svg")
    assert drawn.locator("polyline").count() == 5
    assert drawn.locator("text").all_text_contents() == [*"12345"]
    shown = ben.evaluate(
        "fetch(document.querySelector('image').href.baseVal)"
        ".then((got) => got.blob()).then((got) => got.size)"
    )
    assert shown > 50_000
    assert ben.locator("[name=stem]:checked").count() == 5
    assert is_fit_to_read(ben)


def test_straw_says_that_it_waits(ben):
    address = ben.url
    ben.goto(f"{HOME}/straw/")
    ben.get_by_role("link", name="Look at the stems photographed on").click()
    ben.wait_for_url(address)


def test_one_is_struck_out_and_the_lot_is_graded(ben, in_store):
    ben.get_by_label("Stem 2").uncheck()
    ben.get_by_role("button", name="Accept the ticked stems").click()
    ben.wait_for_url("**/lots/*/")
    assert "4 stems are written down." in says(ben)
    assert "Grade" in says(ben) or "grade" in says(ben)
    assert in_store.count("records_stemsample") == 1


def test_the_lot_leads_back_to_its_photograph(ben):
    ben.locator("tr", has_text="4").get_by_role("link").last.click()
    ben.wait_for_url("**/straw/tracings/*/")
    assert "4 stems of 26-01 were measured from photographs." in says(ben)
    struck = ben.locator("tr.struck")
    assert struck.count() == 1 and "Stem 2" in struck.inner_text()
    assert ben.locator("[name=stem]").count() == 0
    assert is_fit_to_read(ben)


def test_struck_out_whole_it_is_thrown_away(ben, in_store):
    ben.goto(f"{HOME}/straw/")
    ben.get_by_role("link", name="Measure stems from a photograph").click()
    ben.wait_for_url("**/straw/photographs/?lot=*")
    send(ben, good())
    for each in ben.locator("[name=stem]").all():
        each.uncheck()
    ben.get_by_role("button", name="Accept the ticked stems").click()
    ben.wait_for_url("**/lots/*/")
    assert "thrown away; nothing was written down" in says(ben)
    assert in_store.count("records_tracing") == 1
