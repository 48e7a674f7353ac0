"""The option that commands about a book share."""

import os
from pathlib import Path

import click

from sheafwright.core.errors import UnreadableInput

holding_option = click.option(
    "--holding",
    type=click.Path(file_okay=False, path_type=Path),
    default="book",
    show_default=True,
    metavar="FOLDER",
    help="Where the book is kept.",
)


def there(holding):
    """A folder with a book in it."""
    if not (holding / "book.sqlite3").exists() and "DATABASE_URL" not in os.environ:
        raise UnreadableInput(
            f"There is no book in {holding}; say which with --holding."
        )
    return holding.resolve()
