"""Where everything is on the printed board, from its table.

Lengths are in mm from the board's upper left corner, x to the right along the board
and y down. The sheet to print and the measurer both ask here.
"""

import dataclasses
from functools import cache

import numpy as np

from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.tables import build_shipped, shipped

PER_SHEET = 10
"""Markers on a sheet: five along each long edge."""
LEAST_SHEETS = 2


@dataclasses.dataclass(frozen=True)
class Sizes:
    """The rows of the table's first section. [mm]"""

    sheets: int
    most_sheets: int
    sheet_width_mm: float
    height_mm: float
    marker_side_mm: float
    marker_pitch_mm: float
    marker_centre_mm: float
    patch_width_mm: float
    patch_height_mm: float
    bar_length_mm: float
    bar_y_mm: float
    area_top_mm: float
    area_bottom_mm: float
    area_margin_mm: float
    ground: tuple[int, ...]


@dataclasses.dataclass(frozen=True)
class Patch:
    """One rectangle of known colour."""

    name: str
    rgb: tuple[int, ...]
    """As sent to the printer. [sRGB, 0–255]"""
    box: tuple[float, float, float, float]
    """Left, top, right, bottom. [mm]"""


@dataclasses.dataclass(frozen=True)
class Board:
    """A board of so many sheets."""

    sizes: Sizes
    sheets: int

    @property
    def width_mm(self):
        """Along the straw. [mm]"""
        return self.sheets * self.sizes.sheet_width_mm

    @property
    def height_mm(self):
        """Across the straw. [mm]"""
        return self.sizes.height_mm

    @property
    def area(self):
        """Where straw may lie: left, top, right, bottom. [mm]"""
        edge = self.sizes.area_margin_mm
        top, bottom = self.sizes.area_top_mm, self.sizes.area_bottom_mm
        return edge, top, self.width_mm - edge, bottom

    @property
    def joints(self):
        """Where one sheet meets the next, along x. [mm]"""
        return tuple(self.sizes.sheet_width_mm * n for n in range(1, self.sheets))

    def scaled(self, by):
        """The same board printed larger or smaller."""
        lengths = {
            field.name: getattr(self.sizes, field.name) * by
            for field in dataclasses.fields(self.sizes)
            if field.name.endswith("_mm")
        }
        return Board(dataclasses.replace(self.sizes, **lengths), self.sheets)

    def marker(self, number):
        """The corners of a marker, clockwise from its upper left: (corner, xy). [mm]"""
        sheet, place = divmod(number, PER_SHEET)
        row, column = divmod(place, PER_SHEET // 2)
        sizes = self.sizes
        x = sheet * sizes.sheet_width_mm + (column + 0.5) * sizes.marker_pitch_mm
        y = sizes.marker_centre_mm
        centre = np.array([x, sizes.height_mm - y if row else y])
        half = sizes.marker_side_mm / 2
        return centre + half * np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]])

    @property
    def numbers(self):
        """Of the markers."""
        return range(self.sheets * PER_SHEET)

    @property
    def patches(self):
        """Every patch of colour, one between each two markers of a sheet."""
        return tuple(self._patches())

    def _patches(self):
        colours = list(patch_rows().items())
        per_row = PER_SHEET // 2 - 1
        for sheet in range(self.sheets):
            for place in range(2 * per_row):
                row, column = divmod(place, per_row)
                # Seven has no common factor with twelve: each colour comes everywhere.
                number = 7 * (2 * per_row * sheet + place) % len(colours)
                name, rgb = colours[number]
                yield Patch(name, rgb, self._patch_box(sheet, row, column))

    def _patch_box(self, sheet, row, column):
        sizes = self.sizes
        x = sheet * sizes.sheet_width_mm + (column + 1) * sizes.marker_pitch_mm
        y = sizes.marker_centre_mm
        y = sizes.height_mm - y if row else y
        half_w, half_h = sizes.patch_width_mm / 2, sizes.patch_height_mm / 2
        return x - half_w, y - half_h, x + half_w, y + half_h


@cache
def board(sheets=None):
    """The board of the table, or one of another number of sheets."""
    sizes = build_shipped(Sizes, "board", "board")
    sheets = sizes.sheets if sheets is None else sheets
    if not LEAST_SHEETS <= sheets <= sizes.most_sheets:
        raise OutOfRange(
            "A board of {sheets} sheets can't be made; it should have {least} to "
            "{most}.",
            sheets=sheets,
            least=LEAST_SHEETS,
            most=sizes.most_sheets,
        )
    return Board(sizes, sheets)


def patch_rows():
    """Colours of the target by name, as sent to the printer. [sRGB, 0–255]"""
    return {name: tuple(row.value) for name, row in shipped("board")["patches"].items()}


def marker_bits(number):
    """A marker's inner cells: (row, column), True where white."""
    bits = shipped("board")["markers"]["bits"].value[number]
    side = round(len(bits) ** 0.5)
    return np.array([bit == "1" for bit in bits]).reshape(side, side)
