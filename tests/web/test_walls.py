"""Every address there is, as every role, as a stranger, and signed out.

Nothing here knows the pages: it walks the resolver, and a page without a rule fails.
"""

import itertools
import uuid

import pytest
from django.apps import apps
from django.db import transaction
from django.test import Client
from django.urls import URLPattern, get_resolver

from sheafwright.accounts.keys import key_sha256
from sheafwright.accounts.models import Holding, Token
from sheafwright.accounts.rights import RIGHTS, Right, Role
from sheafwright.records.models import Lot, Movement, Place
from sheafwright.web.api import api
from sheafwright.web.api.kinds import API_KINDS
from sheafwright.web.asks import ASKS
from sheafwright.web.forms.kinds import KINDS
from sheafwright.web.forms.money_kinds import MONEY_KINDS
from sheafwright.web.forms.trade_kinds import TRADE_KINDS
from web.one_of_each import OneOfEach

OURS, THEIRS = "oursmark", "theirsmark"
SIGN_IN = "/sign-in/?next="
OUTSIDE = {
    "holdings": (302, 302),
    "start": (404, 404),
    "sign-in": (200, 302),
    "sign-out": (405, 405),
    "holding-new": (302, 200),
    "keys": (302, 200),
    "key-end": (302, 405),
    "units": (302, 405),
    "csrf": (200, 200),
    "service-worker": (200, 200),
    "manifest": (200, 200),
    "offline": (200, 200),
    "unsent": (200, 200),
}
"""Pages of no holding: what they answer to a stranger, and to someone signed in."""


def _patterns(urls, before=""):
    for each in urls:
        route = before + str(each.pattern)
        if isinstance(each, URLPattern):
            yield route, each
        else:
            yield from _patterns(each.url_patterns, route)


EVERY = dict(_patterns(get_resolver().url_patterns))
OF_A_HOLDING = {
    route: each for route, each in EVERY.items() if route.startswith("<slug:slug>/")
}
OF_THE_API = {route for route in EVERY if route.startswith("api/")}
ELSEWHERE = {
    route: each
    for route, each in EVERY.items()
    if route not in OF_A_HOLDING and route not in OF_THE_API
}
MODELS = {
    model.__name__.lower(): model
    for app in ("accounts", "records")
    for model in apps.get_app_config(app).get_models()
}


@pytest.fixture(scope="module")
def both(django_db_setup, django_db_blocker):
    """Two holdings, made once and taken back when every test has run."""
    with django_db_blocker.unblock(), transaction.atomic():
        yield (
            OneOfEach(Holding.objects.create(name=OURS, slug="ours"), OURS),
            OneOfEach(Holding.objects.create(name=THEIRS, slug="theirs"), THEIRS),
        )
        transaction.set_rollback(True)


@pytest.fixture
def ours(both, db):
    return both[0]


@pytest.fixture
def theirs(both, db):
    return both[1]


@pytest.fixture
def as_(ours, theirs):
    """A client as one of ours by role, or as ``stranger``: their owner."""

    def client(who):
        client = Client(raise_request_exception=False)
        if who is not None:
            people = theirs.people if who == "stranger" else ours.people
            client.force_login(people["owner" if who == "stranger" else who])
        return client

    return client


def addresses(route, holding, things):
    """Every address that a route stands for, and the rights that it asks for."""
    pattern = EVERY[route]
    choices = [_choices(name, things) for name in pattern.pattern.converters]
    names = list(pattern.pattern.converters)
    for values in itertools.product(*choices):
        said = dict(zip(names, values, strict=True))
        address = "/" + route
        for name, value in said.items():
            address = address.replace(_part(route, name), str(value))
        yield address.replace("<slug:slug>", holding.slug), said


def _part(route, name):
    start = route.rindex("<", 0, route.index(f":{name}>"))
    return route[start : route.index(">", start) + 1]


def _choices(name, things):
    if name == "slug":
        return ["<slug:slug>"]
    if name == "kind":
        return list(KINDS)
    if name == "question":
        return list(ASKS)
    model = MODELS[name.removesuffix("_id").replace("_", "")]
    return [things.of(model).pk]


def _rights(pattern, said):
    more = {KINDS[said["kind"]].right} if "kind" in said else set()
    return {pattern.callback.right} | more


def _text(response):
    if response.streaming:
        return b"".join(response.streaming_content)
    return response.content


def test_there_are_pages_to_walk():
    assert len(OF_A_HOLDING) > 15


