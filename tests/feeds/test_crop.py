"""The crop's tables and the core's parameter sets fit one another."""

import pytest

from sheafwright.feeds import crop, tables

READERS = (
    crop.cutting_window,
    crop.date_errors,
    crop.doubt_prior,
    crop.grain_filling_forms,
    crop.sign_ladders,
    crop.vernalisation_rule,
    lambda: [crop.wang_engel(tall) for tall in (False, True)],
    lambda: [crop.phases("spring", tall) for tall in (False, True)],
    lambda: [crop.phases(each) for each in crop.variety_classes()],
    lambda: [crop.latest_sowing(each) for each in crop.variety_classes()],
)


class Watched(dict):
    """A table that remembers which of its sections were read."""

    def __init__(self, table):
        super().__init__(table)
        self.read = set()

    def __getitem__(self, section):
        self.read.add(section)
        return super().__getitem__(section)


def test_every_section_of_the_tables_is_read(monkeypatch):
    names = ("development", "vernalisation", "learning", "signs")
    watched = {name: Watched(tables.shipped(name)) for name in names}
    for module in (crop, tables):
        monkeypatch.setattr(module, "shipped", watched.__getitem__)
    for reader in READERS:
        reader()
    assert {name: table.read for name, table in watched.items()} == {
        name: set(table) for name, table in watched.items()
    }


def test_the_prior_weighs_each_form_of_grain_filling():
    weights = crop.doubt_prior().form_weights
    assert len(weights) == len(crop.grain_filling_forms())
    assert sum(weights) == pytest.approx(1)


@pytest.mark.parametrize("kind", crop.sign_ladders())
def test_a_ladder_has_a_midpoint_between_each_two_levels(kind):
    ladder = crop.sign_ladders()[kind]
    assert len(ladder.midpoints) == len(ladder.levels) - 1
    assert list(ladder.midpoints) == sorted(ladder.midpoints)


def test_a_tall_wheat_needs_more_warmth_to_flower_and_nothing_else():
    tall, modern = (crop.phases("end-january", tall=tall) for tall in (True, False))
    differ = {k for k, v in vars(tall).items() if v != getattr(modern, k)}
    assert differ == {"to_flowering"}
    assert tall.to_flowering > modern.to_flowering
