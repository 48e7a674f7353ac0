"""``sheafwright day``: who does what in the next half-days."""

import dataclasses

import click

from sheafwright.cli.options import json_option, print_answer, text_table
from sheafwright.cli.season import Named, working_option, working_part
from sheafwright.core.errors import UnreadableInput

HALF_DAY = "'2025-08-07 afternoon'"


@click.command("day")
@click.argument("file", type=click.Path())
@click.option(
    "--before",
    type=click.Path(),
    metavar="JSON",
    help="The answer before, as --json printed it: as little is changed as can be, and "
    "it is said what.",
)
@click.option(
    "--broken",
    multiple=True,
    metavar="BINDER",
    help="A binder that is broken in all these half-days; again for others.",
)
@click.option(
    "--broken-on",
    multiple=True,
    type=Named(str, "'the old binder=2025-08-07'"),
    metavar="BINDER=WHEN",
    help="The same for a day, or for a half-day such as 2025-08-07 afternoon.",
)
@click.option(
    "--shower",
    "showers",
    multiple=True,
    metavar="HALF-DAY",
    help=f"A half-day in which a shower came, such as {HALF_DAY}; again for others.",
)
@working_option
@json_option
def command(file, before, broken, broken_on, showers, whole, as_json):
    """Say who does what in the next half-days, with which binder, in which field.

    FILE is a TOML file of your fields, stooks, people, binders and half-days; the
    package's data/demo/day.toml shows one. With turns = "a file" it takes from
    `sheafwright turns --json` which field can wait. It wants pip install
    'sheafwright[crew]'.
    """
    # The answer brings NumPy; --help shouldn't wait for it.
    from sheafwright.answers.crew import crew
    from sheafwright.feeds.crew_day import read_before, read_question

    question = read_question(file)
    days = [half.day.isoformat() for half in question.half_days]
    told = [(name, day) for name in broken for day in days] + list(broken_on)
    question = dataclasses.replace(
        question,
        binders=_with_broken(question.binders, told),
        showers=(*question.showers, *_known(showers, question)),
    )
    answer = crew(question, read_before(before) if before else None)
    print_answer(answer, as_json, lambda made: _parts(made, whole))


def _with_broken(binders, told):
    known = {binder.name for binder in binders}
    for name, _when in told:
        if name not in known:
            raise UnreadableInput(
                f"--broken: there is no binder {name[:40]!r}; it should be one of "
                f"{', '.join(sorted(known)) or 'those that the file names'}."
            )
    return tuple(
        dataclasses.replace(
            binder,
            broken=(*binder.broken, *(w for name, w in told if name == binder.name)),
        )
        for binder in binders
    )


def _known(showers, question):
    names = [half.name for half in question.half_days]
    for said in showers:
        if said not in names:
            raise UnreadableInput(
                f"--shower: {said[:40]!r} should be one of the file's half-days, such "
                f"as {names[0] if names else HALF_DAY}."
            )
    return showers


def _parts(answer, whole):
    from sheafwright.answers.crew_wording import CAUTION

    said = answer.to_json()
    if said["changed"]:
        yield "What changes", "\n".join(said["changed"])
    yield "Who does what", text_table(("half-day", "task", "who", "where"), _rows(said))
    if said["left"]:
        yield (
            "What is left",
            "\n".join(
                f"{each['area_ha']:.1f} ha of {each['field']}: {each['why']}."
                for each in said["left"]
            ),
        )
    yield "Before you start", CAUTION
    yield working_part(answer, whole)


def _rows(said):
    from sheafwright.answers.crew_wording import DOING

    for half in said["half_days"]:
        name = half["half_day"]
        for row in half["rows"]:
            yield name, DOING[row["task"]], ", ".join(row["people"]), _where(row)
            name = ""
        if not half["rows"]:
            why = "shower" if half["shower"] else f"dry: {half['dry_chance']:.0%}"
            yield name, "", "", f"nothing ({why})"


def _where(row):
    areas = [f"{each['area_ha']:.1f} ha of {each['field']}" for each in row["fields"]]
    return ", ".join([*areas, *row["binders"]])
