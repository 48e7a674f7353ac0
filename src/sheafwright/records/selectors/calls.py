"""Who is rung when a rick heats."""

import re
from typing import NamedTuple

from sheafwright.records.models import CallList

PARTS = re.compile(r"(.*?)[ :,]*(\+?\d[\d ()/-]*\d)?")


class Call(NamedTuple):
    """One to ring."""

    name: str
    number: str

    @property
    def dial(self):
        """The number as a telephone takes it."""
        return re.sub(r"[^\d+]", "", self.number)


def call_lists(*, holding):
    """Id of a rick, or None for every other, to who is rung there, in order."""
    written = CallList.objects.filter(holding=holding).order_by("made_at")
    # Of two lists of the same, the later counts.
    last = dict(written.values_list("rick", "who"))
    return {rick: _calls(who) for rick, who in last.items()}


def calls_of(lists, rick):
    """Who is rung for a rick: its own list, or the holding's, or nobody written."""
    return lists.get(rick.pk) or lists.get(None, ())


def _calls(who):
    lines = filter(None, (line.strip() for line in who.splitlines()))
    matches = (PARTS.fullmatch(line) for line in lines)
    return tuple(Call(m[1], m[2] or "") for m in matches if m)
