"""What was refused, in words: on the form where it was typed, or on a page of its own.

Not found, not allowed and broken have their pages in ``templates/404.html`` and beside.
"""

import contextlib

from django.core.exceptions import NON_FIELD_ERRORS, ValidationError
from django.shortcuts import render

from sheafwright.core.errors import SheafwrightError
from sheafwright.feeds.telling import refusal


@contextlib.contextmanager
def told_on(form):
    """Put what a service refuses on the form, which keeps what was typed."""
    try:
        yield
    except ValidationError as error:
        _add(form, error)
    except SheafwrightError as error:
        form.add_error(None, refusal(error))


def _add(form, error):
    if not hasattr(error, "error_dict"):
        form.add_error(None, error)
        return
    for name, errors in error.error_dict.items():
        known = name != NON_FIELD_ERRORS and name in form.fields
        form.add_error(name if known else None, errors)


class Refusals:
    """Answers with one sentence whatever no form has caught."""

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        return self.get_response(request)

    def process_exception(self, request, exception):
        if not isinstance(exception, SheafwrightError | ValidationError):
            return None
        return render(
            request, "400.html", {"sentence": sentence(exception)}, status=400
        )


def sentence(error):
    """The words of a refusal."""
    if isinstance(error, ValidationError):
        return " ".join(error.messages)
    return refusal(error)
