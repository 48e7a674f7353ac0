"""What a selector found, remembered until something is written on its holding."""

import functools

from sheafwright.accounts.models import Holding
from sheafwright.records.clock import today
from sheafwright.records.reader import reads
from sheafwright.records.services.entry import is_being_written

MOST = 64


def remembered(select):
    """The selector, asked anew only after a write, on another day or by another reader.

    Parameters
    ----------
    select : callable
        Takes ``holding``, and what else there is by names and hashable. Nobody may
        change what it returns.
    """

    @functools.lru_cache(maxsize=MOST)
    def known(holding, _last_write, _day, _reader, said):
        return select(holding=holding, **dict(said))

    @functools.wraps(select)
    def found(*, holding, **said):
        # Read before all else: what is written meanwhile is then only found too soon.
        last = Holding.objects.values_list("last_write", flat=True).get(pk=holding.pk)
        if last is None or is_being_written(holding):
            return select(holding=holding, **said)
        return known(holding, last, today(holding), reads(), tuple(said.items()))

    return found
