"""What did the drum make of the sheaves, and is any of it unusual?

Usual shares are assumed, so what lies outside them is said and never stops an entry.
"""

import dataclasses
import math

from sheafwright.answers.working import GIVEN, YOU, Step, step_from_rows, steps_to_json
from sheafwright.core.errors import OutOfRange
from sheafwright.core.threshing.outturn import outside, outturn_shares
from sheafwright.feeds import outturns
from sheafwright.feeds.telling import joined, listed, mark, measured, say, told

PART_OF = {"tail": "grain"}
"""What is counted with another product."""
NAMES = {
    "reed": mark("reed"),
    "long_straw": mark("long straw"),
    "grain": mark("grain"),
    "tail": mark("tail corn"),
    "rest": mark("cavings and waste"),
}
SHEAVES = mark("sheaves")
LIGHTEST = 1.0
"""Less is no run of the drum. [kg]"""
UNUSUAL = {
    -1: mark("little {product} ({low:.0%} to {high:.0%})"),
    1: mark("much {product} ({low:.0%} to {high:.0%})"),
}
TOO_MUCH = mark(
    "More came out than the {sheaves} of sheaves that went in: they were guessed too "
    "light, or something was weighed twice."
)


@dataclasses.dataclass(frozen=True)
class Share:
    """One product's."""

    product: str
    share: float
    """Of the sheaves' mass. [1]"""
    usual: tuple[float, float]
    """Lowest and highest. [1]"""
    unusual: int
    """-1 for less than usual, 1 for more, else 0."""


@dataclasses.dataclass(frozen=True)
class Outturn:
    """The answer."""

    sheaves: float
    """That went in. [kg]"""
    combed: bool
    shares: tuple[Share, ...]
    """The rest last; below 0 if more came out than went in."""

    @property
    def unusual(self):
        """The shares outside their usual range."""
        return tuple(share for share in self.shares if share.unusual)

    @property
    def sentence(self):
        """The answer in a sentence or two."""
        if self.shares[-1].share < 0:
            return say(TOO_MUCH, sheaves=measured(self.sheaves, "kg", ",.0f"))
        made = listed([_said(share) for share in self.shares])
        if not self.unusual:
            return say("The sheaves gave {made}, as is usual.", made=made)
        odd = listed([_odd(share) for share in self.unusual])
        return joined(
            say("The sheaves gave {made}.", made=made),
            say("That is {odd}: weigh again, or say why.", odd=odd),
        )

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        weighed = say(
            "{sheaves} of sheaves, and what was weighed from them.",
            sheaves=measured(self.sheaves, "kg", ",.0f"),
        )
        usual = listed([_usual(share) for share in self.shares])
        return (
            Step(weighed, YOU, GIVEN),
            step_from_rows(
                say("Usual at the drum: {usual}.", usual=usual),
                *outturns.usual_rows(self.combed).values(),
            ),
        )

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "sheaves_kg": self.sheaves,
            "combed": self.combed,
            "products": [
                {
                    "product": each.product,
                    "share": round(each.share, 4),
                    "usual_share_low": each.usual[0],
                    "usual_share_high": each.usual[1],
                    "unusual": each.unusual,
                }
                for each in self.shares
            ],
            "working": steps_to_json(self.working),
        }


def outturn(sheaves, products, combed=True):
    """The `Outturn` of a run of the drum.

    Parameters
    ----------
    sheaves : float
        Mass that went in. [kg]
    products : dict of str to float
        Mass of each that was weighed: ``reed``, ``long_straw``, ``grain``, ``tail``;
        what else came, and what was not weighed, is the rest. [kg]
    combed : bool
        Whether the straw was combed to reed.
    """
    _check(sheaves, SHEAVES, LIGHTEST)
    usual = outturns.usual_shares(combed)
    masses = _masses(sheaves, products, usual)
    shares = outturn_shares(list(masses.values()), sheaves)
    flags = outside(shares, *zip(*usual.values(), strict=True))
    return Outturn(
        sheaves=sheaves,
        combed=combed,
        shares=tuple(
            Share(product, float(share), usual[product], int(flag))
            for product, share, flag in zip(masses, shares, flags, strict=True)
        ),
    )


def _masses(sheaves, products, usual):
    """Mass of each product that has a usual share; the rest is what is left. [kg]"""
    masses = dict.fromkeys(usual, 0.0)
    for product, mass in products.items():
        _check(mass, NAMES.get(product, product), least=0)
        counted = PART_OF.get(product, product)
        if counted in masses:
            masses[counted] += mass
    weighed = sum(mass for product, mass in masses.items() if product != "rest")
    return masses | {"rest": sheaves - weighed}


def _check(mass, what, least):
    # Written so that NaN is refused too.
    if not least <= mass < math.inf:
        raise OutOfRange(
            "{mass} of {what}: it should be {least} or more.",
            mass=measured(mass, "kg"),
            what=told(what),
            least=measured(least, "kg"),
        )


def _said(share):
    product = say(NAMES[share.product])
    return say("{share:.0%} {product}", share=share.share, product=product)


def _odd(share):
    low, high = share.usual
    product = say(NAMES[share.product])
    return say(UNUSUAL[share.unusual], product=product, low=low, high=high)


def _usual(share):
    low, high = share.usual
    product = say(NAMES[share.product])
    return say("{product} {low:.0%} to {high:.0%}", product=product, low=low, high=high)
