"""Fetching a forecast by the service's terms, as we remember those of MET Norway.

Say who asks; give coordinates no finer than needed; ask nothing before the last
answer expires, and then only whether it has changed; wait when told that the
service is busy; stop when refused. Whatever fails, the last copy serves, and the
forecast says so.
"""

import dataclasses
import datetime
import re
import time
from collections.abc import Callable
from email.utils import parsedate_to_datetime
from pathlib import Path

import numpy as np

from sheafwright.core.errors import ServiceUnavailable, SheafwrightError
from sheafwright.feeds.forecast.ask import ask
from sheafwright.feeds.forecast.copies import Copy, Slot
from sheafwright.feeds.forecast.manners import (
    Terms,
    polite_address,
    user_agent,
    usual_terms,
)
from sheafwright.feeds.telling import clause, joined, mark, refusal, say

BUSY = (429, 500, 502, 503, 504)
REFUSED = mark(
    "The forecast service refuses us, so it is not asked again before {time}."
)
STILL_BUSY = mark(
    "The forecast service is busy, so it is not asked again before {time}."
)
DEPRECATED = mark("the service says that it will soon close this address")
WHAT_STILL_WORKS = mark(
    "leave the forecast out, or give a saved file of one, and everything else works"
)


def utc_now():
    """The time. [UTC]"""
    return datetime.datetime.now(datetime.UTC)


@dataclasses.dataclass(frozen=True)
class Access:
    """Who asks, where copies are kept, and the world that is asked."""

    contact: str
    """An e-mail address or a web page, for the service to complain to."""
    folder: Path
    """Where copies are kept."""
    rng: np.random.Generator
    """Scatters the waits, so that many callers do not come back at once."""
    terms: Terms = dataclasses.field(default_factory=usual_terms)
    clock: Callable[[], datetime.datetime] = utc_now
    sleep: Callable[[float], None] = time.sleep


def fetch(address, access, understand):
    """What ``understand`` makes of the bytes at an address, and how they came.

    ``understand`` raises a `SheafwrightError` for bytes that are no forecast; such
    an answer is never kept.
    """
    address = polite_address(address, access.terms.coordinate_decimals)
    slot = Slot(access.folder, address, user_agent(access.contact))
    kept = copy = slot.load()
    why = say("which holds until {time}", time=_spoken(kept.not_before))
    try:
        copy = _current(kept, slot, access, understand)
    except ServiceUnavailable as problem:
        reason = clause(refusal(problem))
        if not kept.content:
            raise ServiceUnavailable(
                "{reason}; {what_still_works}.",
                reason=reason,
                what_still_works=say(WHAT_STILL_WORKS),
            ) from None
        why = say("since: {reason}", reason=reason)
    how = say("saved copy of {time}, {why}", time=_spoken(kept.confirmed), why=why)
    return understand(copy.content), joined(copy is kept and how, copy.remark, by="; ")


def _current(copy, slot, access, understand):
    """The copy itself while it holds, or else its successor."""
    if access.clock() < copy.not_before:
        if copy.rest:
            raise ServiceUnavailable(copy.rest)
        return copy
    reply = _answer(copy, slot, access)
    successor = dataclasses.replace(
        _successor(copy, reply, understand),
        confirmed=access.clock(),
        not_before=_expires(reply, access),
    )
    slot.save(successor)
    return successor


def _answer(copy, slot, access, attempt=1):
    """The first answer that is neither busy nor a refusal."""
    headers = {"User-Agent": slot.asker}
    if copy.content and copy.last_modified:
        headers["If-Modified-Since"] = copy.last_modified
    reply = ask(slot.address, headers, access.terms, access.clock)
    if reply.status == 403:
        seconds = access.terms.rest_after_refusal_s
        raise _rest(copy, slot, access, seconds, REFUSED)
    if reply.status not in BUSY:
        return reply
    wait = _wait(reply, attempt, access)
    if attempt == access.terms.attempts or wait > access.terms.longest_wait_s:
        raise _rest(copy, slot, access, wait, STILL_BUSY)
    access.sleep(wait)
    return _answer(copy, slot, access, attempt + 1)


def _successor(copy, reply, understand):
    if reply.status == 304 and copy.content:
        return dataclasses.replace(copy, rest="")
    if reply.status not in (200, 203):
        raise ServiceUnavailable(
            "The forecast service answered {status}.", status=reply.status
        )
    try:
        understand(reply.content)
    except SheafwrightError as error:
        raise ServiceUnavailable(
            "The service sent no forecast: {error}", error=refusal(error)
        ) from None
    modified = reply.headers.get("Last-Modified", "")
    remark = say(DEPRECATED) if reply.status == 203 else ""
    return Copy(reply.content, modified, remark=remark)


def _rest(copy, slot, access, seconds, words):
    """Remember to leave the service alone for a while; the error that says so."""
    until = access.clock() + datetime.timedelta(seconds=seconds)
    says = say(words, time=_spoken(until))
    slot.save(dataclasses.replace(copy, not_before=until, rest=says))
    return ServiceUnavailable(says)


def _wait(reply, attempt, access):
    """Seconds to wait: what the service asks, or a doubling time with jitter."""
    asked = reply.headers.get("Retry-After", "").strip()
    if re.fullmatch(r"[0-9]{1,7}", asked):
        return float(asked)
    if until := _http_date(asked):
        return max(0.0, (until - access.clock()).total_seconds())
    return access.terms.first_wait_s * 2 ** (attempt - 1) * access.rng.uniform(0.5, 1.5)


def _expires(reply, access):
    rest = datetime.timedelta(seconds=access.terms.rest_without_expires_s)
    return _http_date(reply.headers.get("Expires", "")) or access.clock() + rest


def _http_date(text):
    """A time in a header, or None where it is none."""
    try:
        # Times in HTTP are in GMT, whatever zone they name.
        return parsedate_to_datetime(text).replace(tzinfo=datetime.UTC)
    except (TypeError, ValueError, IndexError, OverflowError):
        return None


def _spoken(time):
    return say("{time} UTC", time=f"{time:%Y-%m-%d %H:%M}")
