"""``sheafwright serve``: the book, on a page."""

import click

from sheafwright.server.commands.options import holding_option


@click.command("serve")
@holding_option
@click.option("--port", type=click.IntRange(1, 65535), default=8000, show_default=True)
@click.option("--lan", is_flag=True, help="Serve the farm's own network, by HTTPS.")
@click.option("--no-browser", is_flag=True, help="Open no browser.")
def command(holding, port, lan, no_browser):
    """Keep the book of a folder, and show it on pages.

    On this machine alone, unless --lan is given: then every phone on the farm's own
    network can reach it (see docs/phone.md).
    """
    from sheafwright.server.run import Where, serve

    where = Where(folder=holding.resolve(), port=port, lan=lan)
    serve(where, say=click.echo, browser=not no_browser)
