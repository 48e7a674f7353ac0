"""``sheafwright verify``: proof of the material book."""

import sys

import click

from sheafwright.cli.options import json_option, print_answer, text_table
from sheafwright.server.commands.options import holding_option, there

MOST_FAILURES = 20


@click.command("verify")
@holding_option
@json_option
def command(holding, as_json):
    """Prove that the material book balances, is whole, and was never changed.

    Nothing is written, and the book may be in use. Exit code 1 if it is not sound.
    """
    from sheafwright.server.run import configure

    configure(there(holding))
    from sheafwright.records.verify import verify

    verified = verify()
    print_answer(verified, as_json, _parts)
    if not verified.is_sound:
        sys.exit(1)


def _parts(verified):
    if verified.failures:
        few = verified.failures[:MOST_FAILURES]
        title = f"What is wrong ({len(few)} of {len(verified.failures)})"
        yield title, text_table(("",), [[said] for said in few])
