"""A rick heats to 62 °C, is told of on every page, and cools, as its grower sees it."""

import datetime

import pytest

FAR_EDGE = "/far-edge"
NOW = datetime.datetime.now() - datetime.timedelta(hours=3)
"""No later than the clock of the holding, wherever this runs."""
THEN = NOW - datetime.timedelta(days=5)
"""Long enough ago that a cool reading now says that it has cooled."""
BUILT = (NOW - datetime.timedelta(days=9)).date()


def write(page, kind, said):
    page.goto(f"{FAR_EDGE}/write/{kind}/")
    for name, value in said.items():
        field = page.locator(f"main [name={name}]")
        if field.evaluate("each => each.tagName") == "SELECT":
            field.select_option(value)
        else:
            field.fill(value)
    page.click("main form button")
    page.locator(".messages", has_text="Written down.").wait_for()


def probed(page, at, heat):
    when = at.strftime("%Y-%m-%dT%H:%M")
    said = {"rick": page.rick, "temperature_c": heat, "at": when, "depth_m": "5 ft"}
    write(page, "rick-reading", said)


@pytest.fixture(scope="module")
def cleo(served, chromium, signed_in):
    """Cleo's browser; she has a rick, and has written down whom to ring."""
    with chromium.new_context(
        base_url=served.url, storage_state=signed_in("Cleo")
    ) as context:
        page = context.new_page()
        rick = {"name": "Long rick", "built": BUILT.isoformat(), "cover": "thatched"}
        write(page, "rick", rick)
        write(page, "call-list", {"who": "Fire service 999\nCleo 07700 900 133"})
        page.goto(f"{FAR_EDGE}/write/rick-reading/")
        options = page.locator("main [name=rick] option")
        page.rick = options.nth(1).get_attribute("value")
        yield page


@pytest.fixture(scope="module")
def hot(cleo):
    """The probe has read 62 °C."""
    probed(cleo, THEN, "62")
    return cleo


def alarm_on(page, path):
    page.goto(f"{FAR_EDGE}/{path}/")
    return page.locator("[role=alert]")


@pytest.mark.parametrize("path", ["today", "ground", "cutting", "ricks", "book"])
def test_every_page_says_to_ring_before_it_is_opened(path, hot):
    alarm = alarm_on(hot, path)
    said = alarm.inner_text()
    assert "62 °C" in said and "ring the fire service" in said
    assert "Ring, in this order: Fire service 999; Cleo 07700 900 133." in said
    number = alarm.get_by_role("link", name="07700 900 133")
    assert number.get_attribute("href") == "tel:07700900133"


def test_it_is_not_threshed_before_the_fire_service_is_spoken_of(hot):
    hot.goto(f"{FAR_EDGE}/write/threshing/?rick={hot.rick}")
    question = hot.locator("main [name=fire_service]")
    assert question.is_visible()
    hot.click("main form button")
    wrong = hot.locator(".errorlist", has_text="ring the fire service")
    wrong.first.wait_for()
    assert question.is_visible()


def test_its_card_is_there_to_print(hot):
    card = hot.request.get(f"{FAR_EDGE}/ricks/{hot.rick}/card.pdf")
    assert card.ok
    assert card.body().startswith(b"%PDF")


def test_once_it_has_cooled_the_alarm_goes(hot):
    probed(hot, NOW, "24")
    assert alarm_on(hot, "today").count() == 0
    hot.goto(f"{FAR_EDGE}/ricks/")
    assert "Long rick is cool" in hot.inner_text("h1")
    assert "62.0" in hot.inner_text("main table")
