"""Orders and lots together: what a plan is worth, and what it must keep."""

from sheafwright.planning.allocation.reasons import against
from sheafwright.planning.allocation.worth import per_kg
from sheafwright.planning.cropping.program import Program

LEAST_KG = 1e-6


class Model:
    """The program of a problem, and what its columns mean."""

    def __init__(self, problem, must_fill=()):
        self.problem, self.must_fill = problem, frozenset(must_fill)
        self.program = Program()
        self.kg = {}
        """(order, lot) to a column. [kg]"""
        self.used, self.full = {}, {}
        """(order, lot), and order, to columns of yes or no."""
        self.fit = {
            (want.name, stock.name): not against(want, stock)
            for want in problem.wants
            for stock in problem.stocks
        }
        self._gifts()
        self._stocks()
        for want in problem.wants:
            self._want(want)
        self._first_refusals()

    def _gifts(self):
        pinned = _pinned(self.problem.pins)
        for want in self.problem.wants:
            for stock in self.problem.stocks:
                key = want.name, stock.name
                kept = pinned.get(key, 0.0)
                if not self.fit[key] and not kept:
                    continue
                most = min(want.kg, stock.kg)
                self.kg[key] = self.program.column(
                    worth=per_kg(want, stock),
                    lower=min(kept, most),
                    upper=most if self.fit[key] else min(kept, most),
                )
                self._use(key, most)

    def _use(self, key, most):
        rates = self.problem.rates
        used = self.program.column(worth=-rates.lot_gbp, upper=1.0, whole=True)
        self.program.row({self.kg[key]: 1.0, used: -most}, upper=0.0)
        self.used[key] = used

    def _stocks(self):
        for stock in self.problem.stocks:
            taken = {
                column: 1.0
                for (_, name), column in self.kg.items()
                if name == stock.name
            }
            if taken:
                self.program.row(taken, upper=stock.kg)

    def _want(self, want):
        given = self._of(self.kg, want)
        rates = self.problem.rates
        forced = float(want.name in self.must_fill)
        worth = rates.promise_gbp * want.weight if want.promised else 0.0
        full = self.program.column(worth=worth, lower=forced, upper=1.0, whole=True)
        self.full[want.name] = full
        # Full only if all of it is given; never more than all of it.
        self.program.row(given | {full: -want.kg}, lower=0.0)
        self.program.row(given, upper=want.kg)
        if want.whole:
            self.program.row(given | {full: -want.kg}, upper=0.0)
        if want.most_lots is not None:
            self.program.row(self._of(self.used, want), upper=want.most_lots)
        self._haulage(want, given)

    def _haulage(self, want, given):
        rates = self.problem.rates
        cost = 2 * want.distance * rates.haulage_gbp_per_km
        if cost and given:
            loads = self.program.column(worth=-cost, whole=True)
            self.program.row(given | {loads: -rates.load_kg}, upper=0.0)

    def _first_refusals(self):
        """What suits a buyer of first refusal is nobody else's until he is served."""
        first = {want.name for want in refusers(self.problem, self.fit)}
        for key, used in self.used.items():
            name, stock = key
            if name in first or key in _pinned(self.problem.pins):
                continue
            for other in first:
                if self.fit[other, stock]:
                    self.program.row({used: 1.0, self.full[other]: -1.0}, upper=0.0)

    def _of(self, columns, want):
        return {c: 1.0 for (name, _), c in columns.items() if name == want.name}


def refusers(problem, fit):
    """Orders of first refusal that what suits them could fill.

    One that nothing could fill holds up nobody else.
    """
    for want in problem.wants:
        lots = sorted(
            (s.kg for s in problem.stocks if fit[want.name, s.name]), reverse=True
        )
        if want.first_refusal and sum(lots[: want.most_lots]) >= want.kg - LEAST_KG:
            yield want


def _pinned(pins):
    kept = {}
    for pin in pins:
        kept[pin.want, pin.stock] = kept.get((pin.want, pin.stock), 0.0) + pin.kg
    return kept
