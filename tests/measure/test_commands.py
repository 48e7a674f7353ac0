"""``sheafwright board`` and ``sheafwright straw``: their prints, JSON and refusals."""

import json

import pytest
from click.testing import CliRunner
from PIL import Image

from sheafwright.cli import board, straw
from sheafwright.core.errors import OutOfRange


def run(command, *options):
    done = CliRunner().invoke(command, list(map(str, options)), catch_exceptions=False)
    assert done.exit_code == 0, done.output
    return done.output


@pytest.fixture(scope="module")
def photo(scene, tmp_path_factory):
    path = tmp_path_factory.mktemp("photos") / "ann.jpg"
    path.write_bytes(scene.jpeg)
    return path


def test_a_board_is_written_as_a_pdf(tmp_path):
    said = run(board.command, tmp_path / "board.pdf", "--paper", "A3")
    assert "print it at full size" in said
    assert (tmp_path / "board.pdf").read_bytes().startswith(b"%PDF")


def test_stems_are_printed_within_eighty_columns_and_drawn(photo, tmp_path):
    said = run(straw.command, photo, "--drawn", tmp_path, "--working")
    assert "stems measured" in said
    assert max(map(len, said.splitlines())) <= 80
    with Image.open(tmp_path / "ann-traced.jpg") as picture:
        assert picture.size == (2400, 1800)


def test_the_json_is_one_object_of_numbers_with_units(photo):
    said = json.loads(run(straw.command, photo, "--json"))
    assert {"stems", "board", "rejected", "warnings"} <= said.keys()
    assert said["stems"][0]["length_mm"] > 150


def test_a_photo_without_a_board_is_refused_in_a_sentence(tmp_path):
    path = tmp_path / "ben.png"
    Image.new("RGB", (800, 600), (150, 150, 150)).save(path)
    with pytest.raises(OutOfRange, match="No board can be made out"):
        run(straw.command, path)
