"""``sheafwright turns``: which field can wait its turn."""

import functools

import click

from sheafwright.cli.options import print_answer, text_table
from sheafwright.cli.season import (
    ANSWER_OPTIONS,
    RECORD_OPTIONS,
    TODAY_OPTIONS,
    forecast_of,
    losses_option,
    own_seasons_option,
    with_options,
    working_option,
    working_part,
)

OPTIONS = (
    *RECORD_OPTIONS,
    *TODAY_OPTIONS,
    own_seasons_option,
    losses_option,
    click.option(
        "--summers",
        type=click.IntRange(20, 2000),
        default=200,
        show_default=True,
        help="Possible summers drawn.",
    ),
    click.option(
        "--plan",
        type=click.Path(),
        metavar="JSON",
        help="A plan, as `sheafwright day --json` printed it: it is said what that "
        "brings beside cutting the ripest first.",
    ),
    working_option,
    *ANSWER_OPTIONS,
)


@click.command("turns")
@click.argument("file", type=click.Path())
@functools.partial(with_options, OPTIONS)
def command(file, plan, whole, as_json, **options):
    """Say which field can wait until after the next days, and which holds up others.

    FILE is a TOML file of your standing fields, binders and hands; the package's
    data/demo/turns.toml shows one. `sheafwright day` reads the answer, where its file
    says turns = "the JSON that --json printed".
    """
    # The answer brings NumPy; --help shouldn't wait for it.
    from sheafwright.answers.turns import TurnsQuestion, turns
    from sheafwright.feeds.crew_day import read_before
    from sheafwright.feeds.turns import read_harvest

    source, contact, folder = (
        options.pop(name) for name in ("forecast", "contact", "forecast_folder")
    )
    question = TurnsQuestion(
        harvest=read_harvest(file),
        forecast=forecast_of(source, contact, folder),
        **options,
    )
    answer = turns(question, read_before(plan) if plan else None)
    print_answer(answer, as_json, lambda made: _parts(made, whole))


def _parts(answer, whole):
    yield (
        "Of a perfect crop, by the hectare",
        text_table(
            ("field", "", ">cut now", ">left", ">lost", ">itself", ">others"),
            _rows(answer.turns),
        ),
    )
    yield working_part(answer, whole)


def _rows(turns):
    from sheafwright.answers.turns_wording import VERDICTS
    from sheafwright.feeds.telling import say

    for each in turns:
        shares = each.if_cut, each.if_left, each.lost, each.own_loss, each.holds_up
        yield (
            each.field,
            say(VERDICTS[each.verdict]),
            *(f"{round(100 * share) + 0}%" for share in shares),
        )
