"""Why a lot doesn't suit an order."""

from sheafwright.planning.allocation.problem import LIKELY, Against

SHORT = 1e-6
"""Rounding of a length. [m]"""


def against(want, stock):
    """Everything for which a lot doesn't suit an order: ``Against``, the first first.

    A lot that nobody measured suits any length: the grower is told to measure it.
    """
    return tuple(
        Against(rule, wanted, there)
        for rule, wanted, there, is_wrong in _asked(want, stock)
        if is_wrong
    )


def _asked(want, stock):
    yield "kind", want.kind, stock.kind, want.kind != stock.kind
    yield "apart", False, True, stock.apart
    yield "length", want.least_length, stock.length, _too_short(want, stock)
    yield "grade", want.grades, stock.graded(want), stock.sure(want) < LIKELY
    variety = _not_among(stock.variety, want.varieties)
    yield "variety", want.varieties, stock.variety, variety
    yield "organic", True, False, want.organic and not stock.organic
    yield "late", want.by, stock.ready, want.by is not None and stock.ready > want.by
    yield "small", want.kg, stock.kg, _too_small(want, stock)


def _too_short(want, stock):
    asked = want.least_length is not None and stock.length is not None
    return asked and stock.length < want.least_length - SHORT


def _not_among(there, wanted):
    return bool(wanted) and there not in wanted


def _too_small(want, stock):
    """Of one lot, all of it: a lot that is smaller is no use."""
    return want.whole and want.most_lots == 1 and stock.kg < want.kg - SHORT
