"""What a selector found, remembered until something is written on its holding."""

import functools

from sheafwright.accounts.models import Holding
from sheafwright.records.clock import today
from sheafwright.records.models import Movement
from sheafwright.records.reader import reads
from sheafwright.records.services.entry import is_being_written

MOST = 64


def written(holding):
    """The mark of a holding's last write; None before the first."""
    return Holding.objects.values_list("last_write", flat=True).get(pk=holding.pk)


def moved(holding):
    """The mark of the last that moved anything: its seal tells all that is in the book.

    None before the first.
    """
    sealed = Movement.objects.filter(holding=holding).order_by("-seq")
    return sealed.values_list("seal", flat=True).first()


def remembered(until):
    """Make a selector be asked anew only once a mark is another, or its day or reader.

    Parameters
    ----------
    until : callable
        `written`, or `moved` for what hangs on kilograms alone.

    Returns
    -------
    callable
        Wraps a selector, which takes ``holding``, and what else there is by names and
        hashable. Nobody may change what it returns.
    """

    def wrap(select):
        @functools.lru_cache(maxsize=MOST)
        def known(holding, _mark, _day, _reader, said):
            return select(holding=holding, **dict(said))

        @functools.wraps(select)
        def found(*, holding, **said):
            # Read before all else: what is written meanwhile is then found too soon at
            # worst, and never forgotten.
            mark = until(holding)
            if mark is None or is_being_written(holding):
                return select(holding=holding, **said)
            return known(holding, mark, today(holding), reads(), tuple(said.items()))

        return found

    return wrap
