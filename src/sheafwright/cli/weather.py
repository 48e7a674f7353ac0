"""``sheafwright weather``: what a record holds and what it is good enough for."""

import click

from sheafwright.cli.options import (
    columns_option,
    json_option,
    print_answer,
    text_table,
)

MOST_ROWS = 12


@click.command("weather")
@click.argument("file", type=click.Path())
@columns_option
@json_option
def command(file, columns, as_json):
    """Say what a weather record holds and what it is good enough for.

    FILE is a daily file of the Irish or Dutch service, GHCN-Daily or EPW, plain or
    gzip, known by what it holds; or any other CSV, with --columns.
    """
    # NumPy comes with the answer; --help shouldn't wait for it.
    from sheafwright.answers.weather import weather_report

    print_answer(weather_report(file, columns), as_json, _parts)


def _parts(report):
    said = report.to_json()
    yield f"Measured, of {said['days']:,} days ({said['layout']})", _present(said)
    yield f"Good enough for, with {said['seasons']} whole seasons", _fitness(report)
    for title, key, total, table in (
        ("Impossible or suspicious", "suspect", said["suspect_total"], _suspects),
        ("Gaps, the longest first", "gaps", said["gaps_total"], _gaps),
        ("Seasons that can't be used", "seasons_refused", None, _seasons),
    ):
        if few := said[key][:MOST_ROWS]:
            count = total or len(said[key])
            more = f" ({len(few)} of {count:,})" if count > len(few) else ""
            yield title + more, table(few)


def _present(said):
    rows = [
        (name, f"{share:.2%}", str(said["filled"].get(name, {}).get("days", "")))
        for name, share in said["present"].items()
    ]
    return text_table(("variable", ">share", ">days bridged"), rows)


def _fitness(report):
    from sheafwright.answers.weather import CALLED, FITNESS
    from sheafwright.feeds.telling import say

    rows = [
        (say(CALLED[name]), "yes" if name in report.fit_for else "no", say(says))
        for name, says in FITNESS.items()
    ]
    return text_table(("answer", "fit", "what it says"), rows)


def _suspects(few):
    rows = [
        (
            *_cells(each, "check", "variable", "date", "days"),
            "" if each["value"] is None else f"{each['value']:g}",
            "left out" if each["refused"] else "kept",
        )
        for each in few
    ]
    return text_table(("check", "variable", "from", ">days", ">value", "use"), rows)


def _gaps(few):
    rows = [
        (
            *_cells(gap, "variable", "first", "last", "days"),
            "bridged" if gap["filled"] else "",
        )
        for gap in few
    ]
    return text_table(("variable", "from", "to", ">days", ""), rows)


def _seasons(few):
    rows = [_cells(each, "harvest_year", "variable", "first", "days") for each in few]
    return text_table(("harvest", "lacks", "from", ">days"), rows)


def _cells(entry, *names):
    return [str(entry[name]) for name in names]
