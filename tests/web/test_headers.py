"""What every answer tells the browser, and what it never tells."""

import re
from pathlib import Path

import pytest
from django.conf import settings
from django.test import Client

from sheafwright import web

STYLE_OR_SCRIPT = re.compile(
    r"<style|<script(?![^>]* src=)|\sstyle=|\son[a-z]+=|javascript:", re.IGNORECASE
)


def test_scripts_and_styles_come_from_here_and_from_files_only(db, client):
    said = client.get("/start/").headers["Content-Security-Policy"]
    policy = dict(part.split(" ", 1) for part in said.split("; "))
    assert policy["default-src"] == "'self'"
    assert policy["img-src"] == "'self' data: blob:"
    assert policy["frame-ancestors"] == policy["object-src"] == "'none'"
    assert "script-src" not in policy
    assert "unsafe" not in said


def test_no_template_carries_a_script_or_a_style_in_itself():
    templates = list(Path(*web.__path__, "templates").rglob("*.html"))
    assert len(templates) > 20
    for path in templates:
        assert not STYLE_OR_SCRIPT.search(path.read_text("utf-8")), path.name


@pytest.mark.parametrize(
    ("header", "value"),
    [
        ("X-Frame-Options", "DENY"),
        ("X-Content-Type-Options", "nosniff"),
        ("Referrer-Policy", "same-origin"),
        ("Cross-Origin-Opener-Policy", "same-origin"),
    ],
)
def test_every_page_carries(db, client, header, value):
    assert client.get("/start/").headers[header] == value


def test_a_form_without_its_token_is_refused_in_a_sentence(db):
    refused = Client(enforce_csrf_checks=True).post("/sign-in/", {"username": "a"})
    assert refused.status_code == 403
    assert "grown too old" in refused.text


def test_a_page_that_breaks_shows_nothing_of_how(db, monkeypatch):
    def broken(request):
        raise ValueError("secret-straw")

    monkeypatch.setattr("sheafwright.web.views.entry.nobody_yet", broken)
    page = Client(raise_request_exception=False).get("/")
    assert page.status_code == 500
    assert "was not written down" in page.text
    assert "secret-straw" not in page.text
    assert "Traceback" not in page.text


def test_the_session_is_out_of_scripts_reach(db, client, ann):
    ann.set_password("three wet harvests")
    ann.save()
    said = {"username": ann.email, "password": "three wet harvests"}
    client.post("/sign-in/", said)
    session = client.cookies[settings.SESSION_COOKIE_NAME]
    assert (session["httponly"], session["samesite"]) == (True, "Lax")


def test_nothing_kept_has_an_address(db, client, ann, settings):
    kept = Path(settings.MEDIA_ROOT) / "photos/nodes.jpg"
    kept.parent.mkdir(parents=True, exist_ok=True)
    kept.write_bytes(b"a picture")
    client.force_login(ann)
    for address in ("/kept/photos/nodes.jpg", "/static/../kept/photos/nodes.jpg"):
        assert client.get(address).status_code == 404
