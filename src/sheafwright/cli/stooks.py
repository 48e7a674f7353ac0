"""``sheafwright stooks``: when stooks are fit to cart."""

import functools

import click

from sheafwright.cli.options import chart_option, print_answer, some, text_table
from sheafwright.cli.season import (
    ANSWER_OPTIONS,
    RECORD_OPTIONS,
    TODAY_OPTIONS,
    Date,
    forecast_of,
    with_options,
    working_option,
    working_part,
)
from sheafwright.core.errors import UnreadableInput

EXAMPLE = "2025-08-11=22/26"


class MeterReading(click.ParamType):
    """A day, and the grain's moisture and the straw's in per cent."""

    name = "date=grain/straw"

    def convert(self, value, param, ctx):
        """The day and both moistures, None where not read, or one sentence."""
        if isinstance(value, tuple):
            return value
        day, equals, read = value.partition("=")
        grain, _, straw = read.partition("/")
        try:
            grain, straw = (_share(each) for each in (grain, straw))
        except ValueError:
            grain = straw = None
        if not equals or grain is straw is None:
            raise UnreadableInput(
                f"{param.opts[0]}: {value[:40]!r} should be such as {EXAMPLE}: the "
                f"day, the grain's moisture and perhaps the straw's, in per cent."
            )
        return Date().convert(day.strip(), param, ctx), grain, straw


OPTIONS = (
    *RECORD_OPTIONS,
    click.option(
        "--cut",
        required=True,
        type=Date(),
        help="Day on which the stooks were cut and set up.",
    ),
    click.option("--field", default="", metavar="NAME", help="The field's name."),
    click.option(
        "--reading",
        "readings",
        multiple=True,
        type=MeterReading(),
        metavar="DATE=GRAIN[/STRAW]",
        help=f"What a moisture meter read, in per cent of the wet weight, such as "
        f"{EXAMPLE}; again for others.",
    ),
    *TODAY_OPTIONS,
    chart_option,
    working_option,
    *ANSWER_OPTIONS,
)


@click.command("stooks")
@functools.partial(with_options, OPTIONS)
def command(chart, whole, as_json, **options):
    """Say when stooks are fit to cart, with the odds.

    Everything rests on the weather record up to the day of the question, and on what
    your meter read.
    """
    # NumPy comes with the answer; --help shouldn't wait for it.
    from sheafwright.answers.stooks import stooks
    from sheafwright.charts.save import check_ending, save
    from sheafwright.charts.stooks import stooks_chart

    if chart:
        check_ending(chart)
    answer = stooks(_question(**options))
    if chart:
        save(stooks_chart(answer), chart)
    print_answer(answer, as_json, lambda made: _parts(made, whole))


def _question(readings, forecast, contact, forecast_folder, **asked):
    from sheafwright.answers.stooks import Reading, StooksQuestion

    return StooksQuestion(
        readings=tuple(Reading(*each) for each in readings),
        forecast=forecast_of(forecast, contact, forecast_folder),
        **asked,
    )


def _share(percent):
    return float(percent) / 100 if percent.strip() else None


def _parts(answer, whole):
    from sheafwright.answers.wording import CARTING_CAUTION
    from sheafwright.feeds.telling import say

    said = answer.to_json()
    if said["action"] == "cart":
        yield "Before you start", say(CARTING_CAUTION)
    yield "Moisture, 8 chances in 10 between, and the chance to cart", _days(said)
    yield "Fair dry days still needed", _needed(said["fair_days_needed_d"])
    yield working_part(answer, whole)


def _days(said):
    moisture = {day["date"]: day for day in said["moisture_by_day"]}
    rows = [
        (
            day["date"],
            *(_between(moisture[day["date"]], what) for what in ("grain", "straw")),
            f"{day['chance_fit']:.0%}",
            f"{day['chance_fit_by']:.0%}",
            f"{day['chance_of_rain']:.0%}",
        )
        for day in some(said["carting_by_day"])
    ]
    heading = ("day", ">grain", ">straw", ">fit that day", ">fit by then", ">too wet")
    return text_table(heading, rows)


def _between(day, what):
    low, high = (100 * day[f"{what}_moisture_{at}_share"] for at in ("p10", "p90"))
    return f"{low:.0f} to {high:.0f}%"


def _needed(needed):
    rows = [
        (what, *("never" if day is None else f"{day:.0f}" for day in days.values()))
        for what, days in needed.items()
    ]
    return text_table(("", ">few", ">likely", ">many"), rows)
