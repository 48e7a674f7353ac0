"""What made the good straw: stems against field, nitrogen, cutting day and rain.

Plain regression with intervals, or one in which every field has a level of its own,
where there are fields enough to tell. With too few lots it says that, and no more.
"""

import dataclasses
import importlib.util
from collections import Counter

import numpy as np

from sheafwright.answers.limits import Limit
from sheafwright.answers.working import (
    MEASURED,
    YOU,
    Step,
    step_from_rows,
    steps_to_json,
)
from sheafwright.core.errors import OutOfRange, ServiceUnavailable
from sheafwright.feeds import grades
from sheafwright.feeds.telling import (
    by_family,
    capital,
    joined,
    mark,
    measured,
    say,
    say_n,
)

OUTCOMES = {
    "length_mm": mark("length"),
    "taper_mm_per_m": mark("taper"),
    "brightness": mark("brightness"),
    "bends": mark("bends"),
}
"""Of a lot, the mean of its stems."""
CAUSES = {
    "nitrogen_index": mark("for each step of soil nitrogen"),
    "cut_day": mark("for each week later cut"),
    "rain_on_stooks_mm": mark("for each {ten} of rain on the stooks"),
}
STEPS = {"nitrogen_index": 1, "cut_day": 7, "rain_on_stooks_mm": 10}
"""That an effect is told for."""
LIMITS = {
    "nitrogen_index": Limit(mark("A nitrogen index of {value:g}"), 0, 6, mark("of 6")),
    "cut_day": Limit(mark("Day {value:g} of the year"), 1, 366, mark("days")),
    "rain_on_stooks_mm": Limit(mark("Rain of {measure}"), 0, 2000, "mm"),
}
MOST_LOTS = 5000
TOO_FEW = mark("too few lots")
NOTHING = mark(
    "Nothing that was looked at tells good straw from poor, in {n} lots: it may still "
    "matter by less than they can show."
)
LACKING = mark(
    "What made the good straw is worked out with statsmodels, which is not installed; "
    'pip install "sheafwright[history]" adds it.'
)
NOT_PROOF = mark(
    "Lots that differ in one thing differ in others, too: this shows what to try next, "
    "and proves nothing."
)
LAIRD_WARE = mark(
    "N. M. Laird and J. H. Ware, Biometrics 38, 1982, by statsmodels: fields scatter "
    "about a common level"
)
LEAST_SQUARES = mark("Ordinary least squares, by statsmodels")
HOLM = mark(
    "S. Holm, Scandinavian Journal of Statistics 6, 1979: so that of many things "
    "looked at one is rarely told by chance"
)


@dataclasses.dataclass(frozen=True)
class LotGrown:
    """One lot's straw, and how it was grown; NaN for what isn't known."""

    lot: str
    field: str
    variety: str
    harvest_year: int
    stems: int
    length_mm: float = np.nan
    taper_mm_per_m: float = np.nan
    brightness: float = np.nan
    bends: float = np.nan
    nitrogen_index: float = np.nan
    cut_day: float = np.nan
    """Day of the year."""
    rain_on_stooks_mm: float = np.nan


@dataclasses.dataclass(frozen=True)
class HistoryQuestion:
    """The lots whose stems were measured."""

    lots: tuple[LotGrown, ...]

    def __post_init__(self):
        if len(self.lots) > MOST_LOTS:
            raise OutOfRange(
                "{n} lots are too many at once; it should be {most} or fewer.",
                n=len(self.lots),
                most=MOST_LOTS,
            )
        for lot in self.lots:
            for name, limit in LIMITS.items():
                if not np.isnan(getattr(lot, name)):
                    limit.check(getattr(lot, name))


@dataclasses.dataclass(frozen=True)
class Effect:
    """What a step of one cause goes with in one outcome."""

    outcome: str
    cause: str
    effect: float
    """For one of ``STEPS``. [of the outcome]"""
    low: float
    high: float
    p: float
    """Of so large an effect by chance, all that is told together. [0–1]"""
    lots: int
    fields: int
    mixed: bool
    """Whether every field had a level of its own."""

    @property
    def says_something(self):
        """Whether its interval leaves out nothing at all."""
        return not self.low <= 0 <= self.high


