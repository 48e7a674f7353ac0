"""``sheafwright straw``: straw measured from photographs."""

from pathlib import Path

import click

from sheafwright.cli.options import json_option, print_answer, text_table

OUT = "{name}-traced.jpg"


@click.command("straw")
@click.argument(
    "photos",
    nargs=-1,
    required=True,
    metavar="PHOTO…",
    type=click.Path(exists=True, dir_okay=False),
)
@click.option(
    "--sheets", type=int, metavar="N", help="Of the board, if it is not the usual one."
)
@click.option(
    "--bar-mm",
    type=float,
    metavar="MM",
    help="What a ruler says of the printed bar, if it is not what stands beside it.",
)
@click.option(
    "--drawn",
    metavar="FOLDER",
    type=click.Path(file_okay=False),
    help="Save each photograph there with the traced stems drawn on it.",
)
@click.option("--working", "whole", is_flag=True, help="Print every step.")
@json_option
def command(photos, sheets, bar_mm, drawn, whole, as_json):
    """Measure straw in photographs of the board it lies on.

    The board comes from `sheafwright board`. Nothing of a photograph but its pixels is
    kept or saved.
    """
    from sheafwright.answers.straw import straw

    contents = [(Path(photo).name, _bytes(photo)) for photo in photos]
    answer = straw(contents, sheets=sheets, bar_mm=bar_mm)
    if drawn:
        _save(answer, Path(drawn))
    print_answer(answer, as_json, lambda made: _parts(made, whole))


def _bytes(photo):
    """A file's bytes, no more than a photograph may have."""
    from sheafwright.measure.photo import MOST_BYTES

    with Path(photo).open("rb") as file:
        return file.read(MOST_BYTES + 1)


def _save(answer, folder):
    from sheafwright.core.errors import UnreadableInput
    from sheafwright.measure.drawn import drawn

    try:
        folder.mkdir(parents=True, exist_ok=True)
        first = 1
        for each in answer.seen:
            name = OUT.format(name=Path(each.name).stem)
            (folder / name).write_bytes(drawn(each.measured, first))
            first += len(each.measured.stems)
    except OSError as error:
        raise UnreadableInput(
            "{path} can't be written: {why}.", path=str(folder), why=error.strerror
        ) from None


def _parts(answer, whole):
    from sheafwright.answers.straw import WHY
    from sheafwright.cli.season import working_part
    from sheafwright.feeds.telling import told

    said = answer.to_json()
    yield "Stems, in mm; errors hold 19 times in 20", _stems(said["stems"])
    if said["rejected"]:
        whys = {each["why"] for each in said["rejected"]}
        yield "Left out", "\n".join(f"  {told(WHY[why])}" for why in sorted(whys))
    if said["refused"]:
        lines = (f"  {each['name']}: {each['why']}" for each in said["refused"])
        yield "Photographs refused", "\n".join(lines)
    yield "Mind", "\n".join(f"  {words}" for words in said["warnings"])
    if whole:
        yield working_part(answer)


def _stems(stems):
    rows = [
        (
            str(stem["number"]),
            f"{stem['length_mm']:,.0f} ±{stem['length_error_mm']:.1f}",
            *(_thick(stem[f"{at}_diameter_mm"]) for at in ("butt", "middle", "top")),
            str(len(stem["nodes_mm"])),
            f"{stem['sharpest_bend_deg']:.0f}°",
            f"{stem['brightness']:.0f}",
            _faults(stem),
        )
        for stem in stems
    ]
    heading = ("", ">long", ">butt", ">mid", ">top", ">nodes", ">bend", ">L*", "faults")
    return text_table(heading, rows)


def _thick(diameter):
    return "" if diameter is None else f"{diameter:.1f}"


def _faults(stem):
    found = {
        "dog-leg": stem["dog_leg"],
        "crushed": stem["crushed_mm"],
        "split": stem["split_mm"],
        "mouldy": stem["mouldy_mm"],
        "leaf": stem["leaf_left_on_mm"],
        "green": stem["green_share"] > 0.5,
    }
    return ", ".join(name for name, there in found.items() if there)
