"""How lots were graded, what their bundles weigh, and how good straw was grown."""

import dataclasses
import functools
from collections import defaultdict

from sheafwright.answers.bundles import BundlesQuestion, Tally, tally
from sheafwright.answers.grade import Graded, GradeQuestion, check_rule, grade
from sheafwright.answers.hand_grade import HandGrade as HandGraded
from sheafwright.answers.hand_grade import HandQuestion, hand_grade
from sheafwright.answers.sampling import SamplingQuestion, sampling
from sheafwright.core.errors import SheafwrightError
from sheafwright.feeds.grades import SIGNS, USES, grade_rule
from sheafwright.feeds.stems import MOST_STEMS, stems_from_rows
from sheafwright.records.models import Bundles, GradeRule, HandGrade, Lot, StemSample
from sheafwright.records.reader import reads
from sheafwright.records.selectors.names import name_key

IN_RULE = {
    "length_least": ("length_least_cm", 10),
    "length_most": ("length_most_cm", 10),
    "butt_least": ("butt_least_mm", 1),
    "butt_most": ("butt_most_mm", 1),
    "bends_most": ("bends_most", 1),
    "damage_most": ("damage_most", 1),
    "first": ("first_pct", 0.01),
    "second": ("second_pct", 0.01),
}
"""Of the engine's rule: the column of ours, and what it is multiplied by."""


@dataclasses.dataclass(frozen=True)
class LotGraded:
    """All that was said of how good a lot is."""

    lot: Lot
    hand: HandGraded | None
    """Of the last handful."""
    said_fit: str
    """What somebody said it is fit for, who knew better; or ''."""
    stems: Graded | None
    """For the best use that it has a grade for, or else for the use it does best in."""
    bundles: Tally | None
    tied: int | None
    """Bundles told off, or as the drum's run was written down; None where unknown."""

    @property
    def grade(self):
        """One of the engine's grades and a use; None without stems or below both."""
        if self.stems is None or self.stems.grade == "below":
            return None
        return self.stems.grade, self.stems.question.use

    @property
    def fit(self):
        """Uses by hand, best first; None where nobody took a handful."""
        if self.said_fit:
            return (self.said_fit,)
        return None if self.hand is None else self.hand.fit


def rule_of(said):
    """The engine's rule of a `GradeRule`, the tables' own where it says nothing."""
    usual = grade_rule(said.use)
    own = {
        name: times * getattr(said, column)
        for name, (column, times) in IN_RULE.items()
        if getattr(said, column) is not None
    }
    return dataclasses.replace(usual, **own)


def rules_of(*, holding):
    """Use to the holding's own engine rule, where it has one for every buyer."""
    return rules_by_buyer(holding=holding).get(EVERYBODY, {})


def rules_by_buyer(*, holding):
    """Name of a buyer to use to the rule that holds for them, where they have any own.

    `EVERYBODY` has the holding's own, which holds too for whoever has none of a use.
    """
    rules = {}
    for said in GradeRule.objects.filter(holding=holding).order_by("made_at"):
        rule = rule_of(said)
        if _can_be_kept(rule):
            rules.setdefault(name_key(said.buyer_name), {})[said.use] = rule
    usual = rules.get(EVERYBODY, {})
    return {buyer: usual | own for buyer, own in rules.items()}


EVERYBODY = ""


def _can_be_kept(rule):
    # What a rule leaves out is as the tables have it, and those may have changed.
    try:
        check_rule(rule)
    except SheafwrightError:
        return False
    return True


def rules_written(*, holding):
    """The last `GradeRule` of each use and buyer, by use and then by buyer."""
    last = {
        (each.use, each.buyer_name): each
        for each in GradeRule.objects.filter(holding=holding).order_by("made_at")
    }
    return [last[key] for key in sorted(last, key=lambda k: (USES.index(k[0]), k[1]))]


def tallies_of(lot):
    """Every `Bundles` entry of a lot."""
    return Bundles.objects.filter(lot=lot)


def graded(*, holding, lots):
    """Id of each of these lots to its `LotGraded`; so many lots, so many queries."""
    rules = rules_of(holding=holding)
    ids = [lot.pk for lot in lots]
    hands = {h.lot_id: h for h in HandGrade.objects.filter(lot__in=ids)}
    samples, tallies = _by_lot(StemSample, ids), _by_lot(Bundles, ids)
    return {
        lot.pk: _graded(lot, rules, hands.get(lot.pk), samples[lot.pk], tallies[lot.pk])
        for lot in lots
    }


LONG = {StemSample: ("stems",)}
"""Columns that are read only where they are needed."""


def _by_lot(kind, ids):
    found = defaultdict(list)
    for each in kind.objects.filter(lot__in=ids).defer(*LONG.get(kind, ())):
        found[each.lot_id].append(each)
    return found