@dataclasses.dataclass(frozen=True)
class Group:
    """Lots of one field, or of one variety; NaN for what wasn't measured."""

    of: str
    """``field`` or ``variety``."""
    name: str
    lots: int
    length_mm: float
    brightness: float
    bends: float


@dataclasses.dataclass(frozen=True)
class StrawHistory:
    """The answer."""

    question: HistoryQuestion
    effects: tuple[Effect, ...]
    groups: tuple[Group, ...]
    """By field and by variety, as they were; no more than means."""
    too_few: tuple[str, ...]
    """Outcomes of which too few lots tell."""
    fewest: int
    """Lots from which anything is told."""
    confidence: float
    level: float
    """Chance below which an effect is told. [0–1]"""

    @property
    def told(self):
        """Effects that are not to be put down to chance, strongest first."""
        known = [e for e in self.effects if e.says_something and e.p < self.level]
        return tuple(sorted(known, key=lambda effect: effect.p))

    @property
    def sentence(self):
        """The answer in a few sentences."""
        n = len(self.question.lots)
        if not self.effects:
            return say_n(
                "{n} lot was measured: too few to say what made the good straw; it "
                "takes {fewest} or more that differ.",
                "{n} lots were measured: too few to say what made the good straw; it "
                "takes {fewest} or more that differ.",
                n,
                fewest=self.fewest,
            )
        if not self.told:
            return joined(say(NOTHING, n=n))
        return joined(*map(said_of, self.told), say(NOT_PROOF))

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        n = len(self.question.lots)
        counted = say_n(
            "{n} lot whose stems were measured.",
            "{n} lots whose stems were measured.",
            n,
        )
        yield Step(counted, YOU, MEASURED)
        names = ("fewest", "each", "confidence")
        yield step_from_rows(
            say("Nothing is told from fewer than {n} lots.", n=self.fewest),
            *(grades.grade_row("history", name) for name in names),
        )
        if self.effects:
            mixed = any(effect.mixed for effect in self.effects)
            way = LAIRD_WARE if mixed else LEAST_SQUARES
            yield Step(say(METHODS[mixed]), way, "from memory")
            yield Step(
                say("Each cause was weighed beside the others."), HOLM, "from memory"
            )

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "lots": len(self.question.lots),
            "fewest_lots": self.fewest,
            "confidence": self.confidence,
            "too_few_for": list(self.too_few),
            "effects": [_to_json(effect) for effect in self.effects],
            "groups": [_group_to_json(group) for group in self.groups],
            "working": steps_to_json(self.working),
        }


METHODS = {
    True: mark(
        "A straight line for each cause, with a level of its own for each field."
    ),
    False: mark("A straight line for each cause."),
}


def said_of(effect):
    """One effect in a sentence."""
    return capital(SAID[effect.outcome](effect, cause_of(effect)))


def cause_of(effect):
    """Such as: for each week later cut."""
    if effect.cause == "rain_on_stooks_mm":
        return say(CAUSES[effect.cause], ten=measured(10, "mm"))
    return say(CAUSES[effect.cause])


def _length(effect, cause):
    low, high = sorted((abs(effect.low), abs(effect.high)))
    says = LONGER if effect.effect > 0 else SHORTER
    sizes = {"by": abs(effect.effect), "low": low, "high": high}
    sizes = {name: measured(size, "mm", ".0f") for name, size in sizes.items()}
    return say(says, cause=cause, **sizes)


def _plain(more, less):
    def told(effect, cause):
        low, high = sorted((abs(effect.low), abs(effect.high)))
        return say(
            more if effect.effect > 0 else less,
            cause=cause,
            by=abs(effect.effect),
            low=low,
            high=high,
        )

    return told


def _taper(effect, cause):
    return by_family(_taper_in(effect, cause, False), _taper_in(effect, cause, True))


def _taper_in(effect, cause, is_imperial):
    says = TAPERED[is_imperial, effect.effect > 0]
    times = INCHES_PER_YARD if is_imperial else 1
    low, high = sorted((abs(effect.low), abs(effect.high)))
    sizes = {"by": abs(effect.effect), "low": low, "high": high}
    return say(says, cause=cause, **{n: times * size for n, size in sizes.items()})


