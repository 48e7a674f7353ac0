"""A table as a page shows it: parts/_table.html draws it."""

import dataclasses


@dataclasses.dataclass(frozen=True)
class Column:
    label: str
    is_number: bool = False


@dataclasses.dataclass(frozen=True)
class Link:
    """A cell that leads somewhere."""

    text: str
    url: str

    def __str__(self):
        return str(self.text)


UNKNOWN = "–"
SHORT = 12
"""Letters of a code that is never broken."""
LONG = 40
"""Letters that on a phone are read below their heading, not beside it."""


@dataclasses.dataclass(frozen=True)
class Table:
    columns: tuple[Column, ...]
    rows: tuple[tuple, ...]
    """A cell a column: text, or a `Link`. The first names the row."""
    caption: str = ""
    is_wordy: bool = False
    """Whether its rows are read as lists on a phone, though its columns are few."""
    shown: int = 0
    """Rows that stand open, the others behind a fold; all of them, where not said."""

    def open_lines(self):
        """Each row that stands open, as its columns, cells and their classes."""
        return self._lines(self.rows[: self._open()])

    def folded_lines(self):
        """The others."""
        return self._lines(self.rows[self._open() :])

    def _open(self):
        # A fold for one row would take as much room as the row.
        few = not self.shown or len(self.rows) <= self.shown + 1
        return len(self.rows) if few else self.shown

    def _lines(self, rows):
        return [
            [
                (c, cell, _looks(c, cell))
                for c, cell in zip(self.columns, row, strict=True)
            ]
            for row in rows
        ]


def _looks(column, cell):
    """A cell's classes: figures line up, codes stay whole, dashes go on a phone."""
    text = str(cell)
    is_short = len(text) <= SHORT and " " not in text
    looks = {"n": column.is_number, "none": text == UNKNOWN, "whole": is_short}
    looks["long"] = len(text) > LONG
    return " ".join(name for name, is_so in looks.items() if is_so)
