"""How good lots are for whom, and how that is known: as orders are weighed by it."""

import dataclasses
from collections import defaultdict

import numpy as np

from sheafwright.answers.asked_grades import (
    as_written,
    of_handful,
    of_lots_before,
    of_stems,
    own_words,
)
from sheafwright.answers.orders_question import Known
from sheafwright.core.grading.lengths import reached_by
from sheafwright.feeds.orders import allotting
from sheafwright.records.models import GradeRule, HandGrade, Lot, StemSample
from sheafwright.records.reader import reads
from sheafwright.records.selectors.grading import (
    EVERYBODY,
    best_grade,
    hand_told,
    read_ahead,
    rules_by_buyer,
    stems_by_use,
    stems_of_ids,
)
from sheafwright.records.selectors.names import name_key

MM_PER_M, CM_PER_M = 1000, 100
MOST_BEFORE = 12
"""Lots that tell what is to come: the last that were measured."""


@dataclasses.dataclass(frozen=True)
class LotKnown:
    """One lot."""

    known: Known
    known_for: dict
    """Name of a buyer with a rule of their own to `Known`."""
    length: float | None
    """[m]"""
    length_by: str
    length_stems: int


@dataclasses.dataclass(frozen=True)
class LengthKnown:
    """How long a lot's straw is, and how that is known."""

    length: float | None
    """[m]"""
    by: str
    """One of `asked_grades.BY`, or none."""
    stems: int = 0
    """That it was measured of. [1]"""

    @property
    def cm(self):
        """None where nobody knows."""
        return None if self.length is None else CM_PER_M * self.length


@dataclasses.dataclass(frozen=True)
class _Found:
    """What was found of one lot."""

    lot: Lot
    samples: tuple
    """Ids."""
    hand: HandGrade | None


def lots_known(*, holding, lots, buyers=()):
    """Id of each lot to its `LotKnown`.

    Parameters
    ----------
    buyers : iterable of str
        Names of those for whom it is asked.
    """
    rules = rules_by_buyer(holding=holding)
    return {found.lot.pk: _known(found, rules, buyers) for found in _found(list(lots))}


def lengths_known(lots):
    """Id of each lot to its `LengthKnown`: measured before handful, before written."""
    return {found.lot.pk: LengthKnown(*_length(found)) for found in _found(list(lots))}


def graded_by_buyers(lot):
    """Name of each buyer with a rule of their own to `Graded`, by it, of the stems.

    For the first use of theirs that it has a grade for, or their best chance.
    """
    [found] = _found([lot])
    written = {
        name_key(each.buyer_name): each.buyer_name
        for each in GradeRule.objects.filter(holding=lot.holding_id)
        if each.buyer_name
    }
    rules = rules_by_buyer(holding=lot.holding)
    told = {
        name: best_grade(found.samples, rules[key])
        for key, name in written.items()
        if key in rules
    }
    return {name: graded for name, graded in told.items() if graded is not None}


def graded_for(lot, buyer):
    """`Graded` of a lot's stems by a buyer's rule, or else the holding's, or None."""
    [found] = _found([lot])
    return best_grade(found.samples, rules_for(buyer, holding=lot.holding))


def rules_for(buyer, *, holding):
    """Use to the rule that holds for a buyer; none where the tables' holds."""
    rules = rules_by_buyer(holding=holding)
    return rules.get(name_key(buyer)) or rules.get(EVERYBODY, {})


def own_rules(buyer, *, holding):
    """Use to the rule that one buyer alone has."""
    said = GradeRule.objects.filter(holding=holding).exclude(buyer_name="")
    own = {each.use for each in said if name_key(each.buyer_name) == name_key(buyer)}
    rules = rules_by_buyer(holding=holding).get(name_key(buyer), {})
    return {use: rule for use, rule in rules.items() if use in own}


def known_before(*, holding, kind, buyers=()):
    """`Known`, and by buyer, of what is to come of a kind, by the last lots measured.

    None where none was.
    """
    measured = Lot.objects.filter(
        holding=holding, kind=kind, stem_samples__isnull=False
    ).distinct()
    last = list(measured.order_by("-harvest_year", "-made_at")[:MOST_BEFORE])
    rules = rules_by_buyer(holding=holding)
    told = [_known(found, rules, buyers) for found in _found(last)]
    if not told:
        return None, {}
    whose = {buyer for each in told for buyer in each.known_for}
    return _as_before([each.known for each in told]), {
        buyer: _as_before([each.known_for[buyer] for each in told]) for buyer in whose
    }


def _as_before(knowns):
    return Known(of_lots_before([each.grades for each in knowns]), "past", len(knowns))


def _found(lots):
    ids = [lot.pk for lot in lots]
    samples = defaultdict(list)
    for pk, lot in StemSample.objects.filter(lot__in=ids).values_list("pk", "lot"):
        samples[lot].append(pk)
    hands = {hand.lot_id: hand for hand in HandGrade.objects.filter(lot__in=ids)}
    read_ahead(tuple(each) for each in samples.values())
    for lot in lots:
        yield _Found(lot, tuple(samples[lot.pk]), hands.get(lot.pk))


def _known(found, rules, buyers):
    own = {
        buyer: rules[name_key(buyer)] for buyer in buyers if name_key(buyer) in rules
    }
    length, by, stems = _length(found)
    return LotKnown(
        known=_by_rules(found, rules.get(EVERYBODY, {})),
        known_for={buyer: _by_rules(found, rule) for buyer, rule in own.items()},
        length=length,
        length_by=by,
        length_stems=stems,
    )


def _by_rules(found, rules):
    written = found.lot.grade
    graded = stems_by_use(found.samples, tuple(rules.items()), reads())
    if graded:
        grades = own_words(written) | of_stems(graded)
        return Known(grades, "stems", graded[0].seen)
    if found.hand:
        fit = found.hand.fit_for and (found.hand.fit_for,)
        fit = fit or hand_told(found.hand, rules).fit
        return Known(of_handful(fit, written), "handful")
    return Known(as_written(written), "written" if written else "")


def _length(found):
    """How long it is, how that is known, and by how many stems. [m]"""
    if found.samples:
        length = stems_of_ids(found.samples).length_mm
        length = length[np.isfinite(length)]
        if length.size:
            share = allotting().long_enough
            return reached_by(length, share) / MM_PER_M, "stems", int(length.size)
    if found.hand and found.hand.length_cm:
        return found.hand.length_cm / CM_PER_M, "handful", 0
    written = found.lot.length_cm
    return (written / CM_PER_M, "written", 0) if written else (None, "", 0)
