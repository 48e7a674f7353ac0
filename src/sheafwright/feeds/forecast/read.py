"""A forecast from wherever it is: a file or an address, known by its content."""

import dataclasses
from functools import partial

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds import plain_csv
from sheafwright.feeds.forecast import members_csv, met_norway
from sheafwright.feeds.telling import say


def read(source, *, utc_offset_hours=0, access=None):
    """The forecast in a file, or at an address for those with `fetch.Access`."""
    understand = partial(parse, where=str(source), utc_offset_hours=utc_offset_hours)
    if "://" not in str(source):
        return understand(plain_csv.file_bytes(source))
    if access is None:
        raise UnreadableInput(
            "{address} is an address: fetching needs a contact for the service and a "
            "folder for copies, or give a saved file.",
            address=str(source),
        )
    # Imported late: most forecasts are files, and the network costs start-up.
    from sheafwright.feeds.forecast.fetch import fetch

    forecast, how = fetch(str(source), access, understand)
    if how:
        how = say("{source} ({how})", source=forecast.source, how=how)
    return dataclasses.replace(forecast, source=how or forecast.source)


def parse(content, where, utc_offset_hours=0):
    """The forecast in bytes: JSON opens with a brace, and else it is CSV."""
    if not content.strip():
        raise UnreadableInput(
            "{where} is empty; it should be a Locationforecast JSON or a CSV of "
            "ensemble members.",
            where=where,
        )
    if content.lstrip(b"\xef\xbb\xbf \t\r\n").startswith((b"{", b"[")):
        return met_norway.parse(content, where, utc_offset_hours)
    return members_csv.parse(content, where)
