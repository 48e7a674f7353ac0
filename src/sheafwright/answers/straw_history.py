"""What made the good straw: stems against field, nitrogen, cutting day and rain.

Plain regression with intervals, or one in which every field has a level of its own,
where there are fields enough to tell. With too few lots it says that, and no more.
"""

import dataclasses
from collections import Counter, defaultdict

import numpy as np

from sheafwright.answers.limits import Limit
from sheafwright.answers.straw_fit import STEPS, adjusted, can_tell, fits
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
LIMITS = {
    "nitrogen_index": Limit(mark("A nitrogen index of {value:g}"), 0, 6, mark("of 6")),
    "cut_day": Limit(mark("Day {value:g} of the year"), 1, 366, mark("days")),
    "rain_on_stooks_mm": Limit(mark("Rain of {measure}"), 0, 2000, "mm"),
}
MOST_LOTS = 5000
TOO_FEW = mark("too few lots")
NOTHING = mark(
    "Nothing that was looked at tells good straw from poor, in {n} crops: it may "
    "still matter by less than they can show."
)
LACKING = mark(
    "What made the good straw is worked out with statsmodels, which is not installed; "
    'pip install "sheafwright[history]" adds it.'
)
NOT_PROOF = mark(
    "Crops that differ in one thing differ in others, too: this shows what to try "
    "next, and proves nothing."
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
    crops: int
    fields: int
    mixed: bool
    """Whether every field had a level of its own."""
    beside: bool
    """Whether it was weighed beside the other causes, or by itself."""

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
    crops: tuple[LotGrown, ...]
    """Lots of one crop put together: they share all that grew them."""
    effects: tuple[Effect, ...]
    groups: tuple[Group, ...]
    """By field and by variety, as they were; no more than means."""
    too_few: tuple[str, ...]
    """Outcomes of which too few crops tell."""
    fewest: int
    """Crops from which anything is told."""
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
        n = len(self.crops)
        if not self.effects:
            return say_n(
                "The stems of {n} crop were measured: too few to say what made the "
                "good straw; it takes {fewest} crops or more that differ.",
                "The stems of {n} crops were measured: too few to say what made the "
                "good straw; it takes {fewest} crops or more that differ.",
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
        crops = say_n("{n} crop", "{n} crops", len(self.crops))
        counted = say_n(
            "{n} lot of {crops}, whose stems were measured; lots of one crop are one.",
            "{n} lots of {crops}, whose stems were measured; lots of one crop are one.",
            len(self.question.lots),
            crops=crops,
        )
        yield Step(counted, YOU, MEASURED)
        names = ("fewest", "each", "confidence")
        yield step_from_rows(
            say("Nothing is told from fewer than {n} crops.", n=self.fewest),
            *(grades.grade_row("history", name) for name in names),
        )
        if self.effects:
            mixed = any(effect.mixed for effect in self.effects)
            way = LAIRD_WARE if mixed else LEAST_SQUARES
            yield Step(say(METHODS[mixed]), way, "from memory")
            beside = all(effect.beside for effect in self.effects)
            yield Step(say(WEIGHED[beside]), HOLM, "from memory")

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "lots": len(self.question.lots),
            "crops": len(self.crops),
            "fewest_crops": self.fewest,
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
WEIGHED = {
    True: mark("Each cause was weighed beside the others."),
    False: mark(
        "Crops are too few to weigh all causes at once, so each was weighed by itself."
    ),
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
        "crops": effect.crops,
        "fields": effect.fields,
        "level_for_each_field": effect.mixed,
        "beside_other_causes": effect.beside,
    }


def _group_to_json(group):
    means = ("length_mm", "brightness", "bends")
    found = {name: getattr(group, name) for name in means}
    known = {n: None if np.isnan(v) else round(v, 3) for n, v in found.items()}
    return {"of": group.of, "name": group.name, "lots": group.lots} | known


def straw_history(question):
    """The `StrawHistory` of a `HistoryQuestion`."""
    rules = grades.history()
    crops = tuple(_crops(question.lots))
    effects, too_few = [], []
    for outcome in OUTCOMES:
        found = _effects(outcome, crops, rules)
        effects.extend(found)
        too_few.extend([] if found else [outcome])
    return StrawHistory(
        question=question,
        crops=crops,
        effects=tuple(_adjusted(effects)),
        groups=tuple(_groups(question.lots)),
        too_few=tuple(too_few),
        fewest=rules.fewest,
        confidence=rules.confidence,
        level=1 - rules.confidence,
    )


def _crops(lots):
    """Lots of one crop as one, by their stems; a lot of several crops is its own."""
    crops = defaultdict(list)
    for lot in lots:
        own = "" if lot.field else lot.lot
        crops[lot.field, lot.variety, lot.harvest_year, own].append(lot)
    for its in crops.values():
        stems = sum(lot.stems for lot in its)
        means = {name: _weighed(its, name) for name in (*OUTCOMES, *CAUSES)}
        yield dataclasses.replace(its[0], stems=stems, **means)


def _weighed(lots, name):
    known = [lot for lot in lots if not np.isnan(getattr(lot, name))]
    if not known:
        return np.nan
    values, stems = ([getattr(lot, n) for lot in known] for n in (name, "stems"))
    return float(np.average(values, weights=stems))


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


def _effects(outcome, crops, rules):
    """`Effect` of each cause that may be asked of so many crops; none of too few."""
    known = [crop for crop in crops if not np.isnan(getattr(crop, outcome))]
    if len(known) >= rules.fewest and not can_tell():
        raise ServiceUnavailable(LACKING)
    y = np.array([getattr(crop, outcome) for crop in known])
    x = {cause: np.array([getattr(crop, cause) for crop in known]) for cause in CAUSES}
    fields = np.array([crop.field for crop in known])
    return [
        Effect(outcome, cause, *map(float, (value, low, high, p)), *how)
        for cause, value, low, high, p, *how in fits(y, x, fields, rules)
    ]


def _adjusted(effects):
    """With chances as of all that was looked at together."""
    if not effects:
        return []
    together = adjusted([effect.p for effect in effects])
    pairs = zip(effects, together, strict=True)
    return [dataclasses.replace(effect, p=float(p)) for effect, p in pairs]
