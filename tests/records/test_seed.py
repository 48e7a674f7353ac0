import datetime

import pytest
from django.core.exceptions import ValidationError

from sheafwright.records.models import Lot
from sheafwright.records.services.seed import (
    germination_test_add,
    seed_health_test_add,
    seed_lot_add,
)

DAY = datetime.date(2025, 9, 2)
LOT = {"name": "W-25", "variety": "Maris Widgeon", "standing": "organic"}


def _lot(marl, ann, kind):
    return Lot.objects.create(
        holding=marl,
        made_by=ann,
        code=f"25-{kind}",
        kind=kind,
        variety="Maris Widgeon",
        harvest_year=2025,
    )


def test_ann_keeps_seed_from_her_own_grain(write, marl, ann):
    grain = _lot(marl, ann, Lot.Kind.GRAIN)
    assert write(seed_lot_add, came="own", grown_as=grain, **LOT).grown_as == grain


def test_no_seed_is_kept_from_straw(write, marl, ann):
    with pytest.raises(ValidationError, match="lot of grain"):
        write(seed_lot_add, came="own", grown_as=_lot(marl, ann, "reed"), **LOT)


def test_seed_bought_in_came_from_no_lot_of_ones_own(write, marl, ann):
    with pytest.raises(ValidationError, match="bought in"):
        write(seed_lot_add, came="bought", grown_as=_lot(marl, ann, "grain"), **LOT)


def test_ann_counts_four_trays(write, seed_lot):
    test = write(
        germination_test_add, seed_lot=seed_lot, date=DAY, came_up=[93, 91, 95, 94]
    )
    assert sum(test.came_up) == 373


@pytest.mark.parametrize(
    ("came_up", "says"),
    [([101], "from 0 to 100"), ([-1], "from 0 to 100"), ([], "from 1 to 20 trays")],
)
def test_more_seeds_than_were_laid_do_not_come_up(write, seed_lot, came_up, says):
    with pytest.raises(ValidationError, match=says):
        write(germination_test_add, seed_lot=seed_lot, date=DAY, came_up=came_up)


def test_bunt_is_not_both_there_and_not_there(write, seed_lot):
    said = {"seed_lot": seed_lot, "date": DAY, "sickness": "bunt", "share_pct": 0.5}
    with pytest.raises(ValidationError, match="did find something"):
        write(seed_health_test_add, **said, found="none")
    assert write(seed_health_test_add, **said, found="found").share_pct == 0.5
