"""The board that straw is photographed on, tiled for any paper, and how to use it.

Drawn from the layout that the measurer reads (`measure.board`), so that the two can't
part.
"""

import datetime
import re
from dataclasses import dataclass

import numpy as np

from sheafwright.core.errors import OutOfRange
from sheafwright.documents.typst import pdf, png
from sheafwright.feeds.telling import mark, measured, say, told
from sheafwright.measure.board import marker_bits

PAPERS = {
    "a4": (210.0, 297.0),
    "a3": (297.0, 420.0),
    "a2": (420.0, 594.0),
    "letter": (215.9, 279.4),
    "legal": (215.9, 355.6),
    "tabloid": (279.4, 431.8),
}
"""Width and height by name. [mm]"""
ROLL = "roll"
"""The whole board on one piece."""
WHITE_MM = 5.0
"""The least edge that a printer leaves white. [mm]"""
ROLL_EDGE_MM = 15.0
CELLS = 7
"""Of a marker's side: five that tell its number, in a black frame."""
BLACK, PAPER = "#000000", "#ffffff"
TICK_MM, EACH_TICK_MM = 3.0, 10.0
PICTURES = (
    mark(
        "Print at full size (100%), on matt paper. Nothing may be fitted to the page."
    ),
    mark("Measure the bar with a steel ruler. If it isn't {bar}, note what it is."),
    mark(
        "Cut along the grey corners and tape the sheets edge to edge on a flat table."
    ),
    mark("Lay straw along the blue, butts to the left, stems apart, leaf stripped."),
    mark("Photograph from above in even shade, no flash; the board fills the picture."),
    mark("Look whether every stem was traced; strike out what was not."),
)
WORDS = {
    "title": mark("Board to measure straw on"),
    "how": mark("How straw is measured from a photograph"),
    "butts": mark("butts this end"),
    "colours": mark(
        "Colours are judged against the patches as your printer prints them: keep to "
        "one printer and paper to compare one year with another."
    ),
}


@dataclass(frozen=True)
class Tile:
    """One page: the part of the board that it shows. [mm]"""

    left: float
    width: float
    label: str
    rects: tuple
    texts: tuple


@dataclass(frozen=True)
class BoardSheet:
    """What is printed."""

    made_on: datetime.date
    paper_width: float
    paper_height: float
    board_height: float
    tiles: tuple[Tile, ...]
    pictures: tuple[str, ...]
    """Words below each of the six; none, if they aren't wanted."""


def board_pdf(board, paper="a4", made_on=None):
    """The board to print, with its page of instructions first."""
    sheet = board_sheet(board, paper, made_on or datetime.date.today())
    return pdf("board", sheet, words=_words())


def board_picture(board, pixels_per_mm):
    """The whole board as a PNG, without edges or instructions. [bytes]"""
    sheet = _sheet(board, (board.width_mm, board.height_mm), datetime.date(2000, 1, 1))
    return png("board", sheet, 25.4 * pixels_per_mm, words=_words())[0]


def board_sheet(board, paper, made_on):
    """The facts of a board on this paper."""
    size, sheets = _laid_out(board, paper)
    return _sheet(board, size, made_on, sheets, how_to(board))


def how_to(board):
    """How straw is measured on a board, in six sentences."""
    bar = measured(board.sizes.bar_length_mm, "mm", "g")
    return tuple(
        say(words, bar=bar) if "{bar}" in words else told(words) for words in PICTURES
    )


def _sheet(board, size, made_on, sheets_each=None, pictures=()):
    each = sheets_each or board.sheets
    return BoardSheet(
        made_on=made_on,
        paper_width=size[0],
        paper_height=size[1],
        board_height=board.height_mm,
        tiles=tuple(
            _tile(board, first, min(first + each, board.sheets))
            for first in range(0, board.sheets, each)
        ),
        pictures=pictures,
    )


