"""``sheafwright restore``: a book put back, once it has been checked."""

import contextlib
import tempfile
from pathlib import Path

import click

from sheafwright.core.errors import UnreadableInput
from sheafwright.server.commands.options import holding_option


@click.command("restore")
@click.argument("backup", type=click.Path(dir_okay=False, exists=True, path_type=Path))
@holding_option
@click.option("--replace", is_flag=True, help="Put it where another book now is.")
def command(backup, holding, replace):
    """Put the book in the file BACKUP into a folder.

    Every file, every table and the chain of the material book are checked first. A
    book that it replaces is kept, beside it, under another name.
    """
    folder = holding.resolve()
    if folder.exists() and any(folder.iterdir()) and not replace:
        raise UnreadableInput(
            f"{folder} isn't empty; say --replace to put the backup in its place."
        )
    folder.parent.mkdir(parents=True, exist_ok=True)
    with contextlib.ExitStack() as stack:
        if folder.exists():
            from sheafwright.server.run import alone

            stack.enter_context(alone(folder))
        old = _restore(backup, folder)
    click.echo(f"The book is back in {folder}.")
    if old:
        click.echo(f"The one that was there is kept in {old}.")


def _restore(backup, folder):
    from sheafwright.records.backup import put_in_place, remove

    # Beside its place, so that it can take its name in one step.
    new = Path(tempfile.mkdtemp(dir=folder.parent, prefix=f".{folder.name}-"))
    try:
        _fill(backup, new)
        return put_in_place(new, folder)
    finally:
        remove(new)


def _fill(backup, new):
    """Unpack, check everything, and bring the book to this version's form."""
    from django.db import connections

    from sheafwright.records.backup import check_book, unpack
    from sheafwright.server.run import configure, prepare

    manifest = unpack(backup, new)
    configure(new)
    # Only now is there a book for these to speak of.
    from sheafwright.records.verify import verify

    check_book(manifest, new)
    prepare(new)
    proof = verify()
    # Closed, the book is one file again, and can take its name.
    connections.close_all()
    if not proof.is_sound:
        raise UnreadableInput(" ".join([proof.sentence, *proof.failures]))
    click.echo(proof.sentence)
