"""Every page as a reader of an unknown language has it: ``told_pages.py FOLDER NAME``,
with their addresses as JSON to read.

Each text that a translator could have given stands in brackets there. What stands
outside of them, and is no name from the book, nobody could translate; it is printed as
JSON, by page. A program of its own, since Django's settings hold for a whole process.
"""

import html.parser
import json
import re
import sys
from pathlib import Path

FROM, TO = "⟦", "⟧"
INNERMOST = re.compile(r"⟦[^⟦⟧]*⟧")
WORD = re.compile(r"[^\W\d_]{3,}")
SILENT = {"style", "script", "title", "svg", "code", "textarea"}
SPOKEN = {"placeholder", "aria-label", "alt"}
ALSO = """
    Sheafwright GET POST JSON CSV PDF EPCIS SVG TOML GeoJSON KML API URL http https
    Wi-Fi England English British metric imperial
    acre acres tons cwt miles mph
"""
"""Names, and units that both families write alike."""


def main(folder, name):
    from sheafwright.server.run import prepare

    prepare(folder)
    in_brackets()
    addresses = json.load(sys.stdin)
    json.dump(left_of_all(addresses, name), sys.stdout)


def in_brackets():
    """Give every text that is looked up in a catalogue back in brackets."""
    from django.utils import translation

    catalogue = translation._trans

    def one(message, *_):
        # The formats of dates are looked up too, and nobody reads them.
        text = str(message)
        return text if not WORD.search(text) else f"{FROM}{text}{TO}"

    def by_number(singular, plural, number):
        return one(singular if number == 1 else plural)

    catalogue.gettext = one
    catalogue.ngettext = by_number
    catalogue.pgettext = lambda context, message: one(message)
    catalogue.npgettext = lambda context, *several: by_number(*several)


def left_of_all(addresses, name):
    from django.test import Client

    from sheafwright.accounts.models import Person

    browser = Client(headers={"host": "localhost"})
    browser.force_login(Person.objects.get(name=name))
    names = names_in_the_book()
    return {
        address: loose
        for address in addresses
        if (loose := left_in(browser.get(address, follow=True), names))
    }


def left_in(page, names):
    """Texts of a page that hold words nobody could translate."""
    reads = Texts()
    reads.feed(page.content.decode())
    return sorted({text for text in reads.texts if loose_words(text, names)})


def loose_words(text, names):
    while INNERMOST.search(text):
        text = INNERMOST.sub(" ", text)
    return [word for word in WORD.findall(text) if word.lower() not in names]


def names_in_the_book():
    """Every word that somebody wrote into the book, as names, notes and codes."""
    import zoneinfo

    from django.apps import apps
    from django.db import models

    words = set(ALSO.lower().split())
    for zone in zoneinfo.available_timezones():
        words |= {word.lower() for word in WORD.findall(zone)}
    for model in apps.get_models():
        if model._meta.app_label not in ("records", "accounts"):
            continue
        fields = [
            field.name
            for field in model._meta.fields
            if isinstance(field, models.CharField | models.TextField)
            and not field.choices
            and field.name not in ("chart", "question")
        ]
        for row in model.objects.values_list(*fields):
            for value in row:
                words |= {word.lower() for word in WORD.findall(str(value or ""))}
    return words


class Texts(html.parser.HTMLParser):
    """The texts of a page that somebody reads or is read to."""

    def __init__(self):
        super().__init__()
        self.texts, self.silent = [], []

    def handle_starttag(self, tag, attributes):
        if tag in SILENT:
            self.silent.append(tag)
        self.texts += [value for name, value in attributes if name in SPOKEN and value]

    def handle_endtag(self, tag):
        if self.silent and self.silent[-1] == tag:
            self.silent.pop()

    def handle_data(self, text):
        if not self.silent and text.strip():
            self.texts.append(" ".join(text.split()))


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2])
