"""No page reads more for the book's being older: five seasons beside two."""

import pytest
from django.db import connection, transaction
from django.test import Client, override_settings
from django.test.utils import CaptureQueriesContext

from sheafwright.records.demo import demo_make
from sheafwright.records.models import Field, Sowing
from sheafwright.web.context import PAGES
from sheafwright.web.forms.kinds import KINDS

pytestmark = pytest.mark.django_db
SHORT, LONG = 2, 5
NAMES = [name for name, _ in PAGES if name != "bought"]
PATHS = [f"{name}/" for name in (*NAMES, "harvest-day")] + [
    f"write/{kind}/" for kind in KINDS
]
EVERY = [*PATHS, "fields/one/"]
LISTS = ("seed/", "threshing/", "straw/", "grain/", "book/")
"""These show the latest of many, up to so many."""


@pytest.fixture(scope="module")
def asked(django_db_setup, django_db_blocker, tmp_path_factory):
    """Seasons to each path to its number of queries and the length of its page."""
    kept = tmp_path_factory.mktemp("kept")
    with django_db_blocker.unblock(), override_settings(MEDIA_ROOT=kept):
        return {seasons: _asked(seasons) for seasons in (SHORT, LONG)}


def _asked(seasons):
    with transaction.atomic():
        demo = demo_make(seasons=seasons, fields=2)
        owner = next(p for p in demo.people if p.email.startswith("owner"))
        client = Client()
        client.force_login(owner, "django.contrib.auth.backends.ModelBackend")
        field = Field.objects.get(pk=Sowing.objects.earliest("date").field_id)
        paths = [*PATHS, f"fields/{field.pk}/"]
        said = {path: _ask(client, f"/{demo.holding.slug}/{path}") for path in paths}
        transaction.set_rollback(True)
    return {path.replace(str(field.pk), "one"): n for path, n in said.items()}


def _ask(client, path):
    with CaptureQueriesContext(connection) as queries:
        page = client.get(path)
    assert page.status_code == 200, path
    return len(queries), len(page.content)


@pytest.mark.parametrize("path", EVERY)
def test_a_page_asks_no_more_of_an_older_book(asked, path):
    assert asked[LONG][path][0] <= asked[SHORT][path][0]


@pytest.mark.parametrize("path", [path for path in EVERY if path not in LISTS])
def test_a_page_grows_no_longer_with_the_book(asked, path):
    assert asked[LONG][path][1] <= 1.1 * asked[SHORT][path][1]
