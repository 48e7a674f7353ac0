"""The board: its markers, its tiles, and what it says of how to use it."""

import datetime
import io

import cv2
import numpy as np
import pytest
from PIL import Image
from pypdf import PdfReader

from sheafwright.core.errors import OutOfRange
from sheafwright.documents.board import board_pdf, board_picture
from sheafwright.measure.board import board, marker_bits

DAY = datetime.date(2026, 1, 5)


def test_markers_are_those_that_are_looked_for():
    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_5X5_100)
    for number in range(100):
        drawn = cv2.aruco.generateImageMarker(dictionary, number, 7)
        assert (marker_bits(number) == (drawn[1:-1, 1:-1] > 0)).all()


@pytest.mark.parametrize(
    ("paper", "pages"), [("a4", 8), ("letter", 8), ("a3", 5), ("roll", 2)]
)
def test_each_paper_has_its_tiles_and_a_page_of_instructions(paper, pages):
    reader = PdfReader(io.BytesIO(board_pdf(board(), paper, DAY)))
    assert len(reader.pages) == pages
    assert "steel ruler" in " ".join(reader.pages[0].extract_text().split())


def test_the_same_board_gives_the_same_bytes():
    assert board_pdf(board(), "a4", DAY) == board_pdf(board(), "a4", DAY)


def test_the_printed_bar_and_markers_stand_where_the_table_says():
    per_mm = 4
    picture = Image.open(io.BytesIO(board_picture(board(), per_mm))).convert("L")
    picture = np.asarray(picture)
    assert picture.shape == (250 * per_mm, 1330 * per_mm)
    for number in (0, 9, 34, 69):
        (left, top), _, (right, bottom), _ = (board().marker(number) * per_mm).round()
        edge = picture[int(top) : int(bottom), int(left) : int(right)]
        assert edge[:6].max() < 30
        assert edge[:, -6:].max() < 30
    row = picture[round(36 * per_mm), : 190 * per_mm]
    dark = np.nonzero(row < 200)[0]
    assert (dark[-1] + 1 - dark[0]) / per_mm == pytest.approx(180, abs=0.3)


@pytest.mark.parametrize("paper", ["50x50", "a9", "610 by 914"])
def test_paper_that_will_not_do_is_refused_with_what_would(paper):
    with pytest.raises(OutOfRange, match="should be"):
        board_pdf(board(), paper, DAY)


@pytest.mark.parametrize("sheets", [0, 1, 11])
def test_a_board_of_too_few_or_many_sheets_is_refused(sheets):
    with pytest.raises(OutOfRange, match="2 to 10"):
        board(sheets)
