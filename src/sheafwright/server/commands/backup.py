"""``sheafwright backup``: the whole book in one file."""

from pathlib import Path

import click

from sheafwright.server.commands.options import holding_option, there


@click.command("backup")
@click.argument("to", type=click.Path(dir_okay=False, path_type=Path))
@holding_option
def command(to, holding):
    """Copy the whole book, and the files kept with it, into the file TO.

    The book may be in use meanwhile: the copy is of one moment. Keep it off the farm.
    """
    from sheafwright.server.run import configure

    configure(there(holding))
    from sheafwright.records.backup import backup

    manifest = backup(to.resolve())
    rows = sum(table["rows"] for table in manifest.tables.values())
    click.echo(
        f"{to} holds {len(manifest.tables)} tables with {rows:,} rows, "
        f"and {len(manifest.files) - 1} kept files."
    )
