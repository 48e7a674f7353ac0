import json
import subprocess
import sys
from pathlib import Path

import pytest
from django.db import connection, transaction

import blank_book
from sheafwright.records.models import Balance, Movement
from sheafwright.records.verify import verify

HERE = Path(__file__).parent
RULE = {
    "sqlite": "DROP TRIGGER {table}_no_{verb}",
    "postgresql": "DROP TRIGGER {table}_no_change ON {table}",
}


@pytest.fixture
def tamper(threshing):
    """Change the book behind its own back, past the rules it keeps."""

    def change(table, sql, verb="update"):
        with connection.cursor() as cursor:
            drop = RULE[connection.vendor].format(table=table, verb=verb)
            if table != "records_balance":
                cursor.execute(drop)
            cursor.execute(sql)

    return change


def wrong():
    return " ".join(verify().failures)


def test_a_book_as_it_was_written_is_sound(threshing):
    verified = verify()
    assert verified.is_sound
    assert (verified.holdings, verified.movements, verified.lines) == (1, 4, 10)
    assert "4 movements with 10 lines" in verified.sentence


def test_an_empty_book_is_sound(db):
    assert verify().is_sound


def test_a_changed_note_breaks_the_seal(tamper):
    tamper("records_movement", "UPDATE records_movement SET note = 'x' WHERE seq = 2")
    assert "Movement 2 of Marl Hollow does not say what it was sealed with" in wrong()


def test_a_changed_hour_is_found(tamper):
    tamper("records_movement", "UPDATE records_movement SET made_at = '2020-01-01'")
    assert "was not written when it says" in wrong()


def test_a_changed_weight_is_found(tamper):
    tamper("records_line", "UPDATE records_line SET grams = 1 WHERE grams > 0")
    said = wrong()
    assert "does not balance" in said
    assert "is not the sum of its lines" in said


def test_a_removed_movement_leaves_a_gap(tamper):
    sql = "DELETE FROM records_movement WHERE seq = 2"
    with transaction.atomic():
        tamper("records_movement", sql, verb="delete")
        said = wrong()
        transaction.set_rollback(True)
    assert "Movement 2 of Marl Hollow is missing" in said
    assert "lines are of no movement" in said


def test_a_place_given_to_something_else_is_found(tamper):
    sql = "UPDATE records_place SET kind = 'stooks' WHERE kind = 'rick'"
    tamper("records_place", sql)
    assert "is of nothing on its holding" in wrong()


def test_a_balance_put_up_is_found(tamper):
    tamper("records_balance", "UPDATE records_balance SET grams = grams + 1")
    assert Balance.objects.count() == wrong().count("is not the sum of its lines")


def test_a_balance_that_may_owe_is_found(tamper):
    sql = "UPDATE records_balance SET may_be_negative = true"
    tamper("records_balance", sql)
    assert "may hold less than nothing" in wrong()


def test_a_rule_taken_out_is_found(tamper):
    tamper("records_line", "SELECT 1")
    assert verify().failures == (
        "Rules of the book are missing or changed in the database.",
    )


def test_what_cannot_be_read_is_said_in_words(tamper):
    tamper("records_movement", "UPDATE records_movement SET said_at = 'soon'")
    assert "The book cannot be read: Invalid isoformat string: 'soon'." in wrong()
    assert Movement.objects.exists()


def test_a_day_that_is_none_is_said_in_words(tamper):
    tamper("records_movement", "UPDATE records_movement SET date = 'never'")
    assert "The book cannot be read: a value in it is of the wrong kind." in wrong()


@pytest.fixture(scope="module")
def kept(tmp_path_factory, blank_file):
    """A small book in a folder."""
    folder = blank_book.begin(tmp_path_factory.mktemp("verify") / "book", blank_file)
    subprocess.run([sys.executable, HERE / "write_on.py", folder, "make"], check=True)
    return folder


def changes(folder, count):
    program = [sys.executable, HERE / "flip_bytes.py", folder, str(count)]
    done = subprocess.run(program, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def assert_all_found(told, count):
    assert told["changes"] >= count
    assert told["missed"] == []
    # The few others lie in bytes that say nothing.
    assert told["found"] > 0.9 * told["changes"]


def test_one_byte_changed_in_the_book_is_found(kept):
    assert_all_found(changes(kept, 100), 100)


@pytest.mark.prove
def test_any_byte_changed_in_the_book_is_found(kept):
    assert_all_found(changes(kept, 2000), 2000)


def sheafwright(*words):
    program = Path(sys.executable).with_name("sheafwright")
    done = subprocess.run([program, *words], capture_output=True, text=True)
    return done.returncode, " ".join((done.stdout + done.stderr).split())


def test_the_command_says_how_much_it_checked(kept):
    code, said = sheafwright("verify", "--holding", kept)
    assert code == 0
    assert "The book is sound: 4 movements with 8 lines, in 1 book," in said


def test_the_command_fails_on_a_copy_with_one_byte_changed(kept, tmp_path):
    book = (kept / "book.sqlite3").read_bytes()
    seal = book.rindex(b"+00:00") - 1
    copy = tmp_path / "book.sqlite3"
    copy.write_bytes(book[:seal] + bytes([book[seal] ^ 1]) + book[seal + 1 :])
    (tmp_path / "key").write_text("k" * 50)
    code, said = sheafwright("verify", "--holding", tmp_path)
    assert code == 1
    assert "The book is not as it was written" in said
    code, said = sheafwright("verify", "--json", "--holding", tmp_path)
    assert (code, json.loads(said)["sound"]) == (1, False)


def test_the_command_fails_on_what_is_no_book(tmp_path):
    (tmp_path / "key").write_text("k" * 50)
    (tmp_path / "book.sqlite3").write_text("no book" * 1000)
    code, said = sheafwright("verify", "--holding", tmp_path)
    assert code == 1
    assert "file is not a database" in said
