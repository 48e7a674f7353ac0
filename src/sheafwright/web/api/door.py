"""Who comes in, and what they are told when they may not, or may not do that."""

from django.core.exceptions import ValidationError
from django.http import Http404
from django.utils.translation import gettext as _
from ninja import NinjaAPI, Router, Schema
from ninja.errors import AuthenticationError, HttpError
from ninja.errors import ValidationError as NotAsked
from ninja.security import HttpBearer

from sheafwright import __version__
from sheafwright.accounts.selectors import membership_with, person_of_token
from sheafwright.core.errors import SheafwrightError
from sheafwright.records import errors
from sheafwright.web.errors import sentence

CONFLICTS = (
    errors.TooLittleThere,
    errors.SaidOtherwise,
    errors.SetApart,
    errors.StillNeeded,
    errors.NothingChanges,
)
"""What was asked is well said, and the book stands against it."""


class Says(Schema):
    says: str
    """One sentence."""


REFUSALS = {400: Says, 401: Says, 404: Says, 409: Says, 422: Says}


class Token(HttpBearer):
    def authenticate(self, request, token):
        return person_of_token(token)


api = NinjaAPI(
    title="Sheafwright",
    version=__version__,
    description="The book of a holding, to read and to write.",
    auth=Token(),
    # The usual page of documents is put together from other people's servers.
    docs_url=None,
    openapi_url="/openapi.json",
    urls_namespace="api",
)

door = Router()
"""One for reading and writing, so that both share an address."""


def member(request, slug, *rights):
    """The membership by which the token's person has one of these rights, or 404."""
    *others, last = rights
    for right in others:
        try:
            return membership_with(person=request.auth, slug=slug, right=right)
        except Http404:
            continue
    return membership_with(person=request.auth, slug=slug, right=last)


def _told(status, words):
    def told(request, error):
        return api.create_response(request, {"says": words(error)}, status=status)

    return told


def _what_is_wrong(error):
    """Each part that was not as asked, and how."""
    return "; ".join(
        f"{'.'.join(str(step) for step in part['loc'][1:])}: {part['msg']}"
        for part in error.errors
    )


def _refused(request, error):
    status = 400
    if isinstance(error, CONFLICTS):
        status = 409
    elif isinstance(error, errors.NotOurs):
        status = 404
    return api.create_response(request, {"says": sentence(error)}, status=status)


for kind, answer in {
    AuthenticationError: _told(
        401, lambda error: _("Send your token: Authorization: Bearer and the key.")
    ),
    Http404: _told(404, lambda error: _("There is nothing of yours here.")),
    NotAsked: _told(422, _what_is_wrong),
    HttpError: lambda request, error: _told(error.status_code, str)(request, error),
    ValidationError: _refused,
    SheafwrightError: _refused,
}.items():
    api.add_exception_handler(kind, answer)
