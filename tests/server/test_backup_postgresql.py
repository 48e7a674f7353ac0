import os
import subprocess
import sys

import pytest

import postgresql
from records.conftest import new_database
from server.conftest import OWN_BOOK

__all__ = ["new_database"]


@pytest.fixture
def programs(new_database):
    """PostgreSQL's own, before any other version of them."""
    return {"PATH": f"{postgresql.programs()}{os.pathsep}{os.environ['PATH']}"}


@pytest.mark.prove
def test_a_book_on_postgresql_comes_back_into_an_empty_database(
    tmp_path, new_database, programs, sheafwright
):
    was = programs | {"DATABASE_URL": new_database()}
    back = programs | {"DATABASE_URL": new_database()}
    first, second, away = tmp_path / "one", tmp_path / "two", tmp_path / "away.zip"
    made = [sys.executable, OWN_BOOK, first]
    subprocess.run(made, check=True, env=os.environ | was)
    for done in (
        sheafwright("backup", away, "--holding", first, **was),
        sheafwright("restore", away, "--holding", second, **back),
        sheafwright("verify", "--holding", second, **back),
    ):
        assert done.code == 0, done.says
    # Once there, it takes the place of nothing.
    again = sheafwright("restore", away, "--holding", tmp_path / "three", **back)
    assert (again.code, "holds tables already" in again.says) == (2, True)


def test_without_postgresqls_programs_it_says_what_is_missing(
    tmp_path, new_database, sheafwright
):
    said = {"DATABASE_URL": new_database(), "PATH": str(tmp_path)}
    done = sheafwright("backup", tmp_path / "a.zip", "--holding", tmp_path, **said)
    assert (done.code, "pg_dump is not installed" in done.says) == (2, True)
    assert list(tmp_path.glob("*.zip*")) == []
