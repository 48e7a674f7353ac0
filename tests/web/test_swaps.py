"""Forms that answer in place: with scripts, without them, and without signal."""

import pytest

from web.test_asks import SAID

SLUG = "marl-hollow-2"
DRILL = f"/{SLUG}/ask/drill/"
GROWING = f"/{SLUG}/growing/"
OBSERVATIONS = "records_observation"
MARK = "document.body.dataset.marked = 'here'"
"""Gone when a page is loaded, still there when it is swapped."""


@pytest.fixture
def browse(page_of):
    """Open a page as Ann; what the browser complains of is in its ``complaints``."""

    def browse(address, **options):
        page = page_of("Ann", viewport={"width": 360, "height": 740}, **options)
        page.complaints = []
        page.on("console", lambda said: hear(page, said))
        page.on("pageerror", lambda error: page.complaints.append(str(error)))
        page.goto(address)
        return page

    return browse


def hear(page, said):
    # A refusal's own status is told as an error to nobody but the console.
    if said.type in ("error", "warning") and "status of 400" not in said.text:
        page.complaints.append(said.text)


def fill(page, **said):
    for name, value in said.items():
        page.fill(f"main [name={name}]", value)
    page.click("main form button")


def is_same_page(page):
    return page.evaluate("document.body.dataset.marked") == "here"


def test_an_ask_is_answered_in_place_and_in_view(browse):
    page = browse(DRILL)
    page.evaluate(MARK)
    fill(page, **SAID["drill"])
    page.get_by_role("heading", name="Ask again").wait_for()
    assert page.inner_text("h1").startswith("Set the drill to 45.2")
    assert page.evaluate("document.activeElement.id") == "answer"
    assert page.locator("h1").evaluate("each => each.getBoundingClientRect().y") < 200
    assert page.input_value("[name=catches]") == SAID["drill"]["catches"]
    assert is_same_page(page)
    assert page.complaints == []


def test_a_refusal_comes_in_place_with_what_was_typed(browse):
    page = browse(DRILL)
    page.evaluate(MARK)
    fill(page, **SAID["drill"] | {"wanted": "7 furlongs"})
    page.locator(".errorlist").wait_for()
    assert "a unit we don't know" in page.inner_text(".errorlist")
    assert page.input_value("[name=wanted]") == "7 furlongs"
    assert page.evaluate("document.activeElement.name") == "wanted"
    fill(page, wanted=SAID["drill"]["wanted"])
    page.get_by_role("heading", name="Ask again").wait_for()
    assert is_same_page(page)
    assert page.complaints == []


def test_without_scripts_the_same_is_answered(browse):
    pages = [browse(DRILL), browse(DRILL, java_script_enabled=False)]
    for page in pages:
        fill(page, **SAID["drill"])
        page.get_by_role("heading", name="Ask again").wait_for()
    swapped, plain = (page.inner_text("main") for page in pages)
    assert swapped == plain


def test_without_signal_a_question_waits_in_its_form(browse):
    page = browse(DRILL)
    page.context.set_offline(True)
    fill(page, **SAID["drill"])
    page.get_by_text("No answer came.").wait_for()
    assert page.input_value("[name=catches]") == SAID["drill"]["catches"]
    page.context.set_offline(False)
    page.click("main form button")
    page.get_by_role("heading", name="Ask again").wait_for()
    assert page.url.endswith(DRILL)


def test_signed_out_meanwhile_one_signs_in_and_comes_back(browse):
    page = browse(DRILL)
    page.context.clear_cookies(name="sessionid")
    fill(page, **SAID["drill"])
    page.locator("[name=username]").wait_for()
    sign_in = page.locator("main form").get_attribute("action")
    assert sign_in == f"/sign-in/?next={DRILL}"


def tap_a_stage(page):
    page.locator(".quick summary").first.click()
    page.locator(".quick button").first.click()


def test_a_stage_seen_is_written_once_and_shown_in_place(browse, served):
    before = served.count(OBSERVATIONS)
    page = browse(GROWING)
    page.evaluate(MARK)
    tap_a_stage(page)
    page.locator(".messages", has_text="Written down.").wait_for()
    assert served.count(OBSERVATIONS) == before + 1
    assert is_same_page(page)
    assert page.complaints == []


def test_a_stage_seen_without_signal_is_kept_and_sent_once(browse, served):
    before = served.count(OBSERVATIONS)
    page = browse(GROWING)
    page.context.set_offline(True)
    tap_a_stage(page)
    page.get_by_text("No signal: kept on this phone").wait_for()
    assert page.locator("[data-unsent]").inner_text() == "1 entry not yet sent"
    page.context.set_offline(False)
    page.locator("[data-unsent]").wait_for(state="hidden")
    assert served.count(OBSERVATIONS) == before + 1


def test_an_answer_that_is_lost_on_its_way_is_not_written_twice(browse, served):
    before = served.count(OBSERVATIONS)
    page = browse(GROWING)

    def lost(route):
        route.fetch()
        route.abort()

    page.route("**/write/observation/", lost, times=1)
    # Kept, and sent again, it brings the page anew.
    with page.expect_navigation():
        tap_a_stage(page)
    assert served.count(OBSERVATIONS) == before + 1
