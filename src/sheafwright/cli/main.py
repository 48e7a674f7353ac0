"""The command ``sheafwright``: commands are imported only when called."""

import importlib
import os
import sys

import click

from sheafwright import __version__
from sheafwright.core.errors import SheafwrightError

ASKING = {
    "cut": "Say whether to cut today or wait, with the odds.",
    "outlook": "Say when each stage will come and whether to cut or wait.",
    "replay": "Replay the advice over every season on record.",
    "stooks": "Say when stooks are fit to cart, with the odds.",
    "turns": "Say which field can wait its turn and which holds up others.",
    "weather": "Say what a weather record holds and what it is good enough for.",
}
STRAW = {
    "board": "Make the board to print, on which stems are measured.",
    "budget": "Say what the crop should leave, by the acre and the tonne.",
    "day": "Say who does what on the next half-days.",
    "grade": "Say which grade straw is, by its measured stems.",
    "roof": "Say how large a roof is, and what straw, spars and loads it takes.",
    "straw": "Measure the stems on photographs of the board.",
}
SOWING = {
    "cropping": "Plan which field bears what over the years.",
    "sow": "Say how thick to sow, or how thick it was sown.",
    "sowings": "Compare sowing dates over every season on record.",
    "stand": "Say whether a crop will stand, with the odds.",
}
KEEPING = {
    "backup": "Copy the whole book into one file, while it is served or not.",
    "demo": "Show an invented holding: its outlook, and a book of six harvests.",
    "restore": "Put a book back from a backup, once it has been checked.",
    "serve": "Keep the book of a holding, and show it on pages.",
    "verify": "Prove that the material book balances and is unbroken.",
}
COMMANDS = ASKING | SOWING | STRAW | KEEPING
HOMES = dict.fromkeys(COMMANDS, "cli") | dict.fromkeys(KEEPING, "server.commands")
"""Named only: the commands that keep the book lie in a layer above this one."""


class LateGroup(click.Group):
    """Knows its commands by name and help, and imports one only to run it."""

    def list_commands(self, ctx):
        return sorted(COMMANDS)

    def get_command(self, ctx, name):
        if name not in COMMANDS:
            return None
        return importlib.import_module(f"sheafwright.{HOMES[name]}.{name}").command

    def format_commands(self, ctx, formatter):
        # Click's own version would import every command to ask its help.
        with formatter.section("Ask about the season"):
            formatter.write_dl(sorted(ASKING.items()))
        with formatter.section("Ask about ground and sowing"):
            formatter.write_dl(sorted(SOWING.items()))
        with formatter.section("Ask about harvest work and straw"):
            formatter.write_dl(sorted(STRAW.items()))
        with formatter.section("Keep the book"):
            formatter.write_dl(sorted(KEEPING.items()))


@click.group(cls=LateGroup, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__)
def cli():
    """From a weather record and a sowing to "cut or wait", and a book of the straw."""


def main():
    """Run a command; whatever is wrong becomes one sentence and exit code 2."""
    # Read when NumPy is first imported. More threads than free cores make its products
    # of matrices many times slower, and ours are small.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    try:
        cli.main(standalone_mode=False)
    except click.exceptions.NoArgsIsHelpError as error:
        error.show()
        sys.exit(2)
    except click.ClickException as error:
        _refuse(error.format_message())
    except SheafwrightError as error:
        _refuse(error)
    except click.Abort:
        sys.exit(1)


def _refuse(says):
    click.echo(f"sheafwright: {says}", err=True)
    sys.exit(2)
