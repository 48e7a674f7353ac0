import hashlib
import json
import sqlite3
import zipfile

import pytest

from sheafwright.core.errors import UnreadableInput
from sheafwright.records.backup import unpack


@pytest.fixture(scope="session")
def backup_path(anns_book, tmp_path_factory):
    return tmp_path_factory.mktemp("away") / "anns.zip"


@pytest.fixture
def backup(anns_book, backup_path, sheafwright):
    """Ann's book in a file; made once."""
    if not backup_path.exists():
        done = sheafwright("backup", backup_path, "--holding", anns_book)
        assert done.code == 0, done.says
    return backup_path


@pytest.fixture
def altered(backup, tmp_path):
    """The backup with some of its files changed: name to new content, or to None."""

    def alter(**changes):
        path = tmp_path / "altered.zip"
        with zipfile.ZipFile(backup) as was, zipfile.ZipFile(path, "w") as now:
            content = {name: was.read(name) for name in was.namelist()} | {
                name.replace("__", "/").replace("_dot_", "."): new
                for name, new in changes.items()
            }
            for name, new in content.items():
                if new is not None:
                    now.writestr(name, new)
        return path

    return alter


def everything_in(book):
    with sqlite3.connect(book / "book.sqlite3") as opened:
        return sorted(opened.iterdump())


def test_a_restored_book_is_the_same_row_for_row(
    anns_book, backup, tmp_path, sheafwright
):
    done = sheafwright("restore", backup, "--holding", tmp_path / "back")
    assert done.code == 0, done.says
    assert everything_in(tmp_path / "back") == everything_in(anns_book)
    photo = tmp_path / "back/kept/photos/nodes.jpg"
    assert photo.read_bytes() == b"a picture"


def test_its_manifest_says_the_hash_of_every_file_and_table(anns_book, backup):
    with zipfile.ZipFile(backup) as archive:
        manifest = json.loads(archive.read("manifest.json"))
        book = hashlib.sha256(archive.read("book.sqlite3")).hexdigest()
    assert manifest["files"]["book.sqlite3"]["sha256"] == book
    with sqlite3.connect(anns_book / "book.sqlite3") as opened:
        names = "SELECT name FROM sqlite_master WHERE type = 'table'"
        tables = {name for (name,) in opened.execute(names)} - {"sqlite_sequence"}
    assert set(manifest["tables"]) == tables
    assert manifest["tables"]["records_movement"]["rows"] > 0


def test_a_backup_keeps_every_kept_file_and_no_key(anns_book, backup):
    kept = anns_book / "kept"
    files = {
        path.relative_to(anns_book).as_posix()
        for path in kept.rglob("*")
        if path.is_file()
    }
    with zipfile.ZipFile(backup) as archive:
        names = set(archive.namelist())
    assert names == {"book.sqlite3", "manifest.json"} | files


def test_a_backup_takes_the_place_of_no_other_file(anns_book, backup, sheafwright):
    done = sheafwright("backup", backup, "--holding", anns_book)
    assert (done.code, "there already" in done.says) == (2, True)


def test_a_backup_wants_a_folder_that_is_there(anns_book, tmp_path, sheafwright):
    done = sheafwright("backup", "--holding", anns_book, tmp_path / "no" / "x.backup")
    assert (done.code, "There is no folder" in done.says) == (2, True)


def test_a_folder_without_a_book_cannot_be_backed_up(tmp_path, sheafwright):
    done = sheafwright("backup", tmp_path / "a.zip", "--holding", tmp_path / "none")
    assert done.code == 2
    assert not (tmp_path / "none").exists()


def test_a_book_is_replaced_only_if_asked_and_then_kept_beside(
    backup, tmp_path, sheafwright
):
    there = tmp_path / "back"
    there.mkdir()
    (there / "mine").write_text("kept")
    refused = sheafwright("restore", backup, "--holding", there)
    assert (refused.code, "isn't empty" in refused.says) == (2, True)
    assert sheafwright("restore", backup, "--holding", there, "--replace").code == 0
    (old,) = tmp_path.glob("back-before-*")
    assert (old / "mine").read_text() == "kept"
    assert (there / "book.sqlite3").exists()


def refused(sheafwright, archive, tmp_path, *because):
    """Nothing is left of a restore that was refused."""
    done = sheafwright("restore", archive, "--holding", tmp_path / "back")
    assert done.code == 2, done.says
    assert all(word in done.says for word in because), done.says
    assert not (tmp_path / "back").exists()
    assert not list(tmp_path.glob(".back-*"))


