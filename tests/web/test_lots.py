import datetime
import uuid

import pytest

from sheafwright.records.models import Lot, Movement, Place
from sheafwright.records.services.book import Step, movement_write, place_of
from sheafwright.web.views.lots import MOST_LOTS


@pytest.fixture
def as_ann(client, ann):
    client.force_login(ann, "django.contrib.auth.backends.ModelBackend")
    return client


@pytest.fixture
def lots(marl, ann):
    """One more lot of reed than a page shows, of a kilogram each."""
    who = {"holding": marl, "made_by": ann}
    for number in range(MOST_LOTS + 1):
        lot = Lot.objects.create(
            **who,
            code=f"R-{number:03}",
            kind="reed",
            variety="Yeoman",
            harvest_year=2025,
        )
        grown = place_of(holding=marl, kind=Place.Kind.GROWN)
        place = place_of(holding=marl, kind=Place.Kind.LOT, subject=lot.pk)
        movement_write(
            **who,
            id=uuid.uuid4(),
            kind=Movement.Kind.THRESH,
            date=datetime.date(2026, 1, 5),
            steps=[Step(grown, -1000), Step(place, 1000)],
        )


def test_the_headline_counts_every_lot_and_the_page_shows_the_newest(as_ann, lots):
    page = as_ann.get("/marl-hollow/straw/").content.decode()
    assert f"{MOST_LOTS + 1}.0\u00a0kg of straw" in page
    assert "R-000" in page and f"R-{MOST_LOTS:03}" not in page
    assert "1 older lot" in page


def test_older_lots_are_on_the_next_page(as_ann, lots):
    page = as_ann.get(f"/marl-hollow/straw/?from={MOST_LOTS}").content.decode()
    assert f"R-{MOST_LOTS:03}" in page and "R-000" not in page


@pytest.mark.parametrize("given", ["-1", "x", "9" * 40, "٣"])
def test_a_page_that_there_is_not_shows_the_newest(given, as_ann, lots):
    page = as_ann.get("/marl-hollow/straw/", {"from": given}).content.decode()
    assert "R-000" in page
