"""``sheafwright grade``: which grade is straw, by its measured stems."""

import click

from sheafwright.cli.options import json_option, print_answer
from sheafwright.cli.season import working_part
from sheafwright.core.errors import UnreadableInput

USES = ("coatwork", "ridge", "long_straw")


@click.command("grade")
@click.argument("stems_file", type=click.Path(), metavar="STEMS")
@click.option(
    "--use",
    type=click.Choice(USES),
    default="coatwork",
    show_default=True,
    help="What the straw is wanted for.",
)
@click.option(
    "--rules",
    type=click.Path(),
    metavar="TOML",
    help="Your own rule: a table of values under the use's name.",
)
@click.option(
    "--bundles",
    type=int,
    metavar="N",
    help="In the lot: says which of them to open, and how many stems to draw.",
)
@click.option("--seed", default=1, show_default=True, help="Of that draw by lot.")
@json_option
def command(stems_file, use, rules, bundles, seed, as_json):
    """Say which grade a lot is by its measured stems, and how sure that is.

    STEMS is a JSON or CSV file, a row a stem, with any of length_mm, butt_mm, top_mm,
    bends, damage, brightness and bundle. With --bundles the answer is a plan instead:
    which bundles to open next, told of how alike those stems were.
    """
    # NumPy comes with the answer; --help shouldn't wait for it.
    from sheafwright.answers.grade import GradeQuestion, grade
    from sheafwright.feeds.stems import read_stems

    rule = _own_rule(rules, use) if rules else None
    answer = grade(GradeQuestion(read_stems(stems_file), use, rule))
    if bundles is not None:
        answer = _plan(answer, bundles, seed)
    print_answer(answer, as_json, _parts)


def _own_rule(path, use):
    """The `GradeRule` in a file; what it leaves out is as the package has it."""
    from sheafwright.core.inputs.grading import GradeRule
    from sheafwright.feeds import grades, tables

    own = tables.read_file(path)
    if use not in own:
        raise UnreadableInput(
            "{path} has no section {use}; it should have the rule below [{use}].",
            path=str(path),
            use=use,
        )
    rows = grades.rule_rows(use) | own[use]
    return tables.build(GradeRule, rows, tables.within(str(path), use))


def _plan(graded, bundles, seed):
    from sheafwright.answers.sampling import SamplingQuestion, sampling

    return sampling(
        SamplingQuestion(
            bundles=bundles,
            use=graded.question.use,
            rule=graded.question.rule,
            alike=graded.alike,
            seed=seed,
        )
    )


def _parts(answer):
    yield working_part(answer)