def _laid_out(board, paper):
    """A paper's size, upright or on its side, and how many sheets fit on one."""
    if paper == ROLL:
        edges = 2 * ROLL_EDGE_MM
        return (board.width_mm + edges, board.height_mm + edges), board.sheets
    width, height = _size(paper)
    fits = [
        (int((across - 2 * WHITE_MM) // board.sizes.sheet_width_mm), (across, down))
        for across, down in ((width, height), (height, width))
        if down - 2 * WHITE_MM >= board.height_mm
    ]
    sheets, size = max(fits, default=(0, None))
    if not sheets:
        raise OutOfRange(
            "Paper {paper} is too small; it should be at least {width} by {height}.",
            paper=paper,
            width=measured(board.sizes.sheet_width_mm + 2 * WHITE_MM, "mm"),
            height=measured(board.height_mm + 2 * WHITE_MM, "mm"),
        )
    return size, min(sheets, board.sheets)


def _size(paper):
    if paper in PAPERS:
        return PAPERS[paper]
    given = re.fullmatch(r"(\d{2,4})x(\d{2,4})", paper)
    if not given:
        raise OutOfRange(
            "Paper {paper} is not known; it should be one of {papers}, or a width and "
            "a height in mm such as 610x914.",
            paper=repr(paper[:40]),
            papers=", ".join([*PAPERS, ROLL]),
        )
    return tuple(float(each) for each in given.groups())


def _tile(board, first, end):
    width = board.sizes.sheet_width_mm
    left, right = first * width, end * width
    rects = [rect for rect in _rects(board) if rect["x"] < right and _end(rect) > left]
    texts = [text for text in _texts(board) if left <= text["x"] < right]
    numbers = f"{first + 1}" if end == first + 1 else f"{first + 1}–{end}"
    label = f"{numbers} / {board.sheets}"
    return Tile(left, right - left, label, tuple(rects), tuple(texts))


def _end(rect):
    return rect["x"] + rect["w"]


def _rects(board):
    left, top, right, bottom = board.area
    yield _rect(left, top, right, bottom, _hex(board.sizes.ground))
    for patch in board.patches:
        yield _rect(*patch.box, _hex(patch.rgb))
    for number in board.numbers:
        yield from _marker(board, number)
    for sheet in range(board.sheets):
        yield from _bar(board, sheet)


def _marker(board, number):
    (left, top), _, (right, bottom), _ = board.marker(number)
    yield _rect(left, top, right, bottom, BLACK)
    cell = board.sizes.marker_side_mm / CELLS
    for row, column in np.argwhere(marker_bits(number)):
        x, y = left + (column + 1) * cell, top + (row + 1) * cell
        yield _rect(x, y, x + cell, y + cell, PAPER)


def _bar(board, sheet):
    sizes = board.sizes
    left = sheet * sizes.sheet_width_mm + _bar_in(sizes)
    y, thin = sizes.bar_y_mm, 0.15
    yield _rect(left, y - thin, left + sizes.bar_length_mm, y + thin, BLACK)
    for at in np.arange(0, sizes.bar_length_mm + 1, EACH_TICK_MM):
        long = TICK_MM if at in (0, sizes.bar_length_mm) else TICK_MM / 2
        # The ends' outer edges are the bar's length apart: a ruler is laid there.
        x = left + at - thin * (1 if 0 < at < sizes.bar_length_mm else 0)
        x -= 2 * thin * (at == sizes.bar_length_mm)
        yield _rect(x, y - long, x + 2 * thin, y + long, BLACK)


def _bar_in(sizes):
    return (sizes.sheet_width_mm - sizes.bar_length_mm) / 2


def _texts(board):
    sizes = board.sizes
    for sheet in range(board.sheets):
        left = sheet * sizes.sheet_width_mm + _bar_in(sizes)
        length = f"{sizes.bar_length_mm:g} mm"
        yield {"x": left + 3, "y": sizes.bar_y_mm - 3.2, "words": length}
        number = f"{sheet + 1} / {board.sheets}"
        yield {"x": left + 3, "y": sizes.area_bottom_mm + 2.0, "words": number}
    butts = told(WORDS["butts"])
    below = sizes.area_bottom_mm + 2.0
    yield {"x": _bar_in(sizes) + 24, "y": below, "words": say("← {butts}", butts=butts)}


def _rect(left, top, right, bottom, fill):
    x, y, w, h = (round(float(n), 4) for n in (left, top, right - left, bottom - top))
    return {"x": x, "y": y, "w": w, "h": h, "fill": fill}


def _hex(rgb):
    return "#" + "".join(f"{each:02x}" for each in rgb)


def _words():
    return {name: told(words) for name, words in WORDS.items()}
