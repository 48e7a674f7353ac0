"""``sheafwright replay``: the advice over every season on record."""

import click

from sheafwright.cli.options import (
    columns_option,
    json_option,
    print_answer,
    text_table,
)
from sheafwright.cli.season import DayOfYear


@click.command("replay")
@click.option("--weather", "weather_file", required=True, type=click.Path())
@click.option("--latitude", type=float, help="Degrees, north positive.")
@click.option("--altitude", type=float, help="Metres above the sea.")
@click.option(
    "--sown",
    required=True,
    type=DayOfYear(),
    metavar="MM-DD",
    help="Sowing day, the same in every year.",
)
@click.option("--class", "variety_class", help="Class of variety by need of cold.")
@click.option(
    "--forecast-skill",
    type=click.Choice(["none", "modelled"]),
    default="none",
    show_default=True,
    help="Forecasts to judge with: none, or as good as real ones.",
)
@click.option("--losses", type=click.Path(), help="Your own table of losses (TOML).")
@click.option("--seed", type=click.IntRange(0), default=1, show_default=True)
@click.option("--chart", type=click.Path(), help="Save a chart: .svg, .png or .html.")
@columns_option
@json_option
def command(
    weather_file, columns, sown, forecast_skill, losses, seed, chart, as_json, **place
):
    """Replay the advice over every season on record, beside plain rules.

    Each season is judged without itself and its neighbours.
    """
    from sheafwright.answers.replay import Sowing, replay
    from sheafwright.charts.replay import replay_chart
    from sheafwright.charts.save import check_ending, save
    from sheafwright.feeds import decision, weather

    if chart:
        check_ending(chart)
    record = weather.read(weather_file, columns)
    table = decision.losses(losses)
    answer = replay(record, Sowing(*sown, **place), forecast_skill, table, seed)
    if chart:
        save(replay_chart(answer), chart)
    print_answer(answer, as_json, _parts)


def _parts(answer):
    yield "What each would have kept of a perfect crop", _policies(answer)
    yield "Chances said, and how often they came", _chances(answer)


def _policies(answer):
    judged = answer.to_json()["policies"]
    rows = [
        (
            name.replace("_", " "),
            f"{judged[name]['mean']:.3f}",
            f"{judged[name]['p10']:.3f}",
            str(judged[name]["spoiled"]),
        )
        for name in answer.policies
    ]
    heading = ("by", ">mean", ">worst tenth", ">crops spoiled")
    return text_table(heading, rows)


def _chances(answer):
    rows = [
        (
            each["of"].replace("_", " "),
            f"{each['said']:.2f}",
            f"{each['came']:.2f}",
            f"{each['low']:.2f}–{each['high']:.2f}",
            str(each["n"]),
        )
        for each in answer.to_json()["reliability"]
    ]
    return text_table(("chance of", ">said", ">came", ">band of 90%", ">n"), rows)
