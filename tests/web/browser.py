"""A served book, and Chromium with someone signed in."""

import contextlib
import dataclasses
import re
import socket
import sqlite3
import subprocess
import sys
import time
import urllib.request
import uuid
from pathlib import Path

import pytest

from sheafwright.records.demo.book import id_of
from web.own_book import PASSWORD

CHROMIUM = Path("/usr/bin/chromium")
PATIENCE_S = 120
DEMO = id_of("holding")
SLUG = "marl-hollow-2"
"""The demo's, beside Ann's own."""


@dataclasses.dataclass
class Served:
    """A book being served."""

    folder: Path
    url: str

    def count(self, table):
        """Rows of a table, read past the server."""
        with sqlite3.connect(self.folder / "book.sqlite3") as book:
            return book.execute(f"SELECT count(*) FROM {table}").fetchone()[0]

    def any_id(self, kind):
        """The id of a thing of the demo holding, or of one of Ann's keys."""
        with sqlite3.connect(self.folder / "book.sqlite3") as book:
            tables = {
                name for (name,) in book.execute("SELECT name FROM sqlite_master")
            }
            app = "records" if f"records_{kind}" in tables else "accounts"
            of_demo = f" WHERE holding_id = '{DEMO.hex}'" if app == "records" else ""
            return book.execute(f"SELECT id FROM {app}_{kind}{of_demo}").fetchone()[0]

    def address_of(self, route):
        """The address of a route, with things that there are."""

        def filled(found):
            if found["name"] == "slug":
                return SLUG
            return str(uuid.UUID(self.any_id(found["name"].removesuffix("_id"))))

        return "/" + re.sub(r"<\w+:(?P<name>\w+)>", filled, route)


@contextlib.contextmanager
def serving(folder):
    """A folder's book, served by ``sheafwright serve`` as a grower would."""
    port = free_port()
    command = [Path(sys.executable).with_name("sheafwright"), "serve"]
    options = ["--holding", folder, "--port", str(port), "--no-browser"]
    with subprocess.Popen([*command, *options], stdout=subprocess.DEVNULL) as server:
        try:
            yield Served(folder, until_up(f"http://127.0.0.1:{port}", server))
        finally:
            server.terminate()


@pytest.fixture(scope="session")
def served(book_of):
    """Ann's book, served."""
    with serving(book_of("own_book.py")) as served:
        yield served


@pytest.fixture(scope="module")
def chromium():
    """A browser, put away after each module: beside its loop Django reads no book."""
    from playwright.sync_api import sync_playwright

    if not CHROMIUM.exists():
        pytest.fail("These tests need Chromium: apt-get install chromium")
    with sync_playwright() as started:
        browser = started.chromium.launch(
            executable_path=CHROMIUM, args=["--no-sandbox"]
        )
        yield browser
        browser.close()


@pytest.fixture(scope="module")
def signed_in(served, chromium):
    """What a browser remembers of somebody who signed in, by name."""
    known = {}

    def remembered(name):
        if name not in known:
            with chromium.new_context(base_url=served.url) as context:
                sign_in(context.new_page(), name)
                known[name] = context.storage_state()
        return known[name]

    return remembered


@pytest.fixture
def page_of(served, chromium, signed_in):
    """Open a page as somebody: ``page_of("Ben", viewport=…)``."""
    opened = []

    def page_of(name, **options):
        remembered = signed_in(name) if name else None
        context = chromium.new_context(
            base_url=served.url, storage_state=remembered, **options
        )
        opened.append(context)
        return context.new_page()

    yield page_of
    for context in opened:
        context.close()


def sign_in(page, name):
    page.goto("/sign-in/")
    page.fill("[name=username]", f"{name.lower()}@example.org")
    page.fill("[name=password]", PASSWORD)
    page.click("main button")
    page.wait_for_url(lambda url: "sign-in" not in url)


def says(page):
    """The words of a page's own part."""
    return " ".join(page.inner_text("main").replace("\u00a0", " ").split())


def tap(page, link, **said):
    """Follow a link to its form, fill what it has not begun, and send it."""
    page.get_by_role("link", name=link).first.click()
    for name, value in said.items():
        field = page.locator(f"main [name={name}]")
        if value is True:
            field.check()
        elif field.evaluate("each => each.tagName") == "SELECT":
            field.select_option(label=value)
        else:
            field.fill(value)
    page.click("main form button")
    wrong = page.locator(".wrong, .errorlist")
    written = page.locator(".messages", has_text="Written down.")
    written.or_(wrong).first.wait_for()
    assert wrong.count() == 0, wrong.all_inner_texts()
    return says(page)


def free_port():
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return asked.getsockname()[1]


def until_up(url, server):
    until = time.monotonic() + PATIENCE_S
    while time.monotonic() < until and server.poll() is None:
        try:
            urllib.request.urlopen(f"{url}/csrf/", timeout=30).close()
        except OSError:
            time.sleep(0.1)
        else:
            return url
    raise TimeoutError(f"No answer from {url} within {PATIENCE_S} s.")
