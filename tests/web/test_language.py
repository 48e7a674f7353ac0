"""Another language needs nothing but its catalogue."""

import importlib.util
import io
import json
import shutil
import subprocess
import sys
from pathlib import Path

import pypdf
import pytest
from django.utils import translation

from web.test_look import PAGES

GERMAN = """
msgid ""
msgstr "Content-Type: text/plain; charset=UTF-8\\n"

msgid "Sign in to your book."
msgstr "Melden Sie sich in Ihrem Buch an."

msgid "Complaints"
msgstr "Beschwerden"

msgid "Nothing was recorded in this period."
msgstr "In dieser Zeit wurde nichts vermerkt."
"""


@pytest.fixture
def german(tmp_path, settings):
    if shutil.which("msgfmt") is None:
        pytest.skip("msgfmt compiles catalogues: apt-get install gettext")
    folder = tmp_path / "de/LC_MESSAGES"
    folder.mkdir(parents=True)
    (folder / "django.po").write_text(GERMAN)
    compiled = ["msgfmt", "-o", folder / "django.mo", folder / "django.po"]
    subprocess.run(compiled, check=True)
    settings.LANGUAGES = [*settings.LANGUAGES, ("de", "Deutsch")]
    settings.LOCALE_PATHS = [tmp_path]
    yield
    translation.activate("en-gb")


def test_a_reader_of_german_is_asked_in_german(german, client, ann):
    page = client.get("/sign-in/", headers={"Accept-Language": "de"})
    assert "Melden Sie sich in Ihrem Buch an." in page.text
    assert '<html lang="de">' in page.text


def test_without_a_catalogue_the_page_is_english(client, ann):
    page = client.get("/sign-in/", headers={"Accept-Language": "de"})
    assert "Sign in to your book." in page.text
    assert '<html lang="en-gb">' in page.text


def test_a_sheet_to_print_speaks_the_readers_language(german, client, ann):
    client.force_login(ann)
    address = "/marl-hollow/book/record-book.pdf"
    printed = client.get(address, headers={"Accept-Language": "de"})
    assert "Beschwerden In dieser Zeit wurde nichts vermerkt." in _text(printed)
    plain = client.get(address, headers={"Accept-Language": "en"})
    assert "Complaints Nothing was recorded in this period." in _text(plain)


@pytest.fixture(scope="module")
def read_by_others(served):
    """What others than English readers of metric units would find on the pages."""
    routes = (getattr(page, "values", (page,))[0] for page in PAGES)
    pages = json.dumps([served.address_of(route) for route in routes])
    asked = [sys.executable, Path(__file__).with_name("told_pages.py")]
    told = subprocess.run(
        [*asked, served.folder, "Ann"], input=pages, capture_output=True, text=True
    )
    assert told.returncode == 0, told.stderr
    return json.loads(told.stdout)


def test_every_page_can_be_read_in_another_language(read_by_others):
    assert read_by_others["untold"] == {}


def test_no_page_has_metric_measures_for_who_reads_acres(read_by_others):
    assert read_by_others["metric"] == {}


def test_the_engines_words_are_gathered_for_translators(tmp_path):
    if shutil.which("xgettext") is None:
        pytest.skip("xgettext gathers words: apt-get install gettext")
    words = _tool("words")
    package = tmp_path / "sheafwright"
    shutil.copytree(words.PACKAGE, package, ignore=shutil.ignore_patterns("demo"))
    catalogue = words.gather("de", package).read_text()
    for each in (
        "Wait on {day}.",
        "{n} chances in 10",
        "Nothing presses today.",
        "{called} can't be right; it should be from {least} to {most}.",
        "Ears of one field differ",
    ):
        assert f'"{each}"' in catalogue.replace('"\n"', ""), each


def _tool(name):
    path = Path(__file__).parents[2] / "tools" / f"{name}.py"
    spec = importlib.util.spec_from_file_location(name, path)
    tool = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(tool)
    return tool


def _text(answer):
    content = b"".join(answer.streaming_content) if answer.streaming else answer.content
    pages = pypdf.PdfReader(io.BytesIO(content)).pages
    return " ".join(" ".join(page.extract_text().split()) for page in pages)
