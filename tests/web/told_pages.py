"""Pages as other readers have them: ``told_pages.py FOLDER NAME``, with addresses.

To a reader of an unknown language each text that a translator could have given stands
in brackets. What stands outside of them, and is no name from the book, nobody could
translate. To a reader of acres and tons no measure should be metric. What is, either
way, goes out as JSON, by page. A program of its own, since Django's settings hold for a
whole process.
"""

import html.parser
import json
import re
import sys
from pathlib import Path

FOREIGN = "de"
FROM, TO = "⟦", "⟧"
INNERMOST = re.compile(r"⟦[^⟦⟧]*⟧")
WORD = re.compile(r"[^\W\d_]{3,}")
METRIC = re.compile(
    r"\d[\s\u00a0\u2060]?"
    r"(kg/ha|t/ha|kg/m³|km/h|m/s|mm|cm|ha|kg|km|m²|m³|t|m)(?![\w/])"
)
SILENT = {"style", "script", "code", "textarea"}
SPOKEN = {"placeholder", "aria-label", "alt"}
ALSO = {
    *(
        "Sheafwright",
        "JSON",
        "CSV",
        "PDF",
        "EPCIS",
        "UBL",
        "TOML",
        "GeoJSON",
        "KML",
        "API",
    ),
    *("http", "https", "acre", "acres", "tons", "cwt", "miles", "mph"),
}
"""Names, and units that both families write alike."""


def main(folder, name):
    from sheafwright.server.run import prepare

    prepare(folder)
    from django.conf import settings

    # Before anything asks which languages there are.
    settings.LANGUAGES = [*settings.LANGUAGES, (FOREIGN, FOREIGN)]
    addresses = json.load(sys.stdin)
    found = {"metric": metric_of_all(addresses, name)}
    in_brackets()
    found["untold"] = untold_of_all(addresses, name)
    json.dump(found, sys.stdout)


def in_brackets():
    """Speak a language that gives every text of a catalogue back in brackets."""
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


def untold_of_all(addresses, name):
    """Texts of pages that hold words nobody could translate."""
    written, who = written_in_the_book(), reader(name, language=FOREIGN)
    # A kept picture is drawn for the languages that there are.
    return _texts_of(addresses, who, lambda text: loose_words(text, written), {"svg"})


def metric_of_all(addresses, name):
    """Texts of pages, but for quotations, that hold a metric measure."""
    written, who = written_in_the_book(), reader(name, units="imperial")
    try:
        return _texts_of(
            addresses, who, lambda text: METRIC.search(without(text, written)), {"src"}
        )
    finally:
        reader(name, units="metric")


def reader(name, units="metric", language="en"):
    from django.test import Client

    from sheafwright.accounts.models import Person

    Person.objects.filter(name=name).update(units=units)
    browser = Client(headers={"host": "localhost", "accept-language": language})
    browser.force_login(Person.objects.get(name=name))
    return browser


def _texts_of(addresses, browser, is_found, unread):
    found = {}
    for address in addresses:
        reads = Texts(unread)
        page = browser.get(address, follow=True).content.decode()
        reads.feed(HELD_WHOLE.sub(r"\1", page))
        if texts := sorted({text for text in reads.texts if is_found(text)}):
            found[address] = texts
    return found


def loose_words(text, written):
    """Words that stand outside of brackets, and that nobody wrote into the book."""
    while INNERMOST.search(text):
        text = INNERMOST.sub(" ", text)
    if not WORD.search(text):
        return []
    return [word for word in WORD.findall(without(text, written)) if word not in ALSO]


def without(text, written):
    """What is left of a text once all that somebody wrote is taken out of it."""
    for each in written:
        text = text.replace(each, " ")
    return text


def written_in_the_book():
    """All that somebody wrote into the book: names, notes, codes; the longest first."""
    import zoneinfo

    from django.apps import apps
    from django.db import models

    written = set(zoneinfo.available_timezones())
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
            written |= {" ".join(str(value or "").split()) for value in row}
    return sorted((w for w in written if len(w) > 2), key=len, reverse=True)


HELD_WHOLE = re.compile(r'<span class="whole">([^<>]*)</span>')
"""A code that is kept on one line is read as a part of its sentence."""


class Texts(html.parser.HTMLParser):
    """The texts of a page that somebody reads or is read to."""

    def __init__(self, unread):
        super().__init__()
        self.unread, self.texts, self.silent = SILENT | unread, [], []

    def handle_starttag(self, tag, attributes):
        if {tag, dict(attributes).get("class")} & self.unread:
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
