"""Save a chart as a file: drawn without a browser and without a network."""

import re
from pathlib import Path

from sheafwright.core.errors import UnreadableInput

LABELS = re.compile(r' (?:aria-\w+|role)="[^"]*"')
PAGE = """<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>Sheafwright</title>
<style>
body {{ margin: 0; background: {paper}; }}
svg {{ display: block; width: 100%; max-width: 700px; height: auto; margin: auto; }}
</style>
{svg}
</html>
"""


def check_ending(path):
    """Refuse a name that no chart can be saved by, before any work is done."""
    if Path(path).suffix.lower() not in WAYS:
        *most, last = WAYS
        raise UnreadableInput(
            f"{path} should end in {', '.join(most)} or {last}: that says what kind of "
            f"chart to make."
        )
    if not Path(path).parent.is_dir():
        raise UnreadableInput(
            f"The chart can't be saved as {path}: there is no folder "
            f"{Path(path).parent}."
        )


def save(chart, path):
    """Save an Altair chart as the kind of file that the name's ending says.

    Parameters
    ----------
    chart : altair.TopLevelMixin
    path : path
    """
    check_ending(path)
    _write(WAYS[Path(path).suffix.lower()](chart.to_dict()), path)


def _write(content, path):
    try:
        Path(path).write_bytes(content)
    except OSError as error:
        raise UnreadableInput(
            f"The chart can't be saved as {path} ({error.strerror})."
        ) from None


def save_svg(drawn, path):
    """As `save`, of a picture that is an SVG already.

    Parameters
    ----------
    drawn : str
    path : path
    """
    check_ending(path)
    _write(DRAWN[Path(path).suffix.lower()](drawn), path)


def svg(chart):
    """An Altair chart as SVG, text."""
    return _svg(chart.to_dict()).decode()


def labelled(spec):
    """SVG in which every mark has its numbers as a label, from a chart's own JSON."""
    import vl_convert

    return vl_convert.vegalite_to_svg(spec)


def _svg(spec):
    # Words and a table stand beside it to be read out, not each of its points.
    return LABELS.sub("", labelled(spec)).encode()


def _png(spec):
    import vl_convert

    return vl_convert.vegalite_to_png(spec, scale=2)


def _html(spec):
    return _page(_svg(spec).decode())


def _page(drawn):
    from sheafwright.charts.theme import PAPER

    return PAGE.format(paper=PAPER, svg=drawn).encode()


def _drawn_png(drawn):
    import vl_convert

    return vl_convert.svg_to_png(drawn, scale=2)


WAYS = {".svg": _svg, ".png": _png, ".html": _html}
DRAWN = {".svg": str.encode, ".png": _drawn_png, ".html": _page}
