"""``sheafwright stand``: will a crop stand, and what would help."""

import dataclasses
import functools

import click

from sheafwright.cli.options import chart_option, print_answer, some, text_table
from sheafwright.cli.season import (
    ANSWER_OPTIONS,
    RECORD_OPTIONS,
    Date,
    Named,
    with_options,
    working_option,
    working_part,
)
from sheafwright.core.errors import UnreadableInput

OPTIONS = (
    *RECORD_OPTIONS,
    click.option("--sown", required=True, type=Date(), help="Day of sowing."),
    click.option(
        "--plants-per-m2", required=True, type=float, metavar="N", help="That came up."
    ),
    click.option("--height", metavar="HEIGHT", help="Of the crop, such as 4 ft."),
    click.option(
        "--nitrogen-index",
        type=float,
        metavar="0-6",
        help="Soil nitrogen supply index.",
    ),
    click.option(
        "--soil", default="medium", show_default=True, help="Or light, heavy."
    ),
    click.option(
        "--class",
        "variety_class",
        metavar="CLASS",
        help="Variety's need of cold, as for `sheafwright outlook`.",
    ),
    click.option(
        "--reference",
        multiple=True,
        type=Named(str, "height='4 ft'"),
        metavar="NAME=VALUE",
        help="How the field that you know was grown, where not the usual: sown, "
        "plants, height or nitrogen-index; again for others.",
    ),
    click.option(
        "--own-lodging",
        metavar="FILE",
        help="What lay in past years: a CSV of sown, lodged_pct, and perhaps "
        "plants_per_m2, height_cm, nitrogen_index.",
    ),
    chart_option,
    working_option,
    *ANSWER_OPTIONS,
)


@click.command("stand")
@functools.partial(with_options, OPTIONS)
def command(chart, whole, as_json, **options):
    """Say whether a crop will stand, beside another field, and what would help.

    It is set in the wind and rain of every season on record, from ear emergence to
    cutting. The other field is a usual one, or yours by --reference; height and
    nitrogen index are as there if not given.
    """
    # NumPy comes with the answer; --help shouldn't wait for it.
    from sheafwright.answers.lodging import will_it_stand
    from sheafwright.charts.lodging import lodging_chart
    from sheafwright.charts.save import check_ending, save

    if chart:
        check_ending(chart)
    answer = will_it_stand(_question(**options))
    if chart:
        save(lodging_chart(answer), chart)
    print_answer(answer, as_json, lambda made: _parts(made, whole))


def _question(sown, plants_per_m2, height, nitrogen_index, reference, **asked):
    from sheafwright.answers.lodging import LodgingQuestion
    from sheafwright.feeds.lodging import reference_crop
    from sheafwright.feeds.sowing import harvest_year

    usual = reference_crop(harvest_year(sown))
    beside = dataclasses.replace(usual, **_changed(reference))
    given = {"sown": sown, "plants_per_m2": plants_per_m2}
    if height is not None:
        given["height_m"] = _metres(height)
    if nitrogen_index is not None:
        given["nitrogen_index"] = nitrogen_index
    return LodgingQuestion(
        crop=dataclasses.replace(beside, **given),
        reference=beside if reference else None,
        **asked,
    )


def _changed(reference):
    """What the options change of the usual reference field."""
    readers = {
        "sown": ("sown", _date),
        "plants": ("plants_per_m2", _number),
        "height": ("height_m", _metres),
        "nitrogen-index": ("nitrogen_index", _number),
    }
    for name, _ in reference:
        if name not in readers:
            raise UnreadableInput(
                f"--reference: {name[:40]!r} should be one of {', '.join(readers)}."
            )
    return {readers[name][0]: readers[name][1](value) for name, value in reference}


def _date(text):
    option = click.Option(["--reference"])
    return Date().convert(text, option, None)


def _number(text):
    try:
        return float(text)
    except ValueError:
        raise UnreadableInput(
            f"--reference: {text[:40]!r} should be a number."
        ) from None


def _metres(text):
    from sheafwright.feeds import units

    return units.parse(text, "height") / 100


def _parts(answer, whole):
    said = answer.to_json()
    yield "What would change it", _changes(said)
    yield "Share that lies by each day: 8 chances in 10 between", _days(said)
    yield working_part(answer, whole)


def _changes(said):
    from sheafwright.answers.lodging_working import change_named

    beside = said["against_reference"]
    rows = [("as asked", *_shares(said)), (beside["called"], *_shares(beside))]
    rows += [
        (change_named(each), *(_shares(each) if each["settled"] else ("unsettled", "")))
        for each in said["changes"]
    ]
    return text_table(("", ">over a tenth lies", ">share, on average"), rows)


def _shares(said):
    return f"{said['chance_over_tenth']:.0%}", f"{said['share_lodged']['mean']:.0%}"


def _days(said):
    rows = [
        (
            day["date"],
            f"{day['share_lodged_p10']:.0%} to {day['share_lodged_p90']:.0%}",
            f"{day['share_lodged_mean']:.0%}",
            f"{day['chance_over_tenth']:.0%}",
        )
        for day in some(said["by_date"][::-1])[::-1]
    ]
    return text_table(("day", ">lies", ">on average", ">over a tenth"), rows)
