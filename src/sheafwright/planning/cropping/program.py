"""A mixed-integer program as it is put together."""

import math

INFINITY = math.inf


class Program:
    """Columns and rows; the worth of the columns is to be made most of."""

    def __init__(self):
        self.worths, self.lowers, self.uppers, self.whole = [], [], [], []
        self.row_lowers, self.row_uppers = [], []
        self.starts, self.places, self.factors = [0], [], []

    def column(self, worth=0.0, lower=0.0, upper=INFINITY, whole=False):
        """A new column's place."""
        self.worths.append(worth)
        self.lowers.append(lower)
        self.uppers.append(upper)
        self.whole.append(whole)
        return len(self.worths) - 1

    def row(self, entries, lower=-INFINITY, upper=INFINITY):
        """A new row of {place: factor}, between two bounds."""
        self.places += entries.keys()
        self.factors += entries.values()
        self.starts.append(len(self.places))
        self.row_lowers.append(lower)
        self.row_uppers.append(upper)

    def aim(self, entries):
        """Make most of these columns, {place: worth}, and of no others."""
        self.worths = [entries.get(place, 0.0) for place in range(len(self.worths))]

    def run(self, seconds, gap=0.0, relaxed=False):
        """`Found` within so many seconds.

        Parameters
        ----------
        seconds : float
        gap : float
            Stop when no values can be better than by this share. [1]
        relaxed : bool
            Let whole columns take parts.
        """
        # The solver's library is large, and most questions need none of it.
        from sheafwright.planning.cropping.highs import run

        return run(self, seconds, gap, relaxed)
