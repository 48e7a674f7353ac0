"""``sheafwright demo``: the invented holding, its outlook and its book."""

from pathlib import Path

import click

from sheafwright.cli.options import json_option


@click.command("demo")
@click.option(
    "--chart",
    default="demo-outlook.svg",
    show_default=True,
    metavar="FILE",
    help="Save the chart: a file ending in svg, png or html.",
)
@click.option(
    "--holding",
    type=click.Path(file_okay=False, path_type=Path),
    default="out/demo",
    show_default=True,
    metavar="FOLDER",
    help="Where its book is made; one that is there is left as it is.",
)
@click.option("--seasons", default=6, show_default=True, help="Harvests made up.")
@click.option("--fields", default=6, show_default=True, help="Fields made up.")
@json_option
def command(chart, holding, seasons, fields, as_json):
    """Show the season outlook of the invented demo holding, and make its book.

    The holding, its people, its fields and its weather are made up; the sums and the
    rules are the same as for any other.
    """
    from sheafwright.charts.save import check_ending
    from sheafwright.cli.demo import tell

    check_ending(chart)
    demo = _make(holding.resolve(), seasons, fields)
    tell(chart, as_json)
    # Whoever asks for JSON gets JSON and nothing else.
    _say_where(demo, holding, err=as_json)


def _make(folder, seasons, fields):
    from sheafwright.server.run import prepare

    prepare(folder)
    from sheafwright.records.demo import demo_make

    return demo_make(seasons=seasons, fields=fields)


def _say_where(demo, folder, err):
    click.echo(f"\nIts book is in {folder}. These invented people may", err=err)
    click.echo(f"sign in, each with the password {demo.password}", err=err)
    for person in demo.people:
        click.echo(f"  {person.email:24} {person.name}", err=err)
    click.echo(f"Open it: sheafwright serve --holding {folder}", err=err)
