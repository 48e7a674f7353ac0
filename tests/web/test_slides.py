"""Numbers that are slid on the page of money: live with scripts, sent without."""

import pytest

SLUG = "marl-hollow-2"
MONEY = f"/{SLUG}/money/?year=2025"
MARK = "document.body.dataset.marked = 'here'"
"""Gone when a page is loaded, still there when parts of it are swapped."""


@pytest.fixture
def browse(page_of):
    """Open the page as Ann, its slides in sight; complaints are in ``complaints``."""

    def browse(**options):
        page = page_of("Ann", viewport={"width": 360, "height": 740}, **options)
        page.complaints = []
        page.on("console", lambda said: hear(page, said))
        page.on("pageerror", lambda error: page.complaints.append(str(error)))
        page.goto(MONEY)
        page.get_by_text("Try other numbers").click()
        return page

    return browse


def hear(page, said):
    if said.type in ("error", "warning"):
        page.complaints.append(said.text)


def slide(page, name, steps):
    page.focus(f"[name={name}]")
    for _step in range(steps):
        page.keyboard.press("ArrowRight")


def test_a_slide_changes_the_answer_where_it_stands_and_keeps_the_thumb(browse):
    page = browse()
    page.evaluate(MARK)
    before, price = page.inner_text("h1"), float(page.input_value("[name=reed_price]"))
    slide(page, "reed_price", 5)
    page.locator("#tried", has_text="of tall wheat should").wait_for()
    page.wait_for_timeout(500)
    assert page.inner_text("h1") != before
    assert page.inner_text("#tried") == page.inner_text("h1")
    assert page.locator(".slide output").first.inner_text() == f"{price + 50:g}"
    assert page.evaluate("document.activeElement.name") == "reed_price"
    assert page.evaluate("document.body.dataset.marked") == "here"
    assert page.complaints == []


def test_what_was_slid_is_sent_with_the_rest(browse):
    page = browse()
    slide(page, "wage", 4)
    wage = page.input_value("[name=wage]")
    page.fill("[name=area]", "2 ha")
    page.click("main form button")
    # What was slid is answered first, and then the form, which takes the focus.
    page.locator("#answer:focus").wait_for()
    page.get_by_role("heading", name="2 ha of tall wheat").wait_for()
    assert page.input_value("[name=wage]") == wage
    assert page.complaints == []


def test_without_scripts_a_slide_is_sent_by_the_button(browse):
    page = browse(java_script_enabled=False)
    before = page.inner_text("h1")
    slide(page, "wage", 4)
    page.click("main form button")
    page.wait_for_load_state()
    assert page.inner_text("h1") != before
    wage = page.input_value("[name=wage]")
    assert page.locator("[name=wage] + output").inner_text() == wage


def test_a_slide_is_large_enough_for_a_thumb(browse):
    page = browse()
    for each in page.locator("input[type=range]").all():
        assert each.bounding_box()["height"] >= 44
