"""What commands about a season share: their options, and how it is printed."""

import datetime
import functools
import itertools

import click

from sheafwright.cli.options import columns_option, json_option
from sheafwright.core.errors import UnreadableInput


class Date(click.ParamType):
    """A date such as 2025-08-07."""

    name = "date"

    def convert(self, value, param, ctx):
        """The date, or one sentence."""
        if isinstance(value, datetime.date):
            return value
        try:
            return datetime.datetime.strptime(value, "%Y-%m-%d").date()
        except ValueError:
            raise UnreadableInput(
                f"{param.opts[0]}: {value[:40]!r} should be a date such as 2025-08-07."
            ) from None


class DayOfYear(click.ParamType):
    """A month and a day such as 10-10, of any year."""

    name = "mm-dd"

    def convert(self, value, param, ctx):
        """The pair of month and day, or one sentence."""
        if isinstance(value, tuple):
            return value
        try:
            # In a leap year, so that 29 February is a day.
            date = datetime.datetime.strptime(f"2000-{value}", "%Y-%m-%d")
        except ValueError:
            raise UnreadableInput(
                f"{param.opts[0]}: {value[:40]!r} should be MM-DD, a month and a day "
                f"such as 10-10."
            ) from None
        return date.month, date.day


class Named(click.ParamType):
    """A name and what it is, with an equals sign between."""

    name = "name=value"

    def __init__(self, value_type, example):
        self.value_type, self.example = value_type, example

    def convert(self, value, param, ctx):
        """The pair, or one sentence."""
        if isinstance(value, tuple):
            return value
        name, equals, rest = value.partition("=")
        if not (name.strip() and equals and rest.strip()):
            raise UnreadableInput(
                f"{param.opts[0]}: {value[:40]!r} should be such as {self.example}."
            )
        kind = click.types.convert_type(self.value_type)
        return name.strip(), kind.convert(rest.strip(), param, ctx)


RECORD_OPTIONS = (
    click.option(
        "--weather",
        required=True,
        metavar="FILE",
        help="Daily weather of the station, as `sheafwright weather` reads it.",
    ),
    click.option(
        "--latitude",
        type=float,
        metavar="DEGREES",
        help="North is positive. Needed where the record has none.",
    ),
    click.option(
        "--altitude",
        type=float,
        metavar="METRES",
        help="Height above the sea, where the record has none; else 50 m is taken.",
    ),
    click.option(
        "--own-readings",
        metavar="FILE",
        help="Your own gauge and thermometer: a CSV of date, rain_mm, tmin_c, tmax_c.",
    ),
    columns_option,
)
TODAY_OPTIONS = (
    click.option(
        "--as-of",
        type=Date(),
        help="The day of the question; nothing later is looked at. The record's last "
        "day if not given.",
    ),
    click.option(
        "--forecast",
        metavar="FILE|ADDRESS",
        help="Locationforecast JSON, or a CSV of ensemble members.",
    ),
    click.option(
        "--contact",
        metavar="E-MAIL",
        help="Whom the forecast service may write to; for an address only.",
    ),
    click.option(
        "--forecast-folder",
        metavar="FOLDER",
        default=lambda: f"{click.get_app_dir('sheafwright')}/forecasts",
        show_default="beside your own settings",
        help="Where the last forecast fetched is kept.",
    ),
)
ANSWER_OPTIONS = (
    click.option(
        "--seed",
        type=click.IntRange(min=0),
        default=1,
        show_default=True,
        help="Of the luck by which possible summers are drawn.",
    ),
    json_option,
)
class_option = click.option(
    "--class",
    "variety_class",
    metavar="CLASS",
    help="Variety's need of cold: end-january, mid-february, end-february, "
    "alternative or spring.",
)
own_seasons_option = click.option(
    "--own-seasons",
    metavar="FILE",
    help="Your past seasons: a CSV of sown, flowered, cut.",
)
losses_option = click.option(
    "--losses", metavar="TOML", help="Your own table of losses."
)
OPTIONS = (
    *RECORD_OPTIONS,
    click.option("--sown", required=True, type=Date(), help="Day of sowing."),
    class_option,
    click.option("--area-ha", "area", type=float, metavar="HA", help="Area."),
    *TODAY_OPTIONS,
    click.option(
        "--seen",
        multiple=True,
        type=Named(Date(), "flowering=2025-06-19"),
        metavar="STAGE=DATE",
        help="A stage that you saw, such as ear_out or flowering; again for others.",
    ),
    click.option(
        "--sign",
        "signs",
        multiple=True,
        type=Named(str, "grain='soft dough'"),
        metavar="KIND=SIGN",
        help="A sign of ripening seen on the day of the question: grain, below_ear or "
        "nodes; again for others.",
    ),
    own_seasons_option,
    losses_option,
    *ANSWER_OPTIONS,
)


def with_options(options, function):
    """A command with some options, in their order."""
    return functools.reduce(lambda made, option: option(made), options[::-1], function)


def season_options(function):
    """The options of a question about one field's season."""
    return with_options(OPTIONS, function)


working_option = click.option(
    "--working", "whole", is_flag=True, help="Print every step of the working."
)


def question(seen, signs, forecast, contact, forecast_folder, **asked):
    """The `Question` that the options ask."""
    from sheafwright.answers.question import Question

    return Question(
        seen=_once("--seen", seen),
        signs=_once("--sign", signs),
        forecast=forecast_of(forecast, contact, forecast_folder),
        **asked,
    )


def _once(option, pairs):
    given = dict(pairs)
    if len(given) < len(pairs):
        raise UnreadableInput(f"{option} should name each thing once.")
    return given


def forecast_of(source, contact, folder):
    """The `Forecast` that the options give, or None."""
    if not source:
        return None
    from sheafwright.feeds.forecast.read import read

    if not contact:
        return read(source)
    import numpy as np

    from sheafwright.feeds.forecast.fetch import Access

    return read(source, access=Access(contact, folder, np.random.default_rng()))


def caution(answer):
    """The usual caution before a cut, with its title, where one is advised."""
    from sheafwright.answers.wording import CAUTION
    from sheafwright.feeds.telling import say

    if answer.to_json()["advice"]["action"] == "cut":
        yield "Before you start", say(CAUTION)


def working(steps):
    """The steps of a working, for Rich: each with its standing and source below it."""
    from rich.console import Group
    from rich.padding import Padding
    from rich.text import Text

    from sheafwright.answers.working import steps_to_json

    below = (0, 0, 0, 6)
    return Group(
        *itertools.chain.from_iterable(
            (
                Padding(Text(step["says"]), (0, 0, 0, 2)),
                Padding(Text(f"{step['standing']}: {step['source']}.", "dim"), below),
            )
            for step in steps_to_json(steps)
        )
    )


def working_part(answer, whole=True):
    """The working with its title: every step, or the few most telling."""
    from rich.console import Group

    if whole:
        return "How this was worked out", working(answer.working)
    left = len(answer.working) - len(answer.telling)
    more = f"  {left} more steps, each with its source: --working."
    return "How this was worked out", Group(working(answer.telling), more)
