"""Writers of a SQLite book stand in line.

Left to itself, SQLite lets each try again after ever longer sleeps: among many writers
one may be unlucky for so long that it is refused. The system's own lock wakes them as
soon as the book is free. PostgreSQL keeps a line of its own.
"""

import contextlib
from pathlib import Path

from django.db import connection

from sheafwright.records.lock import locked


@contextlib.contextmanager
def in_line():
    """Wait for one's turn at the book; whoever has it already goes on."""
    if not _has_a_line():
        yield
        return
    with locked(Path(f"{connection.settings_dict['NAME']}-line")):
        yield


def _has_a_line():
    alone = connection.vendor != "sqlite" or connection.is_in_memory_db()
    return not (alone or connection.in_atomic_block)
