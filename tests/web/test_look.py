"""Every page, as a phone and a desk show it, light and dark, and with scripts off.

The pages come from the resolver, so that a new one is looked at as soon as it is there.
"""

import re

import pytest
from axe_core_python.sync_playwright import Axe
from django.urls import get_resolver

from sheafwright.web.asks import ASKS
from sheafwright.web.forms.kinds import KINDS
from web.browser import SLUG

NO_PAGE = re.compile(
    r"api/|\.\w+$|^(csrf|units|sign-out|photos)/|/(end|leaves|people|place)/"
)
"""Addresses that answer a program, give a paper, or only take what is sent."""
PHONE, DESK = {"width": 360, "height": 740}, {"width": 1280, "height": 800}
GRAVE = {"serious", "critical"}
ONE_KIND = "threshing"
"""The longest form."""


def routes(patterns, before=""):
    for each in patterns:
        route = before + str(each.pattern)
        if below := getattr(each, "url_patterns", None):
            yield from routes(below, route)
        elif not NO_PAGE.search(route):
            yield route


def addresses():
    for route in routes(get_resolver().url_patterns):
        if "<slug:question>" in route:
            yield from (route.replace("<slug:question>", each) for each in ASKS)
            continue
        if "<slug:kind>" not in route:
            yield route
            continue
        yield route.replace("<slug:kind>", ONE_KIND)
        for kind in sorted(KINDS.keys() - {ONE_KIND}):
            # One template draws them all, so the rest are for the long proof.
            form = route.replace("<slug:kind>", kind)
            yield pytest.param(form, marks=pytest.mark.prove)


PAGES = ["sign-in/", "no/such/page/", "marl-hollow/today/", *addresses()]


def who_looks(route):
    return None if route == "sign-in/" else "Ann"


VIEWS = (PHONE, "dark"), (DESK, "light")
"""Each size and each scheme once."""
OTHERS = (PHONE, "light"), (DESK, "dark")


def grave(page):
    """What axe finds that keeps somebody out: rule and place."""
    found = Axe().run(page, options={"resultTypes": ["violations"]})
    return [
        f"{rule['id']}: {node['html'][:120]}"
        for rule in found["violations"]
        if rule["impact"] in GRAVE
        for node in rule["nodes"]
    ]


def too_wide(page):
    return page.evaluate(
        "document.documentElement.scrollWidth > document.documentElement.clientWidth"
    )


def small_targets(page):
    """Links and buttons less than 44 px high that do not stand in a sentence."""
    return page.evaluate(
        """() => [...document.querySelectorAll("a, button, summary, input, select")]
          .filter((each) => each.checkVisibility() && each.type !== "hidden")
          .filter((each) => !each.matches(".skip, [type=checkbox], [type=radio]"))
          .filter((each) => each.getBoundingClientRect().height < 43.5)
          .map((each) => each.outerHTML.slice(0, 120))"""
    )


@pytest.fixture(scope="module")
def seen_by(served, chromium, signed_in):
    """The page of whoever looks, one for all they look at: a new one takes longer."""
    opened = {}

    def open_for(name, **options):
        remembered = signed_in(name) if name else None
        said = {"base_url": served.url, "storage_state": remembered}
        return chromium.new_context(**said, **options).new_page()

    def seen_by(name, **options):
        who = name, *options.items()
        page = opened[who] = opened.get(who) or open_for(name, **options)
        page.set_viewport_size(PHONE)
        page.emulate_media(color_scheme="light")
        return page

    yield seen_by
    for page in opened.values():
        page.context.close()


@pytest.mark.parametrize("route", PAGES)
def test_everyone_can_read_it_and_a_cold_thumb_hits_it(route, seen_by, served):
    page = seen_by(who_looks(route))
    page.goto(served.address_of(route))
    assert small_targets(page) == []
    assert_fit_to_read(page, VIEWS)


@pytest.mark.prove
@pytest.mark.parametrize("route", [page for page in PAGES if isinstance(page, str)])
def test_everyone_can_read_it_by_either_light_at_either_size(route, seen_by, served):
    page = seen_by(who_looks(route))
    page.goto(served.address_of(route))
    assert_fit_to_read(page, OTHERS)


def assert_fit_to_read(page, views):
    for viewport, scheme in views:
        page.set_viewport_size(viewport)
        page.emulate_media(color_scheme=scheme)
        assert not too_wide(page)
        assert grave(page) == []


@pytest.mark.parametrize("route", PAGES)
def test_with_scripts_off_every_page_answers_and_every_form_is_plain(
    route, seen_by, served
):
    page = seen_by(who_looks(route), java_script_enabled=False)
    page.goto(served.address_of(route))
    assert page.locator("h1").inner_text().strip()
    for form in page.locator("form").all():
        assert form.get_attribute("method") in ("get", "post")
        assert form.locator("button:not([type=button])").count()


def test_the_list_of_pages_opens_with_scripts_off(page_of):
    page = page_of("Ann", viewport=PHONE, java_script_enabled=False)
    page.goto("/marl-hollow/today/")
    page.locator("summary", has_text="Pages").click()
    page.locator(".list-of-pages").get_by_role("link", name="Ricks").click()
    page.wait_for_url("**/marl-hollow/ricks/")


def test_the_first_view_of_today_is_light_on_the_wire(page_of):
    page = page_of("Ann", viewport=PHONE)
    wire = page.context.new_cdp_session(page)
    wire.send("Network.enable")
    sizes = []
    wire.on(
        "Network.loadingFinished", lambda got: sizes.append(got["encodedDataLength"])
    )
    page.goto(f"/{SLUG}/today/", wait_until="networkidle")
    assert 10_000 < sum(sizes) < 150_000


def test_a_bad_page_is_found_out(page_of):
    page = page_of(None, viewport=PHONE)
    page.set_content(
        "<title>Bad</title><h1>Bad</h1><a href='/'>Small</a>"
        "<p style='color: #ddd; width: 400px'>Too faint, too wide.</p>"
    )
    assert any(each.startswith("color-contrast") for each in grave(page))
    assert too_wide(page)
    assert len(small_targets(page)) == 1
