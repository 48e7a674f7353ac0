"""Make a PDF from a template and a sheet of plain facts."""

import dataclasses
import functools
import json
from datetime import UTC, date, datetime, time
from decimal import Decimal
from pathlib import Path

from django.utils.functional import Promise

from sheafwright.core.errors import UnreadableInput

HERE = Path(__file__).parent


def pdf(template, sheet, **more):
    """The PDF of a sheet; the same sheet gives the same bytes.

    Parameters
    ----------
    template : str
        Name of a file in ``templates``, without its ending.
    sheet : dataclass
        Has ``made_on``, the date that the PDF bears.
    **more
        What the template needs beside the sheet, such as ``words``, its fixed ones.

    Returns
    -------
    bytes
    """
    return _made(template, sheet, more)


def png(template, sheet, pixels_per_inch, **more):
    """As `pdf`, each page as a picture."""
    made = _made(template, sheet, more, format="png", ppi=pixels_per_inch)
    return made if isinstance(made, list) else [made]


def _made(template, sheet, more, **form):
    import typst

    try:
        return typst.compile(
            HERE / f"templates/{template}.typ",
            font_paths=_fonts(),
            # Facts go in as data only: no text can become part of the template.
            sys_inputs={"sheet": as_json(dataclasses.asdict(sheet) | more)},
            timestamp=int(datetime.combine(sheet.made_on, time(), UTC).timestamp()),
            **form,
        )
    except typst.TypstError as error:
        raise UnreadableInput(
            f"The sheet “{template}” can't be made from these facts: {error.message}."
        ) from None


def as_json(facts):
    """Facts as JSON, dates and numbers as a reader would write them."""
    text = json.dumps(facts, default=in_words, ensure_ascii=False)
    # Half of a pair of code units is no letter, and Typst would refuse the sheet.
    return text.encode(errors="replace").decode()


@functools.singledispatch
def in_words(value):
    """A date or a number as it is printed."""
    raise TypeError(f"No sheet can hold {value!r}.")


@in_words.register
def _(value: date):
    return f"{value.day} {value:%b %Y}"


@in_words.register
def _(value: Decimal):
    return f"{value:,}".replace("-", "−")


@in_words.register
def _(value: Promise):
    # A word of ours, in the reader's language.
    return str(value)


@functools.cache
def _fonts():
    import typst

    # Typst's own faces stay, for letters that ours lack; a machine's would differ.
    return typst.Fonts(include_system_fonts=False, font_paths=[HERE / "fonts"])
