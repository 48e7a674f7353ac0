"""Another language needs nothing but its catalogue."""

import io
import shutil
import subprocess

import pypdf
import pytest
from django.utils import translation

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


def _text(answer):
    content = b"".join(answer.streaming_content) if answer.streaming else answer.content
    pages = pypdf.PdfReader(io.BytesIO(content)).pages
    return " ".join(" ".join(page.extract_text().split()) for page in pages)