def test_every_page_of_a_holding_says_which_right_it_asks_for():
    for route, pattern in OF_A_HOLDING.items():
        assert isinstance(getattr(pattern.callback, "right", None), Right), route


@pytest.mark.parametrize("role", Role.values)
def test_each_role_opens_what_the_table_of_rights_says(role, as_, ours):
    client = as_(role)
    for route, pattern in OF_A_HOLDING.items():
        for address, said in addresses(route, ours.holding, ours):
            answer = client.get(address)
            may = _rights(pattern, said) <= RIGHTS[Role(role)]
            expected = (200, 302, 405) if may else (404,)
            assert answer.status_code in expected, (role, address, answer.status_code)
            assert THEIRS.encode() not in _text(answer), (role, address)


@pytest.mark.parametrize("role", Role.values)
def test_nobody_changes_what_the_table_of_rights_forbids(role, as_, ours):
    client, before = as_(role), _rows()
    for route, pattern in OF_A_HOLDING.items():
        for address, said in addresses(route, ours.holding, ours):
            if not _rights(pattern, said) <= RIGHTS[Role(role)]:
                assert client.post(address).status_code == 404, (role, address)
    assert _rows() == before


@pytest.mark.parametrize("method", ["get", "post"])
def test_a_stranger_finds_nothing_of_ours(method, as_, ours):
    client, before = as_("stranger"), _rows()
    for route in OF_A_HOLDING:
        for address, _said in addresses(route, ours.holding, ours):
            answer = getattr(client, method)(address)
            assert answer.status_code == 404, address
            assert OURS.encode() not in answer.content, address
    assert _rows() == before


def test_what_is_theirs_isnt_to_be_had_through_our_own_door(as_, ours, theirs):
    client, before = as_("owner"), _rows()
    for route, pattern in OF_A_HOLDING.items():
        if set(pattern.pattern.converters) <= {"slug", "kind", "question"}:
            continue
        for address, _said in addresses(route, ours.holding, theirs):
            for answer in (client.get(address), client.post(address)):
                assert answer.status_code in (404, 405), address
                assert THEIRS.encode() not in answer.content, address
    assert _rows() == before


@pytest.mark.parametrize("kind", KINDS)
def test_no_entry_speaks_of_anything_of_theirs(kind, as_, ours, theirs):
    client, before = as_("owner"), _rows()
    said = {name: str(theirs.of(model).pk) for name, model in MODELS_BY_FIELD.items()}
    address = f"/{ours.holding.slug}/write/{kind}/"
    for answer in (client.get(address, said), client.post(address, said)):
        assert answer.status_code in (200, 400)
        assert THEIRS.encode() not in answer.content
    assert _rows() == before


MODELS_BY_FIELD = {
    field.name: field.related_model
    for model in MODELS.values()
    for field in model._meta.fields
    if field.related_model in MODELS.values()
    and field.name not in ("holding", "made_by", "person", "buyer", "settled_by")
    and field.related_model is not field.model
} | {"place": Place, "movement": Movement}


@pytest.mark.parametrize("method", ["get", "post"])
def test_signed_out_every_page_leads_to_the_sign_in(method, as_, ours):
    client, before = as_(None), _rows()
    for route in OF_A_HOLDING:
        for address, _said in addresses(route, ours.holding, ours):
            answer = getattr(client, method)(address)
            assert answer.headers["Location"].startswith(SIGN_IN), address
    assert _rows() == before


@pytest.mark.parametrize("route", ELSEWHERE)
def test_pages_of_no_holding_answer_as_their_rule_says(route, as_, ours, theirs):
    stranger, ours_owner = OUTSIDE[ELSEWHERE[route].name]
    for who, status in ((None, stranger), ("owner", ours_owner)):
        for address, _said in addresses(route, ours.holding, ours):
            answer = as_(who).get(address)
            assert answer.status_code == status, (address, answer.status_code)
            assert THEIRS.encode() not in answer.content


def test_nobody_ends_anothers_key(as_, ours, theirs):
    theirs_key = theirs.of(Token)
    assert as_("owner").post(f"/keys/{theirs_key.pk}/end/").status_code == 404
    theirs_key.refresh_from_db()
    assert theirs_key.ended_at is None


