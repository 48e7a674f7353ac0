import uuid

import pytest

from sheafwright.records.errors import NotOurs, SaidOtherwise
from sheafwright.records.selectors.settle import to_settle
from sheafwright.records.services.settle import to_settle_done, to_settle_keep

SAID = {"lot": "R-26-1", "kg": 9999}


@pytest.fixture
def keep(writes):
    def write(**said):
        said = {"what": "sale_record", "said": SAID, "why": "Too little."} | said
        return writes(to_settle_keep, **said)

    return write


def test_a_late_entry_is_kept_as_it_came(keep, marl):
    keep()
    (kept,) = to_settle(holding=marl)
    assert (kept.said, kept.why) == (SAID, "Too little.")


def test_a_late_entry_sent_twice_is_kept_once(keep, marl):
    id = uuid.uuid4()
    keep(id=id), keep(id=id)
    assert to_settle(holding=marl).count() == 1


def test_a_settled_entry_waits_no_more(keep, marl, ben, writes):
    kept = keep()
    for _ in "twice":
        to_settle_done(id=kept.pk, holding=marl, made_by=ben, how="Weighed again.")
    assert not to_settle(holding=marl)
    with pytest.raises(SaidOtherwise):
        to_settle_done(id=kept.pk, holding=marl, made_by=ben, how="Forgotten.")


def test_cleo_cannot_settle_anns_entry(keep, other_holding, cleo):
    kept = keep()
    with pytest.raises(NotOurs):
        to_settle_done(id=kept.pk, holding=other_holding, made_by=cleo, how="Gone.")
