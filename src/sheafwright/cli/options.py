"""Options that commands share, and the one way an answer is printed."""

import json

import click

WIDTH = 80
MOST_ROWS = 12
"""Of a table of days; of more days some are left out."""

json_option = click.option(
    "--json", "as_json", is_flag=True, help="Print one JSON object."
)
chart_option = click.option(
    "--chart", metavar="FILE", help="Save the chart: a file ending in svg, png or html."
)
columns_option = click.option(
    "--columns",
    type=click.Path(),
    metavar="TOML",
    help="For a CSV of your own: the file that says what its columns are.",
)


def print_answer(answer, as_json, parts):
    """Print an answer as JSON, or its sentence and then its parts.

    Parameters
    ----------
    answer : object with ``sentence`` and ``to_json()``
    as_json : bool
    parts : callable
        From the answer to pairs of a title and what Rich is to print below it.
    """
    if as_json:
        text = json.dumps(
            answer.to_json(), indent=2, ensure_ascii=False, allow_nan=False
        )
        click.echo(text)
        return
    # Rich is slow to import, and a machine that asks for JSON never needs it.
    from rich.console import Console

    console = Console(highlight=False, markup=False)
    console.width = min(WIDTH, console.width)
    console.print(answer.sentence)
    for title, part in parts(answer):
        console.print(f"\n{title}")
        console.print(part)


def some(days):
    """Days evenly apart, the first among them: no more than a table should have."""
    return days[:: max(1, -(-len(days) // MOST_ROWS))]


def text_table(heading, rows):
    """A table of texts; ``>`` before a column's name sets it to the right."""
    from rich import box
    from rich.table import Table

    table = Table(box=box.SIMPLE_HEAD, pad_edge=False)
    for name in heading:
        justify = "right" if name.startswith(">") else "left"
        table.add_column(name.removeprefix(">"), justify=justify)
    for row in rows:
        table.add_row(*row)
    return table
