"""``sheafwright serve``, as a grower starts and stops it."""

import contextlib
import os
import re
import shutil
import signal
import socket
import sqlite3
import ssl
import subprocess
import urllib.error
import urllib.request

import pytest

import blank_book
from server.conftest import SHEAFWRIGHT


@contextlib.contextmanager
def serving(folder, *more):
    """A server, and the lines it says first."""
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        port = asked.getsockname()[1]
    said = ["serve", "--holding", folder, "--port", str(port), "--no-browser"]
    server = subprocess.Popen(
        [SHEAFWRIGHT, *said, *more],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env=os.environ | {"PYTHONUNBUFFERED": "1"},
    )
    try:
        yield server, server.stdout.readline()
    finally:
        server.kill()
        server.wait()
        server.stdout.close()


def get(url, **options):
    with urllib.request.urlopen(url, timeout=30, **options) as answer:
        return answer.status, answer.url, answer.headers, answer.read().decode()


def address_in(line):
    return re.search(r"https?://\S+/", line)[0]


def tables(file):
    with contextlib.closing(sqlite3.connect(file)) as book:
        said = book.execute("SELECT name, sql FROM sqlite_master ORDER BY name")
        return dict(said.fetchall())


def test_it_prints_its_address_serves_and_stops_cleanly(tmp_path, blank_file):
    with serving(tmp_path / "book") as (server, line):
        url = address_in(line)
        status, where, headers, page = get(url)
        assert (status, where) == (200, f"{url}start/")
        assert "Start your book" in page
        assert "Cheroot" not in headers.get("Server", "")
        style = re.search(r'href="(/static/web/almanac\.[0-9a-f]{12}\.css)"', page)[1]
        assert "immutable" in get(url.rstrip("/") + style)[2]["Cache-Control"]
        server.send_signal(signal.SIGTERM)
        assert server.wait(timeout=30) == 0
        assert "Traceback" not in server.stdout.read()
    # Stopped cleanly, the book is one file with no log left beside it.
    assert not (tmp_path / "book/book.sqlite3-wal").exists()
    # Other tests begin with a copy of such a book: it is as a first start makes it.
    assert tables(tmp_path / "book/book.sqlite3") == tables(blank_file)


@pytest.fixture(scope="module")
def served(tmp_path_factory, anns_book):
    """Ann's book, while it is being served."""
    folder = tmp_path_factory.mktemp("served") / "book"
    shutil.copytree(anns_book, folder)
    with serving(folder):
        yield folder


def test_nothing_that_is_kept_is_for_other_accounts(served):
    kept = [path for path in served.iterdir() if path.is_file()]
    assert kept
    assert {path.stat().st_mode & 0o077 for path in kept} == {0}


def test_a_book_is_served_once_at_a_time(served, sheafwright):
    again = sheafwright("serve", "--holding", served, "--no-browser")
    assert (again.code, "is being served" in again.says) == (2, True)


def test_a_served_book_is_backed_up_but_not_replaced(tmp_path, served, sheafwright):
    away = tmp_path / "anns.zip"
    done = sheafwright("backup", away, "--holding", served)
    assert done.code == 0, done.says
    refused = sheafwright("restore", away, "--holding", served, "--replace")
    assert (refused.code, "is being served" in refused.says) == (2, True)


def test_a_port_that_is_taken_is_said_in_a_sentence(tmp_path, blank_file, sheafwright):
    folder = blank_book.begin(tmp_path / "book", blank_file)
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        said = ("serve", "--holding", folder, "--no-browser")
        done = sheafwright(*said, "--port", port)
    assert (done.code, f"Port {port} is taken" in done.says) == (2, True)


def test_on_the_farms_network_phones_trust_it_once_they_know_the_authority(
    tmp_path, blank_file
):
    folder = blank_book.begin(tmp_path / "book", blank_file)
    with serving(folder, "--lan") as (_server, line):
        url = address_in(line)
        assert url.startswith("https://")
        authority = folder / "certificates/authority.crt"
        knows = ssl.create_default_context(cafile=authority)
        status, _where, headers, _page = get(f"{url}csrf/", context=knows)
        assert status == 200
        assert "max-age=31536000" in headers["Strict-Transport-Security"]
        assert "Secure" in headers["Set-Cookie"]
        with pytest.raises(urllib.error.URLError, match="CERTIFICATE_VERIFY_FAILED"):
            get(url, context=ssl.create_default_context())
