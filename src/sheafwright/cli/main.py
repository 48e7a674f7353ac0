"""The command ``sheafwright``: commands are imported only when called."""

import importlib
import os
import sys

import click

from sheafwright import __version__
from sheafwright.core.errors import SheafwrightError

COMMANDS = {
    "cut": "Say whether to cut today or wait, with the odds.",
    "demo": "Show the season outlook of the invented demo holding.",
    "outlook": "Say when each stage will come and whether to cut or wait.",
    "replay": "Replay the advice over every season on record.",
    "weather": "Say what a weather record holds and what it is good enough for.",
}


class LateGroup(click.Group):
    """Knows its commands by name and help, and imports one only to run it."""

    def list_commands(self, ctx):
        return sorted(COMMANDS)

    def get_command(self, ctx, name):
        if name not in COMMANDS:
            return None
        return importlib.import_module(f"sheafwright.cli.{name}").command

    def format_commands(self, ctx, formatter):
        # Click's own version would import every command to ask its help.
        with formatter.section("Commands"):
            formatter.write_dl(sorted(COMMANDS.items()))


@click.group(cls=LateGroup, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__)
def cli():
    """From a weather record and a sowing to "cut or wait"."""


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
