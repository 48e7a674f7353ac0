"""What is a handful, twisted, fit for? Always enough by itself."""

import dataclasses

from sheafwright.answers.limits import Limit
from sheafwright.answers.working import GIVEN, YOU, Step, step_from_rows, steps_to_json
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds import grades
from sheafwright.feeds.telling import (
    capital,
    joined,
    listed,
    mark,
    measured,
    say,
    told,
)

USES = {
    "coatwork": mark("coatwork"),
    "ridge": mark("ridge"),
    "long_straw": mark("long straw"),
}
SIGNS = {
    "twist": mark("twist"),
    "colour": mark("colour"),
    "smell": mark("smell"),
    "stems": mark("stems"),
}
SEEN = {
    "twist": {
        "held": mark("it held when it was twisted"),
        "some_broke": mark("some of it broke when it was twisted"),
        "broke": mark("it broke when it was twisted"),
    },
    "colour": {
        "bright": mark("it is bright"),
        "dull": mark("it is dull"),
        "grey": mark("it is grey on one side"),
        "black": mark("it is black or spotted"),
    },
    "smell": {
        "sweet": mark("it smells sweet"),
        "musty": mark("it smells musty"),
    },
    "stems": {
        "straight": mark("its stems are straight and whole"),
        "dog_legged": mark("its stems are dog-legged"),
        "crushed": mark("its stems are crushed"),
        "green": mark("it has green butts or weeds in it"),
    },
}
SHORT = mark("it is {length} long")
LENGTH = Limit(mark("Straw {measure} long"), 20, 300, "cm")
AT_ONCE = mark(
    "A handful is enough to say so; counting stems only tells how sure it is."
)
CAUTION = mark(
    "Musty straw is dusty with mould that harms the lungs: wear a mask, and don't "
    "shake it out indoors. Trained people and local rules come first."
)
OF_A_RULE = "length_least"


@dataclasses.dataclass(frozen=True)
class HandQuestion:
    """A handful, as it was found; what is not said takes nothing away."""

    twist: str
    """A level of the table's section, as all of these."""
    colour: str = ""
    smell: str = ""
    stems: str = ""
    length: float | None = None
    """Of most of its stems. [cm]"""
    rules: tuple = ()
    """Pairs of a use and the holding's own `GradeRule`."""

    def __post_init__(self):
        for sign in grades.SIGNS:
            level = getattr(self, sign)
            known = grades.levels(sign)
            if level not in known and (level or sign == "twist"):
                raise OutOfRange(
                    "{sign} can't be {level}; it should be one of {levels}.",
                    sign=capital(say(SIGNS[sign])),
                    level=repr(level),
                    levels=", ".join(known),
                )
        if self.length is not None:
            LENGTH.check(self.length)

    @property
    def said(self):
        """Signs that were said, with their level."""
        pairs = ((sign, getattr(self, sign)) for sign in grades.SIGNS)
        return tuple((sign, level) for sign, level in pairs if level)

    def least(self, use):
        """Shortest straw that a use takes. [cm]"""
        rule = dict(self.rules).get(use) or grades.grade_rule(use)
        return rule.length_least / 10


@dataclasses.dataclass(frozen=True)
class HandGrade:
    """The answer."""

    question: HandQuestion
    fit: tuple[str, ...]
    """Uses that it is fit for, best first."""

    @property
    def sentence(self):
        """The answer in a sentence or two."""
        against = [each for _, each in self._against()]
        if not against:
            return joined(self._fit(), say(AT_ONCE))
        return joined(self._fit(), capital(say("{signs}.", signs=listed(against))))

    def _fit(self):
        if not self.fit:
            return say("Fit for no roof.")
        uses = [say(USES[use]) for use in self.fit]
        if len(uses) == 1:
            return say("Fit for {use} alone.", use=uses[0])
        return say("Fit for {uses}.", uses=listed(uses))

    def _against(self):
        """Each sign that takes a use away, with its words."""
        for sign, level in self.question.said:
            if len(grades.leaves_fit(sign, level).value) < len(grades.USES):
                yield sign, say(SEEN[sign][level])
        if self._too_short():
            length = measured(self.question.length, "cm")
            yield "length", say(SHORT, length=length)

    def _too_short(self):
        length = self.question.length
        return (
            []
            if length is None
            else [use for use in grades.USES if length < self.question.least(use)]
        )

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        for sign, level in self.question.said:
            row = grades.leaves_fit(sign, level)
            uses = [say(USES[use]) for use in row.value]
            seen = capital(say(SEEN[sign][level]))
            fit = listed(uses) if uses else say("no roof")
            yield step_from_rows(
                say("{seen}: fit for {uses}.", seen=seen, uses=fit), row
            )
        if self.question.length is not None:
            yield from self._lengths()

    def _lengths(self):
        own = dict(self.question.rules)
        for use in grades.USES:
            least = measured(self.question.least(use), "cm", ".3g")
            says = say(
                "{use} takes straw of {least} or more.", use=say(USES[use]), least=least
            )
            if use in own:
                yield Step(capital(says), YOU, GIVEN)
            else:
                yield step_from_rows(capital(says), grades.rule_rows(use)[OF_A_RULE])

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        question = self.question
        return {
            "sentence": self.sentence,
            "caution": told(CAUTION),
            **{sign: getattr(question, sign) or None for sign in grades.SIGNS},
            "length_cm": question.length,
            "fit_for": list(self.fit),
            "against": [sign for sign, _ in self._against()],
            "working": steps_to_json(self.working),
        }


def hand_grade(question):
    """The `HandGrade` of a `HandQuestion`."""
    fit = set(grades.USES)
    for sign, level in question.said:
        fit &= set(grades.leaves_fit(sign, level).value)
    if question.length is not None:
        fit -= {use for use in grades.USES if question.length < question.least(use)}
    return HandGrade(question, tuple(use for use in grades.USES if use in fit))
