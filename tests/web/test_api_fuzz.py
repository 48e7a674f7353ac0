"""Whatever a program sends, the API answers as it said it would, and never breaks."""

import pytest
import schemathesis
from django.db import transaction
from hypothesis import HealthCheck, Phase, settings
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from sheafwright.accounts.keys import key_sha256
from sheafwright.accounts.models import Holding, Token
from sheafwright.records.models import Lot
from sheafwright.server.wsgi import application
from web.one_of_each import OneOfEach
from web.test_walls import MODELS_BY_FIELD

CHECKS = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
]
KEY = "a key"


EVERY_CALL = schemathesis.openapi.from_wsgi("/api/openapi.json", application)

SOME_CALLS = EVERY_CALL.include(path_regex="/(cut|threshing|observation|stock|walk)/$")


@pytest.fixture(scope="module")
def made_once(django_db_setup, django_db_blocker):
    with django_db_blocker.unblock(), transaction.atomic():
        ours = OneOfEach(Holding.objects.create(name="Ours", slug="ours"), "ours")
        owner = Token.objects.filter(person=ours.people["owner"])
        owner.update(key_sha256=key_sha256(KEY))
        yield ours
        transaction.set_rollback(True)


@pytest.fixture
def ours(made_once, db):
    return made_once


def asked(times):
    # What one call writes, the next may meet: that is no harm here.
    return settings(
        max_examples=times,
        deadline=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )


def answers_as_described(case, ours):
    """Send it to a holding that there is, about things that it has."""
    if "slug" in case.path_parameters:
        case.path_parameters["slug"] = "ours"
    if "lot_id" in case.path_parameters:
        case.path_parameters["lot_id"] = str(ours.of(Lot).pk)
    if isinstance(case.body, dict):
        known = case.body.keys() & MODELS_BY_FIELD.keys()
        ids = {name: str(ours.of(MODELS_BY_FIELD[name]).pk) for name in known}
        case.body = case.body | ids
    # The tester asks for what is compressed, and then doesn't unpack it.
    headers = {"Authorization": f"Bearer {KEY}", "Accept-Encoding": "identity"}
    case.call_and_validate(headers=headers, checks=CHECKS)


@SOME_CALLS.parametrize()
@asked(5)
def test_a_call_answers_as_described(case, ours):
    answers_as_described(case, ours)


@pytest.mark.prove
@EVERY_CALL.parametrize()
@asked(60)
def test_every_call_answers_as_described(case, ours):
    answers_as_described(case, ours)
