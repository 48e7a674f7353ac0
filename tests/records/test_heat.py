import datetime
import uuid

import pytest

from sheafwright.records.clock import now
from sheafwright.records.models import Rick
from sheafwright.records.selectors.heat import heat_of_ricks, ricks_in_danger
from sheafwright.records.services.store import rick_build, rick_reading_record


@pytest.fixture
def build(marl, ann):
    def write(name, *temperatures):
        rick = rick_build(
            id=uuid.uuid4(),
            holding=marl,
            made_by=ann,
            name=name,
            built=now(marl).date() - datetime.timedelta(days=10),
            cover=Rick.Cover.ROOF,
        )
        for days_ago, temperature in enumerate(temperatures):
            rick_reading_record(
                id=uuid.uuid4(),
                holding=marl,
                made_by=ann,
                rick=rick,
                at=now(marl) - datetime.timedelta(days=days_ago, minutes=1),
                temperature_c=temperature,
            )
        return rick

    return write


def test_the_hottest_rick_comes_first(marl, build):
    build("Barn rick", 20.0)
    hot = build("Yard rick", 85.0)
    assert heat_of_ricks(holding=marl)[0].rick == hot


def test_a_cool_rick_is_no_danger(marl, build):
    build("Barn rick", 20.0)
    assert ricks_in_danger(holding=marl) == []


def test_a_rick_that_was_never_probed_is_due(marl, build):
    build("Barn rick")
    (each,) = heat_of_ricks(holding=marl)
    assert each.heat.level == "not_probed"


def test_another_holdings_hot_rick_is_not_ours(other_holding, build):
    build("Yard rick", 85.0)
    assert heat_of_ricks(holding=other_holding) == []
