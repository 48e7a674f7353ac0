"""``sheafwright cut``: cut today, or wait?"""

import click

from sheafwright.cli.options import print_answer, text_table
from sheafwright.cli.season import (
    caution,
    question,
    season_options,
    working_option,
    working_part,
)


@click.command("cut")
@season_options
@working_option
def command(as_json, whole, **options):
    """Say whether to cut today or wait, with the odds.

    Today is the day of the question: the last of the weather record, if --as-of does
    not say another.
    """
    # NumPy comes with the answer; --help shouldn't wait for it.
    from sheafwright.answers.cutting import cut

    print_answer(cut(question(**options)), as_json, lambda made: _parts(made, whole))


def _parts(answer, whole):
    yield from caution(answer)
    said = answer.to_json()
    rows = [
        (day["date"], f"{day['chance']:.0%}") for day in said["fit_week"]["by_start"]
    ]
    yield (
        "Chance that stooks cut on a day come through a fit spell",
        text_table(("day", ">chance"), rows),
    )
    ripe = said["ripeness"]
    opens = said["soft_dough"]
    yield (
        "Ripeness today (1 is hard dough), and when soft dough comes",
        text_table(
            ("", ">early", ">likely", ">late"),
            [
                ("ripeness", *(f"{ripe[name]:.2f}" for name in ("p10", "p50", "p90"))),
                ("soft dough", *(opens[n] or "never" for n in ("p10", "p50", "p90"))),
            ],
        ),
    )
    yield working_part(answer, whole)
