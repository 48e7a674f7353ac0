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


@dataclasses.dataclass(frozen=True)
class Table:
    columns: tuple[Column, ...]
    rows: tuple[tuple, ...]
    """A cell a column: text, or a `Link`. The first names the row."""
    caption: str = ""
    is_wordy: bool = False
    """Whether its rows are read as lists on a phone, though its columns are few."""

    def lines(self):
        """Each row as pairs of column and cell."""
        return [list(zip(self.columns, row, strict=True)) for row in self.rows]
