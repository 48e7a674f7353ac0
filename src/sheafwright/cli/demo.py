"""The season outlook of the invented demo holding, told and drawn."""

import json

import click

from sheafwright.cli.options import print_answer


def tell(chart, as_json):
    """Print the outlook of each field, and save the chart of them all."""
    from sheafwright.charts.save import save
    from sheafwright.charts.season import season_chart
    from sheafwright.feeds.holding import demo_holding

    holding = demo_holding()
    answers = {field.name: _outlook(holding, field) for field in holding.fields}
    save(season_chart(answers.values(), answers), chart)
    if as_json:
        said = {name: answer.to_json() for name, answer in answers.items()}
        click.echo(json.dumps(said, indent=2, ensure_ascii=False, allow_nan=False))
        return
    _print(holding, answers)
    click.echo(f"\nThe chart is saved as {chart}.")


def _outlook(holding, field):
    from sheafwright.answers.outlook import outlook
    from sheafwright.answers.question import Question

    return outlook(
        Question(
            weather=holding.weather,
            columns=holding.columns,
            latitude=holding.latitude,
            altitude=holding.altitude,
            sown=field.sown,
            variety_class=field.variety_class,
            area=field.area,
            as_of=holding.as_of,
            seen=field.seen,
        )
    )


def _print(holding, answers):
    from sheafwright.answers.wording import date
    from sheafwright.cli.outlook import tables

    click.echo(f"{holding.name}, an invented holding, on {date(holding.as_of)}.")
    for field in holding.fields:
        click.echo(f"\n{field.name}, {field.area:g} ha, sown {date(field.sown)}\n")
        print_answer(answers[field.name], False, tables)
    click.echo("\nHow it is worked out: `sheafwright outlook --help`, on a record of")
    click.echo("your own, prints every step with its source.")
