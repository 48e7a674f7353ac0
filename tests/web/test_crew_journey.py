"""A harvest day in the browser: the binder breaks, is mended, and a shower comes."""

import time

import pytest

from web.browser import serving, sign_in

SOON_S = 3.0


@pytest.fixture(scope="module")
def harvest_day(book_of):
    """Ann's book on a day with a plan, served."""
    pytest.importorskip("ortools", reason="CP-SAT is not installed")
    with serving(book_of("crew_day_book.py")) as served:
        yield served


@pytest.fixture(scope="module")
def cutting(harvest_day, chromium):
    """*Cutting* as Ann sees it, in a browser that runs scripts or one that doesn't."""
    opened = []

    def cutting(**options):
        opened.append(chromium.new_context(base_url=harvest_day.url, **options))
        page = opened[-1].new_page()
        sign_in(page, "Ann")
        page.goto("/marl-hollow/cutting/")
        return page

    yield cutting
    for context in opened:
        context.close()


@pytest.fixture(scope="module")
def plain(cutting):
    return cutting(java_script_enabled=False)


@pytest.fixture(scope="module")
def page(cutting):
    return cutting()


def tap(page, summary, button, answer):
    """Open what is said, tap a button in it, and wait for the answer on the page."""
    fold = page.locator("details.quick", has_text=summary)
    fold.locator("summary").click()
    began = time.monotonic()
    fold.get_by_role("button", name=button).click()
    page.locator("main", has_text=answer).wait_for()
    assert time.monotonic() - began < SOON_S
    return page.inner_text("main")


BROKEN = "The old binder is broken…", "since this morning", "The old binder is broken."
MENDED = "The old binder is mended…", "since this morning", "The old binder is mended."


def test_the_days_plan_says_who_does_what(plain):
    says = plain.inner_text("main")
    assert "Who does what" in says
    assert "cut 0.8 ha of Hanger with The old binder" in says


def test_the_binder_breaks_and_is_mended_by_plain_posts(plain):
    says = tap(plain, *BROKEN)
    assert "cart at Sheepcote instead of cutting." in says
    assert "of Hanger with The old binder" not in says
    assert "of Hanger with The old binder" in tap(plain, *MENDED)


def test_the_binder_breaks_and_is_mended_in_place(page):
    says = tap(page, *BROKEN)
    assert "2.0 ha less of Hanger is cut." in says
    assert "of Hanger with The old binder" in tap(page, *MENDED)


def test_a_shower_stops_work_and_the_plan_says_so(page):
    says = tap(page, "A shower came…", "this morning", "nothing: a shower")
    assert "A shower on Thursday 20 August in the morning." in says
