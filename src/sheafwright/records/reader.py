"""Who reads: in which language and units the engine speaks, and charts are drawn."""

from django.conf import settings
from django.utils import translation
from django.utils.translation import gettext, ngettext

from sheafwright.feeds.telling import Reader, family, read_by
from sheafwright.feeds.units import FAMILIES

ENGLISH_AND_METRIC = "en-gb metric"


def reading(family="metric"):
    """Tell everything meanwhile in Django's language and in this family of units."""
    # The words are English: to look each up would only take time.
    if translation.get_language() == settings.LANGUAGE_CODE:
        return read_by(Reader(family))
    return read_by(Reader(family, gettext, ngettext))


def reads():
    """Language and units of whoever reads now, as the key of a chart."""
    return f"{translation.get_language()} {family()}"


def every_reader():
    """Be each reader there may be, one after another; its key."""
    for language, _name in settings.LANGUAGES:
        for each in FAMILIES:
            with translation.override(language), reading(each):
                yield reads()


class InTheirLanguage:
    """Tells every page in its language, also to those who are not signed in."""

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        with reading():
            return self.get_response(request)
