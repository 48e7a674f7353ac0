"""``sheafwright outlook``: when each stage will come, and whether to cut or wait."""

import click

from sheafwright.cli.options import chart_option, print_answer, some, text_table
from sheafwright.cli.season import caution, question, season_options, working_part


@click.command("outlook")
@season_options
@chart_option
def command(chart, as_json, **options):
    """Say when each stage will come, may a fit week be hoped for, and cut or wait.

    Everything rests on the weather record up to the day of the question, and on what
    you have seen.
    """
    # NumPy comes with the answer; --help shouldn't wait for it.
    from sheafwright.answers.outlook import outlook
    from sheafwright.charts.save import check_ending, save
    from sheafwright.charts.season import season_chart

    if chart:
        check_ending(chart)
    answer = outlook(question(**options))
    if chart:
        save(season_chart([answer]), chart)
    print_answer(answer, as_json, parts)


def parts(answer):
    """An outlook's tables and working, each with its title."""
    yield from tables(answer)
    yield working_part(answer)


def tables(answer):
    """An outlook's tables, each with its title, after any caution."""
    yield from caution(answer)
    said = answer.to_json()
    yield "Stages: 8 chances in 10 that each comes from early to late", _stages(answer)
    if len(said["by_cutting_day"]) > 1:
        yield "Share of a perfect crop, by the day aimed for", _days(said)


def _stages(answer):
    from sheafwright.answers.question import STAGES
    from sheafwright.answers.wording import STAGE_NAMES, near_date
    from sheafwright.feeds.telling import say

    rows = [
        (
            say(STAGE_NAMES[name]),
            STAGES[name].removeprefix("gs").replace("emergence", "10"),
            *map(near_date, dates),
        )
        for name, dates in answer.stages.items()
    ]
    return text_table(("stage", ">GS", ">early", ">likely", ">late"), rows)


def _days(said):
    days, starts = said["by_cutting_day"], said["fit_week"]["by_start"]
    rows = [
        (
            day["date"],
            f"{day['worth_mean']:.0%}",
            f"{day['worth_p10']:.0%} to {day['worth_p90']:.0%}",
            f"{start['chance']:.0%}",
            f"{day['chance_of_rain']:.0%}",
        )
        for day, start in some(list(zip(days, starts, strict=True)))
    ]
    heading = (
        "day",
        ">expected",
        ">8 in 10 between",
        ">stooks come through",
        ">too wet",
    )
    return text_table(heading, rows)
