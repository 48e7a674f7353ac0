"""``sheafwright demo``: an invented holding, told, drawn and kept as a book."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

SHEAFWRIGHT = Path(sys.executable).with_name("sheafwright")
FEW = ("--seasons", "2", "--fields", "2")


def _run(folder, *words):
    return subprocess.run(
        [SHEAFWRIGHT, "demo", *FEW, *words],
        capture_output=True,
        text=True,
        cwd=folder,
        env=os.environ,
    )


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("demo")


@pytest.fixture(scope="module")
def printed(folder):
    done = _run(folder)
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_both_fields_are_told_and_the_chart_is_saved_here(printed, folder):
    assert printed.startswith("Marl Hollow, an invented holding, on 7 August 2025.")
    assert "Kiln Ground, 1.8 ha" in printed
    assert "Coldwell Bottom, 1.2 ha" in printed
    assert max(map(len, printed.splitlines())) <= 80
    assert (folder / "demo-outlook.svg").read_text("utf-8").startswith("<svg")


def test_the_book_is_made_and_its_people_are_told(printed, folder):
    assert (folder / "out/demo/book.sqlite3").exists()
    assert "owner@example.org" in printed
    assert re.search(r"the password \S{12}$", printed, re.MULTILINE)


def test_the_book_proves_itself(printed, folder, sheafwright):
    done = sheafwright("verify", "--holding", folder / "out/demo")
    assert done.code == 0, done.says


def test_made_again_the_book_is_left_as_it_was(printed, folder):
    done = _run(folder, "--json", "--chart", "again.png")
    answer = json.loads(done.stdout)
    assert list(answer) == ["Kiln Ground", "Coldwell Bottom"]
    assert (folder / "again.png").exists()
    assert "the password" in done.stderr


def test_an_ending_that_cannot_be_made_is_refused(folder):
    done = _run(folder, "--chart", "demo.gif")
    assert done.returncode == 2
    assert "should end in" in done.stderr
