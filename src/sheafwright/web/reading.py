"""In which language and units the engine speaks to whoever opens a page."""

from django.utils.translation import gettext, ngettext

from sheafwright.feeds.telling import Reader, read_by


def reading(family="metric"):
    """Tell everything meanwhile in the page's language and in this family of units."""
    return read_by(Reader(family, gettext, ngettext))


class InTheirLanguage:
    """Every page, also of those who are not signed in."""

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        with reading():
            return self.get_response(request)
