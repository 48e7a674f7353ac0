"""Gather all that a reader is told into the catalogue of a language, for translators.

The words of pages and record go through Django's gettext, the engine's through
`sheafwright.feeds.telling`; its words and those of our errors are marked for
xgettext here.
"""

import os
import sys
import tomllib
from pathlib import Path

import django
from django.conf import settings
from django.core.management import call_command
from django.core.management.commands import makemessages

import sheafwright
from sheafwright.core import errors

PACKAGE = Path(sheafwright.__file__).parent
MARKS = ("say", "say_n:1,2", "mark", *(n for n in vars(errors) if n[0].isupper()))


class Command(makemessages.Command):
    xgettext_options = (
        *makemessages.Command.xgettext_options,
        *(f"--keyword={mark}" for mark in MARKS),
    )


def gather(language, package=PACKAGE):
    """Write or renew ``locale/<language>/LC_MESSAGES/django.po`` of the package.

    Parameters
    ----------
    language : str
        Such as ``de``.
    package : pathlib.Path
    """
    if not settings.configured:
        settings.configure(USE_I18N=True)
        django.setup()
    (package / "locale").mkdir(exist_ok=True)
    tables, before = package / "data" / "words_of_tables.py", Path.cwd()
    tables.write_text("".join(f"mark({said!r})\n" for said in said_in_tables()))
    os.chdir(package)
    try:
        call_command(Command(), locale=[language], verbosity=0)
    finally:
        os.chdir(before)
        tables.unlink()
    return package / "locale" / language / "LC_MESSAGES" / "django.po"


def said_in_tables():
    """What a table of parameters says in words: sources, and sentences as values."""
    for path in sorted((PACKAGE / "data").glob("*.toml")):
        yield from dict.fromkeys(_texts(tomllib.loads(path.read_text("utf-8"))))


def _texts(part):
    if isinstance(part, dict):
        for key, each in part.items():
            if key != "unit":
                yield from _texts(each)
    elif isinstance(part, list):
        for each in part:
            yield from _texts(each)
    elif isinstance(part, str):
        yield part


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("Give one language, such as: make words LANGUAGE=de")
    print(gather(sys.argv[1]))
