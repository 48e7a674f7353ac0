"""``sheafwright board``: the board that straw is photographed on, to print."""

from pathlib import Path

import click


@click.command("board")
@click.argument("pdf", type=click.Path(dir_okay=False, writable=True))
@click.option(
    "--paper",
    default="a4",
    show_default=True,
    metavar="NAME",
    help="a4, a3, a2, letter, legal, tabloid, roll, or a width and height in mm such "
    "as 610x914.",
)
@click.option(
    "--sheets",
    type=int,
    metavar="N",
    help="Length of the board, in sheets of 190 mm; 7, unless straw is longer.",
)
def command(pdf, paper, sheets):
    """Print the board that straw is measured on, with how to use it.

    Writes a PDF: print it at full size, and measure its bar with a ruler.
    """
    from sheafwright.core.errors import UnreadableInput
    from sheafwright.documents.board import board_pdf
    from sheafwright.measure.board import board

    content = board_pdf(board(sheets), paper.lower())
    try:
        Path(pdf).write_bytes(content)
    except OSError as error:
        raise UnreadableInput(
            "{path} can't be written: {why}.", path=pdf, why=error.strerror
        ) from None
    click.echo(f"The board is in {pdf}: print it at full size (100%).")