def test_a_buyer_walks_back_only_what_was_sold_to_him(as_, ours):
    bought = ours.of(Lot)
    another = Lot.objects.create(
        holding=ours.holding,
        made_by=ours.people["owner"],
        code="L2",
        kind="reed",
        variety="Red",
        harvest_year=2026,
    )
    buyer = as_("buyer")
    assert buyer.get(f"/ours/lots/{bought.pk}/").status_code == 200
    assert buyer.get(f"/ours/lots/{another.pk}/").status_code == 404


EITHER = {Right.SEE_WORK, Right.SEE_BOOK}
API_READS = {
    "stock": EITHER,
    "movements": {Right.SEE_BOOK},
    "answers": {Right.SEE_WORK},
    "sale": {Right.SEE_BOOK},
    "labour": {Right.SEE_BOOK},
    "labour-rate": {Right.SEE_BOOK},
    "loss": {Right.SEE_BOOK},
    "complaint": {Right.SEE_BOOK},
    "lots/{lot_id}/walk": {Right.SEE_LOT},
    "papers": {Right.SEE_TRADE},
    "grain-terms": {Right.SEE_TRADE},
    **{kind: {Right.SEE_TRADE} for kind in (*TRADE_KINDS, *MONEY_KINDS)},
}
"""Any of these; either right, where nothing is said."""


def _calls():
    """Method, name, path and rights of every address of a holding in the API."""
    for path, methods in api.get_openapi_schema()["paths"].items():
        if "{slug}" not in path:
            continue
        name = path.removeprefix("/api/{slug}/").strip("/")
        for method in methods:
            rights = {"get": API_READS.get(name, EITHER)}.get(method)
            yield method, path, rights or {API_KINDS[name].right}


def _headers(person, key):
    Token.objects.filter(person=person).update(key_sha256=key_sha256(key))
    return {"Authorization": f"Bearer {key}"}


@pytest.mark.parametrize("role", Role.values)
def test_the_api_keeps_the_same_walls(role, ours, theirs):
    client = Client(headers=_headers(ours.people[role], "k1"))
    for method, path, rights in _calls():
        answer = _call(client, method, path, "ours", ours)
        may = bool(rights & RIGHTS[Role(role)])
        told = (200, 400, 409, 422) if may else (404, 422)
        assert answer.status_code in told, (role, method, path, answer.content)
        assert THEIRS.encode() not in answer.content
        assert may or OURS.encode() not in answer.content


def test_the_api_shows_a_stranger_nothing_of_ours(ours, theirs):
    client, before = Client(headers=_headers(theirs.people["owner"], "k2")), _rows()
    for method, path, _rights in _calls():
        answer = _call(client, method, path, "ours", ours)
        assert answer.status_code in (404, 422), (method, path)
        assert OURS.encode() not in answer.content
    assert _rows() == before


def test_the_api_speaks_of_nothing_of_theirs(ours, theirs):
    client, before = Client(headers=_headers(ours.people["owner"], "k4")), _rows()
    for method, path, _rights in _calls():
        answer = _call(client, method, path, "ours", theirs)
        assert THEIRS.encode() not in answer.content, (method, path)
        if method == "post" or "{lot_id}" in path:
            assert answer.status_code in (400, 404, 422), (method, path)
    assert _rows() == before


@pytest.mark.parametrize("authorization", [None, "Bearer x", "Basic eA==", "Bearer "])
def test_the_api_wants_a_key(authorization, ours):
    client = Client(headers={"Authorization": authorization} if authorization else {})
    for method, path, _rights in _calls():
        answer = _call(client, method, path, "ours", ours)
        assert answer.status_code == 401, (method, path)


def test_a_key_that_has_ended_opens_nothing(as_, ours):
    headers = _headers(ours.people["owner"], "k3")
    as_("owner").post(f"/keys/{ours.of(Token).pk}/end/")
    assert Client(headers=headers).get("/api/holdings/").status_code == 401


def test_being_signed_in_opens_no_api(as_, ours):
    assert as_("owner").get("/api/holdings/").status_code == 401


def _call(client, method, path, slug, things):
    said = {"id": str(uuid.uuid4())}
    said |= {name: str(things.of(model).pk) for name, model in MODELS_BY_FIELD.items()}
    address = path.replace("{slug}", slug)
    address = address.replace("{lot_id}", str(things.of(Lot).pk))
    if method == "get":
        return client.get(address)
    return client.post(address, said, content_type="application/json")


def _rows():
    """How much is written of everything, whoever's it is."""
    return {model: model.objects.count() for model in MODELS.values()}