INCHES_PER_YARD = 0.9144 / 25.4
"""Of a millimetre in a metre."""
TAPERED = {
    (False, True): mark(
        "{cause}, stems tapered {by:.2f} mm in a metre more ({low:.2f} to {high:.2f})."
    ),
    (False, False): mark(
        "{cause}, stems tapered {by:.2f} mm in a metre less ({low:.2f} to {high:.2f})."
    ),
    (True, True): mark(
        "{cause}, stems tapered {by:.3f} in in a yard more ({low:.3f} to {high:.3f})."
    ),
    (True, False): mark(
        "{cause}, stems tapered {by:.3f} in in a yard less ({low:.3f} to {high:.3f})."
    ),
}
"""By whether inches are read, and whether there is more of it."""
LONGER = mark("{cause}, stems were {by} longer ({low} to {high}).")
SHORTER = mark("{cause}, stems were {by} shorter ({low} to {high}).")
SAID = {
    "length_mm": _length,
    "taper_mm_per_m": _taper,
    "brightness": _plain(
        mark(
            "{cause}, straw was {by:.1f} points of 100 brighter ({low:.1f} to "
            "{high:.1f})."
        ),
        mark(
            "{cause}, straw was {by:.1f} points of 100 duller ({low:.1f} to "
            "{high:.1f})."
        ),
    ),
    "bends": _plain(
        mark("{cause}, a stem had {by:.2f} bends more ({low:.2f} to {high:.2f})."),
        mark("{cause}, a stem had {by:.2f} bends fewer ({low:.2f} to {high:.2f})."),
    ),
}


def _to_json(effect):
    return {
        "outcome": effect.outcome,
        "cause": effect.cause,
        "for_each": STEPS[effect.cause],
        "effect": round(effect.effect, 5),
        "low": round(effect.low, 5),
        "high": round(effect.high, 5),
        "p_adjusted": round(effect.p, 5),
        "lots": effect.lots,
        "fields": effect.fields,
        "level_for_each_field": effect.mixed,
    }


def _group_to_json(group):
    means = ("length_mm", "brightness", "bends")
    found = {name: getattr(group, name) for name in means}
    known = {n: None if np.isnan(v) else round(v, 3) for n, v in found.items()}
    return {"of": group.of, "name": group.name, "lots": group.lots} | known


def can_tell():
    """Whether what it is worked out with is installed."""
    return importlib.util.find_spec("statsmodels") is not None


def straw_history(question):
    """The `StrawHistory` of a `HistoryQuestion`."""
    rules = grades.history()
    effects, too_few = [], []
    for outcome in OUTCOMES:
        found = _effects(outcome, question.lots, rules)
        effects.extend(found)
        too_few.extend([] if found else [outcome])
    return StrawHistory(
        question=question,
        effects=tuple(_adjusted(effects)),
        groups=tuple(_groups(question.lots)),
        too_few=tuple(too_few),
        fewest=rules.fewest,
        confidence=rules.confidence,
        level=1 - rules.confidence,
    )


def _groups(lots):
    """`Group` of each field and each variety, most lots first."""
    for of in ("field", "variety"):
        names = Counter(name for lot in lots if (name := getattr(lot, of)))
        for name, count in names.most_common():
            its = [lot for lot in lots if getattr(lot, of) == name]
            means = (_known_mean(its, n) for n in ("length_mm", "brightness", "bends"))
            yield Group(of, name, count, *means)


def _known_mean(lots, outcome):
    values = np.array([getattr(lot, outcome) for lot in lots])
    known = values[~np.isnan(values)]
    return float(known.mean()) if known.size else np.nan


def _effects(outcome, lots, rules):
    """`Effect` of each cause that may be asked of so many lots; none of too few."""
    known = [lot for lot in lots if not np.isnan(getattr(lot, outcome))]
    causes, known = _causes(known, rules)
    if not causes:
        return []
    if not can_tell():
        raise ServiceUnavailable(LACKING)
    y = np.array([getattr(lot, outcome) for lot in known])
    x = np.array([[getattr(lot, c) / STEPS[c] for c in causes] for lot in known])
    names = [lot.field for lot in known]
    fitted = _fit(y, x, names, rules) if np.ptp(y) > 0 else None
    if fitted is None:
        return []
    values, low, high, p, mixed = fitted
    return [
        Effect(outcome, cause, *map(float, each), len(known), len(set(names)), mixed)
        for cause, *each in zip(causes, values, low, high, p, strict=True)
    ]


