"""``sheafwright sow``: how thick to sow."""

import datetime

import click

from sheafwright.cli.options import json_option, print_answer
from sheafwright.cli.season import DayOfYear, working_part
from sheafwright.core.errors import SheafwrightError, UnreadableInput
from sheafwright.feeds import sowing as table
from sheafwright.feeds.units import parse


class Measured(click.ParamType):
    """A quantity in any unit that fits it."""

    name = "quantity"

    def __init__(self, quantity):
        self.quantity = quantity

    def convert(self, value, param, ctx):
        """The number in our inside unit, or one sentence."""
        if isinstance(value, float):
            return value
        try:
            return parse(value, self.quantity)
        except SheafwrightError as error:
            raise UnreadableInput(f"{param.opts[0]}: {error}") from None


@click.command("sow")
@click.option(
    "--rate",
    type=Measured("rate"),
    metavar="RATE",
    help="What is sown, such as '1.2 cwt/acre' or '150 kg/ha'; gives the plants.",
)
@click.option(
    "--plants-per-m2",
    "plants",
    type=float,
    metavar="N",
    help="The stand that is wanted; gives the rate.",
)
@click.option(
    "--sown",
    type=DayOfYear(),
    metavar="MM-DD",
    help="Day of sowing; in place of both, gives the stand to aim for.",
)
@click.option(
    "--tgw-g",
    "thousand_grain_weight",
    required=True,
    type=float,
    metavar="G",
    help="Weight of a thousand grains.",
)
@click.option(
    "--germination-pct",
    "germination",
    required=True,
    type=float,
    metavar="P",
    help="Seeds of 100 that come up in a tray.",
)
@click.option(
    "--establishment-pct",
    "establishment",
    type=float,
    metavar="E",
    help="Of 100 live seeds, those that make a plant in the field; if not given, by "
    "--soil, --after and --sown.",
)
@click.option(
    "--row-spacing",
    required=True,
    type=Measured("spacing"),
    metavar="SPACING",
    help="Between rows, such as '7 in'.",
)
@click.option("--soil", type=click.Choice(table.SOILS), help="The field's.")
@click.option(
    "--after",
    type=click.Choice(table.PREVIOUS_CROPS),
    default="other",
    show_default=True,
    help="The crop before.",
)
@click.option(
    "--purpose",
    type=click.Choice(table.PURPOSES),
    default="straw",
    show_default=True,
    help="What the crop is for; with --sown.",
)
@click.option(
    "--tillering",
    type=click.Choice(table.TILLERING),
    default="free",
    show_default=True,
    help="How the variety tillers; with --sown.",
)
@click.option(
    "--area",
    type=Measured("area"),
    metavar="AREA",
    help="Such as '5 acres'; gives the seed needed.",
)
@click.option(
    "--sack",
    type=Measured("mass"),
    metavar="MASS",
    help="Seed in one sack, such as '50 kg'; else 25 kg.",
)
@json_option
def command(as_json, germination, establishment, sown, **asked):
    """Say how much seed a stand of plants takes, or what stand a rate leaves."""
    # NumPy comes with the answer; --help shouldn't wait for it.
    from sheafwright.answers.sowing import sowing
    from sheafwright.answers.sowing_question import SowingQuestion

    question = SowingQuestion(
        # In a leap year, so that 29 February is a day.
        sown=sown and datetime.date(2000, *sown),
        germination=germination / 100,
        establishment=None if establishment is None else establishment / 100,
        **asked,
    )
    print_answer(sowing(question), as_json, _parts)


def _parts(answer):
    yield working_part(answer)