def test_an_archive_cut_short_is_refused(backup, tmp_path, sheafwright):
    short = tmp_path / "short.zip"
    short.write_bytes(backup.read_bytes()[:-1000])
    refused(sheafwright, short, tmp_path, "no whole backup")


def cannot_be_unpacked(archive, tmp_path, *because):
    into = tmp_path / "into"
    into.mkdir()
    with pytest.raises(UnreadableInput) as refusal:
        unpack(archive, into)
    assert all(word in str(refusal.value) for word in because)


def test_an_archive_with_one_byte_changed_is_refused(backup, tmp_path):
    content = bytearray(backup.read_bytes())
    with zipfile.ZipFile(backup) as archive:
        # The weather is packed already: no byte of it can say the same in another way.
        record = next(i for i in archive.infolist() if i.filename.endswith("-record"))
    content[record.header_offset + record.compress_size // 2] ^= 1
    changed = tmp_path / "changed.zip"
    changed.write_bytes(content)
    cannot_be_unpacked(changed, tmp_path)


def test_another_photo_than_was_backed_up_is_refused(altered, tmp_path):
    archive = altered(kept__photos__nodes_dot_jpg=b"another!!")
    cannot_be_unpacked(archive, tmp_path, "nodes.jpg", "not as it was backed up")


def test_a_file_that_the_manifest_leaves_out_is_refused(altered, tmp_path):
    cannot_be_unpacked(altered(kept__more=b"!"), tmp_path, "other files")


def test_a_backup_without_its_photo_is_refused(altered, tmp_path):
    archive = altered(kept__photos__nodes_dot_jpg=None)
    cannot_be_unpacked(archive, tmp_path, "other files")


@pytest.mark.parametrize(
    "name",
    ["../out", "kept/../../out", "/out", "kept/../key", "kept\\..\\out", "key", "kept"],
)
def test_a_name_that_leads_elsewhere_is_refused(name, tmp_path):
    archive = tmp_path / "sly.zip"
    files = {
        n: {"size": 1, "sha256": hashlib.sha256(b"!").hexdigest()} for n in (name,)
    }
    files["book.sqlite3"] = files[name]
    manifest = {"files": files, "tables": {}, "made_at": "", "format": 1}
    with zipfile.ZipFile(archive, "w") as packed:
        packed.writestr("manifest.json", json.dumps(manifest))
        for each in files:
            packed.writestr(each, b"!")
    cannot_be_unpacked(archive, tmp_path, "manifest")
    assert not list(tmp_path.parent.rglob("out"))


@pytest.mark.parametrize("manifest", ["{}", "[1]", "no json", '{"files": 3}'])
def test_a_manifest_that_makes_no_sense_is_refused(manifest, altered, tmp_path):
    archive = altered(manifest_dot_json=manifest.encode())
    cannot_be_unpacked(archive, tmp_path, "manifest")


def test_a_book_altered_together_with_its_manifest_is_refused(
    anns_book, backup, tmp_path, sheafwright
):
    """Whoever can write the hashes anew still cannot mend the chain of the book."""
    archive = forged(
        backup,
        tmp_path,
        "DROP TRIGGER records_movement_no_update",
        "UPDATE records_movement SET note = 'forged' WHERE seq = 2",
    )
    refused(sheafwright, archive, tmp_path, "not as it was written", "Movement 2")


def forged(backup, tmp_path, *statements):
    """The backup with its book changed, and with a manifest that fits."""
    path = tmp_path / "forged.zip"
    with zipfile.ZipFile(backup) as was:
        content = {name: was.read(name) for name in was.namelist()}
    book = tmp_path / "forged.sqlite3"
    book.write_bytes(content["book.sqlite3"])
    with sqlite3.connect(book) as opened:
        for statement in statements:
            opened.execute(statement)
    content["book.sqlite3"] = book.read_bytes()
    manifest = json.loads(content["manifest.json"])
    manifest["files"]["book.sqlite3"] = {
        "size": len(content["book.sqlite3"]),
        "sha256": hashlib.sha256(content["book.sqlite3"]).hexdigest(),
    }
    manifest["tables"] = {}
    content["manifest.json"] = json.dumps(manifest)
    with zipfile.ZipFile(path, "w") as now:
        for name, new in content.items():
            now.writestr(name, new)
    return path


def test_a_backup_of_a_later_version_is_refused(backup, tmp_path, sheafwright):
    archive = forged(
        backup,
        tmp_path,
        "INSERT INTO django_migrations (app, name, applied)"
        " VALUES ('records', '9999_later', '2030-01-01')",
    )
    refused(sheafwright, archive, tmp_path, "later than this")
