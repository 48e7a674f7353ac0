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
LONG = 44
"""Letters of a cell whose column on a phone is read below its heading."""


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
        looks = [self._looks(n) for n in range(len(self.columns))]
        return [
            [
                (column, cell, " ".join((*look, *_looks(cell))))
                for column, cell, look in zip(self.columns, row, looks, strict=True)
            ]
            for row in rows
        ]

    def _looks(self, n):
        """Classes of all cells of a column: figures line up, long words have room."""
        longest = max((len(str(row[n])) for row in self.rows), default=0)
        looks = {"n": self.columns[n].is_number, "long": longest > LONG}
        return [name for name, is_so in looks.items() if is_so]


def _looks(cell):
    """A cell's own classes: codes stay whole, and dashes go on a phone."""
    text = str(cell)
    is_short = len(text) <= SHORT and " " not in text
    looks = {"none": text == UNKNOWN, "whole": is_short}
    return [name for name, is_so in looks.items() if is_so]