def _graded(lot, rules, hand, samples, tallies):
    told = tally_of(tallies)
    tied = told.question.count if told else lot.bundles
    return LotGraded(
        lot=lot,
        hand=hand and hand_told(hand, rules),
        said_fit=hand.fit_for if hand else "",
        stems=best_grade(tuple(each.pk for each in samples), rules),
        bundles=told,
        tied=tied,
    )


def hand_told(said, rules):
    """What the engine makes of a `HandGrade`."""
    signs = {sign: getattr(said, sign) for sign in SIGNS}
    asked = HandQuestion(**signs, length=said.length_cm, rules=tuple(rules.items()))
    return hand_grade(asked)


def best_grade(ids, rules):
    """For the first use that has a grade; else for the use with the best chance.

    Parameters
    ----------
    ids : tuple of UUID
        Of the samples.
    rules : mapping of str to the engine's rule
    """
    answers = stems_by_use(ids, tuple(rules.items()), reads())
    for answer in answers:
        if answer.grade != "below":
            return answer
    return min(answers, key=lambda a: a.chances["below"], default=None)


@functools.lru_cache(maxsize=1024)
def stems_by_use(ids, rules, _reader):
    """`Graded` of some samples for each use of which anything was measured, best first.

    Samples never change, so the same ones are graded once for each kind of reader.

    Parameters
    ----------
    ids : tuple of UUID
        Of the samples.
    rules : tuple of (str, the engine's rule)
    """
    if not ids:
        return ()
    return tuple(_by_use(stems_of_ids(ids), dict(rules)))


_read = {}
"""Samples' ids to their stems: the last that were read."""
MOST_READ = 64


def stems_of_ids(ids):
    """All stems of some samples, by their ids."""
    return _read.get(ids) or read_ahead([ids])[ids]


def read_ahead(groups):
    """Read the samples of many lots at once: ids of each to its stems.

    Parameters
    ----------
    groups : iterable of tuple of UUID
    """
    found = {ids: _read.get(ids) for ids in groups if ids}
    missing = [ids for ids, stems in found.items() if stems is None]
    if missing:
        wanted = [id for ids in missing for id in ids]
        samples = StemSample.objects.in_bulk(wanted)
        for ids in missing:
            _read[ids] = found[ids] = stems_of([samples[id] for id in ids])
        for old in list(_read)[: max(0, len(_read) - MOST_READ)]:
            _read.pop(old, None)
    return found


def _by_use(stems, rules):
    for use in USES:
        try:
            yield grade(GradeQuestion(stems, use, rules.get(use)))
        except SheafwrightError:
            # Stems of which nothing was measured that this rule asks for.
            continue


def is_measured(*, holding):
    """Whether any stem of any lot was."""
    return StemSample.objects.filter(holding=holding).exists()


def stems_of(samples):
    """All stems of some samples, or the last of very many.

    A sample that names no bundle is taken as one bundle of its own.
    """
    rows = [row for sample in samples for row in _rows(sample)]
    return stems_from_rows(rows[-MOST_STEMS:], "")


NAMELESS = 900_000
"""Bundles of which nobody said the number are counted from here."""


def _rows(sample):
    own = sample.bundle or NAMELESS + sample.pk.int % (1_000_000 - NAMELESS)
    for row in sample.stems:
        yield row if row.get("bundle") and not sample.bundle else row | {"bundle": own}


def tally_of(tallies):
    """`Tally` of the bundles told off of a lot; None where none were."""
    if not tallies:
        return None
    weighed = [each.bundle_kg for each in tallies if each.bundle_kg]
    return tally(
        BundlesQuestion(
            count=max(sum(each.count for each in tallies), 0),
            weights=tuple(weighed),
            moistures=tuple(e.moisture_pct / 100 for e in tallies if e.moisture_pct),
            girths=tuple(e.girth_cm for e in tallies if e.girth_cm),
            own=next(
                (
                    each.bundle_kg
                    for each in reversed(tallies)
                    if each.tied_as == Bundles.Tied.OWN and each.bundle_kg
                ),
                None,
            ),
        )
    )


def plan_of(told, rules):
    """`SamplingPlan` of a lot; None where nobody said how many bundles it has.

    The bundles to pull are drawn anew only when stems were written down since.

    Parameters
    ----------
    told : LotGraded
    rules : mapping of str to the engine's rule
    """
    if not told.tied:
        return None
    seed = told.lot.pk.int % 2**32
    if told.stems is None:
        asked = SamplingQuestion(told.tied, rule=rules.get(USES[0]), seed=seed)
        return _sampled(asked, reads())
    stems = told.stems
    opened = {int(n) for n in stems.question.stems.bundle if 1 <= n <= told.tied}
    asked = SamplingQuestion(
        bundles=told.tied,
        use=stems.question.use,
        rule=stems.question.rule,
        alike=stems.alike,
        more=stems.more_bundles,
        opened=tuple(sorted(opened)),
        seed=seed + stems.seen,
    )
    return _sampled(asked, reads())


@functools.lru_cache(maxsize=256)
def _sampled(question, _reader):
    return sampling(question)
