"""``sheafwright budget``: what a crop should leave, from a file of one's own."""

import click

from sheafwright.cli.options import chart_option, json_option, print_answer, text_table
from sheafwright.cli.season import Named, working_option, working_part
from sheafwright.core.errors import UnreadableInput


@click.command("budget")
@click.argument("file", type=click.Path(), required=False)
@click.option("--harvest", type=int, metavar="YEAR", help="This year's, if not given.")
@click.option(
    "--try",
    "tried",
    multiple=True,
    type=Named(float, "reed_price=900"),
    metavar="NAME=VALUE",
    help="A likely value for once: crop (t/ha), kept (0 to 1), reed_price, "
    "grain_price (£/t), hours (times), wage (£/h), contractor (£/ha), drum_day (£), "
    "interest; again for others.",
)
@click.option("--draws", default=2000, show_default=True, help="Possible years drawn.")
@click.option("--seed", default=1, show_default=True, help="Of the draws.")
@chart_option
@click.option("--example", is_flag=True, help="Print a file to begin with, and stop.")
@working_option
@json_option
def command(file, harvest, tried, draws, seed, chart, example, whole, as_json):
    """Say what a crop of straw and grain should leave, and what would leave more.

    FILE is a TOML file of your fields and of what you know better than the tables.
    """
    # NumPy comes with the answer; --help shouldn't wait for it.
    from sheafwright.charts.budget import budget_chart
    from sheafwright.charts.save import check_ending, save

    if example:
        _print_example()
        return
    if chart:
        check_ending(chart)
    answer = _answer(file, harvest, tried, draws, seed)
    if chart:
        save(budget_chart(answer), chart)
    print_answer(answer, as_json, lambda made: _parts(made, whole))


def _print_example():
    from sheafwright.feeds.budget import example_file

    for line in example_file():
        click.echo(line)


def _answer(file, harvest, tried, draws, seed):
    from sheafwright.answers.budget import BudgetQuestion, budget
    from sheafwright.feeds.budget import KNOBS, changed, read_terms

    if file is None:
        raise UnreadableInput(
            "No budget file is named; it should be, and --example prints one to begin "
            "with."
        )
    for name, _value in tried:
        if name not in KNOBS:
            raise UnreadableInput(
                f"--try: {name[:40]!r} should be one of {', '.join(KNOBS)}."
            )
    terms = changed(read_terms(file), dict(tried))
    return budget(
        BudgetQuestion(terms, harvest or _this_year(), draws=draws, luck=seed)
    )


def _this_year():
    import datetime

    return datetime.date.today().year


def _parts(answer, whole):
    from sheafwright.answers.budget_wording import an_hour, likely_and_middle

    said = answer.to_json()
    heading = ("", ">£", ">£/ha", ">£ a tonne of reed")
    yield "The likely crop", text_table(heading, _lines(said))
    yield "Why it isn't the answer above", likely_and_middle(answer)
    yield "For its hours", an_hour(answer)
    heading = ("", ">£/ha", ">8 years in 10", ">better in")
    yield "Other uses of the field", text_table(heading, _uses(said))
    heading = ("", ">alone", ">in all", ">goes with what is left")
    yield "What makes it uncertain", text_table(heading, _matters(said))
    heading = ("", ">paid", ">got", ">in hand")
    yield "Cash by the month", text_table(heading, _months(said))
    yield "What it doesn't know", answer.doubts
    yield working_part(answer, whole)


def _lines(said):
    for line in said["lines"]:
        sign = 1 if line["kind"] == "income" else -1
        yield _row(line["says"], sign, line)
    left = {
        "pence": said["margin_pence"],
        "gbp_per_ha": said["margin_pence"] / 100 / said["area_ha"],
        "gbp_per_t_of_reed": said["margin_pence"] / 100 / said["reed_t"],
    }
    yield _row("left", 1, left)


def _row(says, sign, line):
    return (
        says,
        f"{sign * line['pence'] / 100:,.2f}",
        f"{sign * line['gbp_per_ha']:,.0f}",
        f"{sign * line['gbp_per_t_of_reed']:,.0f}",
    )


def _uses(said):
    from sheafwright.answers.budget_wording import pounds, years_of_ten

    for each in said["other_uses"]:
        low, high = each["gbp_per_ha_p10"], each["gbp_per_ha_p90"]
        yield (
            each["says"],
            pounds(each["likely_gbp_per_ha"]),
            f"{pounds(low)} to {pounds(high)}",
            years_of_ten(each["chance_better"]),
        )


def _matters(said):
    for each in said["what_matters"]:
        yield (
            each["says"],
            f"{each['share_alone']:.0%}",
            f"{each['share_in_all']:.0%}",
            f"{each['rank_correlation']:+.2f}",
        )


def _months(said):
    for each in said["months"]:
        if each["paid_gbp"] or each["got_gbp"]:
            amounts = (each[name] for name in ("paid_gbp", "got_gbp", "balance_gbp"))
            yield each["month"], *(f"{amount:,.0f}" for amount in amounts)