def _causes(lots, rules):
    """Causes that are known and differ, as many as the lots may be asked for."""
    causes, asked = [], lots
    # Those that most lots know come first: each further one may cost lots.
    by_known = sorted(CAUSES, key=lambda c: -len(_knowing(lots, c)))
    for cause in by_known:
        left = _knowing(asked, cause)
        wanted = max(rules.fewest, rules.each * (len(causes) + 1) if causes else 0)
        if len(left) >= wanted and _independent(left, [*causes, cause]):
            causes, asked = [*causes, cause], left
    return causes, asked


def _knowing(lots, cause):
    return [lot for lot in lots if not np.isnan(getattr(lot, cause))]


def _independent(lots, causes):
    """Whether each cause differs, and not just as the others do."""
    x = np.array([[getattr(lot, cause) for cause in causes] for lot in lots])
    x = x - x.mean(axis=0)
    spread = x.std(axis=0)
    return bool((spread > 0).all() and np.linalg.cond(x / spread) < MOST_TANGLED)


MOST_TANGLED = 10.0
"""Condition number beyond which causes can't be told from each other."""


def _fit(y, x, fields, rules):
    """Slopes with their intervals and chances, and whether fields have their levels."""
    if len(set(fields)) >= rules.fields and len(fields) >= 2 * len(set(fields)):
        mixed = _mixed(y, x, fields, rules.confidence)
        if mixed:
            return *mixed, True
    return *_least_squares(y, x, rules.confidence), False


def _least_squares(y, x, confidence):
    from statsmodels.regression.linear_model import OLS

    fitted = OLS(y, np.column_stack([np.ones(len(y)), x])).fit()
    low, high = fitted.conf_int(1 - confidence)[1:].T
    return fitted.params[1:], low, high, fitted.pvalues[1:]


def _mixed(y, x, fields, confidence):
    """The same with a level for each field; None where that can't be fitted."""
    import warnings

    from statsmodels.regression.mixed_linear_model import MixedLM

    design = np.column_stack([np.ones(len(y)), x])
    with warnings.catch_warnings():
        # It says in warnings what we ask of it below.
        warnings.simplefilter("ignore")
        try:
            fitted = MixedLM(y, design, groups=np.array(fields)).fit(reml=True)
        except (np.linalg.LinAlgError, ValueError):
            return None
    slopes = slice(1, design.shape[1])
    values, errors = fitted.params[slopes], fitted.bse[slopes]
    if not fitted.converged or not np.isfinite([values, errors]).all():
        return None
    return _students(values, errors, _freedom(x, fields), confidence)


def _freedom(x, fields):
    """Degrees of freedom of each slope: by fields where it differs between them.

    References
    ----------
    .. [1] J. C. Pinheiro and D. M. Bates, Mixed-Effects Models in S and S-PLUS, 2000,
       section 2.4.2.
    """
    _, index, counts = np.unique(fields, return_inverse=True, return_counts=True)
    means = np.array([np.bincount(index, column) / counts for column in x.T]).T
    outer = means[index].var(axis=0) > MOSTLY * x.var(axis=0)
    by_field = max(len(counts) - 1 - outer.sum(), 1)
    by_lot = max(len(x) - len(counts) - (~outer).sum(), 1)
    return np.where(outer, by_field, by_lot)


MOSTLY = 0.5
"""Share of a cause's variance between fields, from which it is a matter of fields."""


def _students(values, errors, freedom, confidence):
    """Slopes with the ends of their intervals, and chances of so much by chance."""
    from scipy.special import stdtr, stdtrit

    reach = stdtrit(freedom, (1 + confidence) / 2) * errors
    chances = 2 * stdtr(freedom, -np.abs(values / errors))
    return values, values - reach, values + reach, chances


def _adjusted(effects):
    """With chances as of all that was looked at together."""
    if not effects:
        return []
    from statsmodels.stats.multitest import multipletests

    _, p, *_ = multipletests([effect.p for effect in effects], method="holm")
    return [
        dataclasses.replace(effect, p=float(each))
        for effect, each in zip(effects, p, strict=True)
    ]
