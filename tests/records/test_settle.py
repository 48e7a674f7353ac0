import uuid

import pytest

from sheafwright.records.errors import NotOurs, SaidOtherwise, TooLittleThere
from sheafwright.records.selectors.settle import to_settle
from sheafwright.records.services.settle import (
    late_write,
    to_settle_done,
    to_settle_keep,
)

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


@pytest.fixture
def late(marl, ben):
    id = uuid.uuid4()

    def write(deed):
        return late_write(
            id=id, holding=marl, made_by=ben, what="sale", said=SAID, write=deed
        )

    return write


def too_little():
    raise TooLittleThere("Only 3 kg are there.")


def test_a_late_entry_that_fits_is_written(late, marl):
    written = []
    assert late(lambda: written.append("once")) == ""
    assert written == ["once"]
    assert not to_settle(holding=marl)


def test_a_late_entry_that_takes_too_much_waits_to_be_settled(late, marl):
    assert late(too_little) == "Only 3 kg are there."
    assert to_settle(holding=marl).get().said == SAID


def test_what_waits_to_be_settled_is_not_written_when_it_comes_again(late):
    late(too_little)
    assert late(lambda: pytest.fail("written")) == "Only 3 kg are there."
