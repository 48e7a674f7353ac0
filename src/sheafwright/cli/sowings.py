"""``sheafwright sowings``: sowing dates and densities side by side."""

import functools
import itertools

import click

from sheafwright.cli.options import chart_option, print_answer, text_table
from sheafwright.cli.season import (
    ANSWER_OPTIONS,
    RECORD_OPTIONS,
    DayOfYear,
    class_option,
    losses_option,
    with_options,
    working_option,
    working_part,
)

OPTIONS = (
    *RECORD_OPTIONS,
    click.option(
        "--sown",
        multiple=True,
        type=DayOfYear(),
        metavar="MM-DD",
        help="A day of sowing, such as 10-15; again for others. If none, twelve from "
        "September to March.",
    ),
    click.option(
        "--plants-per-m2",
        "plants",
        multiple=True,
        type=float,
        metavar="N",
        help="Plants that come up; again for others. If none, three stands.",
    ),
    class_option,
    click.option(
        "--height-class",
        metavar="CLASS",
        default="tall",
        show_default=True,
        help="old_tall, tall, middling or short.",
    ),
    click.option(
        "--nitrogen-index",
        type=click.IntRange(0, 6),
        default=1,
        show_default=True,
        help="Of the soil's nitrogen supply.",
    ),
    click.option(
        "--soil",
        metavar="SOIL",
        default="medium",
        show_default=True,
        help="light, medium or heavy.",
    ),
    losses_option,
    chart_option,
    working_option,
    *ANSWER_OPTIONS,
)
WEIGHED = ("straw", "reed", "grain")


@click.command("sowings")
@functools.partial(with_options, OPTIONS)
def command(chart, whole, as_json, **options):
    """Set sowing dates and densities side by side over every season on record.

    Each is grown, gets its cold, ripens, stands or lies, and is cut and stooked, in
    the weather of every season. Whether the ground is fit to drill is not asked.
    """
    # NumPy comes with the answer; --help shouldn't wait for it.
    from sheafwright.answers.sowing_dates import sowings
    from sheafwright.charts.save import check_ending, save
    from sheafwright.charts.sowings import sowings_chart

    if chart:
        check_ending(chart)
    answer = sowings(_question(**options))
    if chart:
        save(sowings_chart(answer), chart)
    print_answer(answer, as_json, lambda made: _parts(made, whole))


def _question(nitrogen_index, soil, height_class, **asked):
    from sheafwright.answers.sowing_dates_question import SowingsQuestion
    from sheafwright.answers.sowing_stands import Ground

    return SowingsQuestion(ground=Ground(nitrogen_index, soil, height_class), **asked)


def _parts(answer, whole):
    said = answer.to_json()
    title = f"Ripe, 8 years in 10 from early to late, of {said['seasons']} seasons"
    yield title, _dates(said)
    yield (
        "A hectare by plants to the m²: t and £ in the mean, and 8 in 10",
        _sowings(said),
    )
    yield working_part(answer, whole)


def _dates(said):
    by_date = itertools.groupby(said["by_sowing"], key=lambda row: row["sown"])
    rows = [
        (
            sown,
            *(ripe or "never" for ripe in first["ripe_date"].values()),
            f"{first['fit_week_seasons']} of {said['seasons']}",
            _cold(first["vernalisation"], said["seasons"]),
        )
        for sown, (first, *_) in by_date
    ]
    heading = ("sown", ">early", ">likely", ">late", ">fit week", "cold")
    return text_table(heading, rows)


def _cold(cold, n_seasons):
    """The status; where it is not safe, in how many years there was cold enough."""
    status = cold["status"].replace("_", " ")
    met = f", enough in {round(cold['chance'] * n_seasons)} of {n_seasons}"
    return status + met * (cold["status"] != "safe")


def _sowings(said):
    rows = [
        (
            row["sown"],
            f"{row['plants_per_m2']:g}",
            "–"
            if row["lodged_share"] is None
            else f"{row['lodged_share']['mean']:.0%}",
            *(f"{row[f'{what}_t_per_ha']['mean']:.1f}" for what in WEIGHED),
            f"{row['gbp_per_ha']['mean']:.0f}",
            f"{row['gbp_per_ha']['p10']:.0f} to {row['gbp_per_ha']['p90']:.0f}",
            str(row["seasons_best"]) if row["in_choice"] else "–",
        )
        for row in said["by_sowing"]
    ]
    weights = (f">{what}" for what in WEIGHED)
    heading = ("sown", ">plants", ">lies", *weights, ">£", ">8 in 10", ">years best")
    return text_table(heading, rows)
