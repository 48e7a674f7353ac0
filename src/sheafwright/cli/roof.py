"""``sheafwright roof``: a roof's true area, its straw, and what holds it."""

import click

from sheafwright.cli.options import json_option, print_answer, text_table
from sheafwright.cli.season import working_option, working_part


@click.command("roof")
@click.argument("file", type=click.Path())
@click.option(
    "--chart",
    type=click.Path(),
    metavar="FILE",
    help="Save plan and elevation: a file ending in svg, png or html.",
)
@working_option
@json_option
def command(file, chart, whole, as_json):
    """Say how large a roof is and what straw, spars and loads it takes.

    FILE is a TOML file of the roof's corners and pitches and of the work; the
    package's data/demo/roof.toml shows one.
    """
    # The answer brings NumPy; --help shouldn't wait for it.
    from sheafwright.answers.roof import roof
    from sheafwright.charts.save import check_ending, save_svg
    from sheafwright.feeds.roof import read_roof

    if chart:
        check_ending(chart)
    answer = roof(read_roof(file))
    if chart:
        from sheafwright.charts.roof import roof_svg

        save_svg(roof_svg(answer), chart)
    print_answer(answer, as_json, lambda made: _parts(made, whole))


def _parts(answer, whole):
    said = answer.to_json()
    if said["warnings"]:
        yield "Look again", "\n".join(said["warnings"])
    yield "The roof", _sizes(said)
    yield "It takes: least, likely and most", _takes(said)
    yield "Before anybody goes up", "\n".join(said["cautions"])
    yield working_part(answer, whole)


def _sizes(said):
    named = ("ridge", "hips", "valleys", "eaves", "verges", "abutments", "rise")
    rows = [("area", f"{said['area_m2']:,.1f} m²")]
    rows += [("squares", f"{said['squares']:,.2f}")]
    rows += [(n, f"{said[f'{n}_m']:,.2f} m") for n in named if said[f"{n}_m"]]
    return text_table(("", ">"), rows)


def _takes(said):
    straw = said["combed_reed_t"] or said["long_straw_t"]
    rows = [
        ("straw, t", *_three(straw, ",.2f")),
        (f"bundles of {said['bundle_kg']:.3g} kg", *_three(said["bundles"], ",d")),
        ("trailer loads", *_three(said["trailer_loads"], ",d")),
        ("spars", *_three(said["spars"], ",d")),
        ("gads of hazel", *_three(said["hazel_gads"], ",d")),
    ]
    if said["liggers"]:
        rows.append(("liggers", "", f"{said['liggers']:,d}", ""))
    if said["sways_m"]:
        rows.append(("sways, m", "", f"{said['sways_m']:,.0f}", ""))
        rows.append(("hooks", "", f"{said['hooks']:,d}", ""))
    return text_table(("", ">least", ">likely", ">most"), rows)


def _three(band, spec):
    return (f"{band[name]:{spec}}" for name in ("low", "likely", "high"))
