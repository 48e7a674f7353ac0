"""``sheafwright cropping``: which field grows what, this year and the next."""

import dataclasses

import click

from sheafwright.cli.options import json_option, print_answer, text_table
from sheafwright.cli.season import working_option, working_part
from sheafwright.core.errors import UnreadableInput

EXAMPLE = "'Long Acre:2027=oats'"
WHEATS = "autumn_wheat", "late_wheat"
MARKS = {"organic": "", "in_conversion": " (c)", "not_organic": " (n)", None: ""}
LEGEND = "* pinned by you; (c) sold as in conversion; (n) not organic"


class Pinned(click.ParamType):
    """A field, a year and a crop."""

    name = "field:year=crop"

    def convert(self, value, param, ctx):
        """The three, or one sentence."""
        place, _, crop = value.rpartition("=")
        field, _, year = place.rpartition(":")
        if not (field.strip() and crop.strip() and year.strip().isdecimal()):
            raise UnreadableInput(
                f"--pin: {value[:40]!r} should be such as {EXAMPLE}: a field, a "
                f"harvest and a crop."
            )
        return field.strip(), int(year), crop.strip()


@click.command("cropping")
@click.argument("file", type=click.Path())
@click.option(
    "--pin",
    "pins",
    multiple=True,
    type=Pinned(),
    metavar="FIELD:YEAR=CROP",
    help=f"A crop that a field shall grow in a year, such as {EXAMPLE}; again for "
    f"others.",
)
@click.option(
    "--chart",
    metavar="FILE",
    help="Save the rotation, drawn: a file ending in svg, png or html.",
)
@working_option
@json_option
def command(file, pins, chart, whole, as_json):
    """Say which field should grow what, this year and the next, and why.

    FILE is a TOML file of your fields and what grew there, your hours, buyers and
    orders; the package's data/demo/cropping.toml shows one.
    """
    # NumPy comes with the answer; --help shouldn't wait for it.
    from sheafwright.answers.cropping import cropping
    from sheafwright.charts.save import check_ending
    from sheafwright.core.inputs.cropping import Pin
    from sheafwright.feeds.cropping import read_question

    if chart:
        check_ending(chart)
    question = read_question(file)
    pinned = (*question.pins, *(Pin(*pin) for pin in pins))
    answer = cropping(dataclasses.replace(question, pins=pinned))
    if chart:
        _draw(answer, chart)
    print_answer(answer, as_json, lambda made: _parts(made, whole))


def _draw(answer, chart):
    from sheafwright.charts.cropping import cropping_chart
    from sheafwright.charts.save import save

    save(cropping_chart(answer), chart)


def _parts(answer, whole):
    said = answer.to_json()
    yield f"What grows where ({LEGEND})", _fields(said)
    yield "Year by year", _years(said)
    first = said["years"][0]
    yield f"Why, for {first}, and what would have to change", _why(answer, said)
    yield from _seed(said)
    yield working_part(answer, whole)


def _fields(said):
    from sheafwright.answers.cropping_wording import SHORT
    from sheafwright.feeds.telling import told

    rows = [
        (
            each["field"],
            f"{each['area_ha']:.2f}",
            *(
                f"{told(SHORT[year['crop']])}{MARKS[year['sold_as']]}"
                f"{'*' * year['pinned']}"
                for year in each["years"]
            ),
        )
        for each in said["fields"]
    ]
    return text_table(("field", ">ha", *map(str, said["years"])), rows)


def _years(said):
    rows = [
        (
            str(year["year"]),
            f"{sum(year['area_ha'][crop] for crop in WHEATS):.1f}",
            f"{year['straw_t']:.1f}",
            f"{year['worth_gbp']:,}",
            f"{year['worst_season_gbp']:,}",
            "week {busiest_week}: {busiest_week_h:.0f} of "
            "{busiest_week_there_are_h:.0f} h".format(**year),
        )
        for year in said["totals"]
    ]
    heading = (
        "year",
        ">wheat ha",
        ">straw t",
        ">£",
        ">£, worst seasons",
        "busiest week",
    )
    return text_table(heading, rows)


def _why(answer, said):
    from sheafwright.answers.cropping_wording import crop_says

    lines = []
    for each in said["fields"]:
        year = each["years"][0]
        lines.append(f"{each['field']}: {year['reason']}.")
        if year["next_best"]:
            lines.append(f"  {year['next_best']['why']}.")
        lines += [
            f"  No {crop_says(blocked['crop'], answer.plan.problem)}: {blocked['why']}."
            for blocked in year["blocked"]
        ]
    return "\n".join(lines)


def _seed(said):
    plots = [
        f"{year['year']}: {plot['area_ha'] * 10_000:,.0f} m² in {plot['field']}"
        for year in said["totals"]
        for plot in year["seed_plots"]
    ]
    if plots:
        yield "Plots for the scarce seed", "\n".join(plots)
