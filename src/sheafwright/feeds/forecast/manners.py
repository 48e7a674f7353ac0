"""How a service may be asked: by whom, for what address, how often and how long."""

import dataclasses
import re
from functools import cache
from urllib.parse import parse_qsl, urlencode, urlsplit, urlunsplit

from sheafwright import __version__
from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds import tables
from sheafwright.feeds.forecast.ask import PLAIN, is_loopback


@dataclasses.dataclass(frozen=True)
class Terms:
    """The rows of ``forecast_service.toml``."""

    coordinate_decimals: int
    """Decimals of latitude and longitude. [1]"""
    timeout_s: float
    """Longest wait for any one part of an answer. [s]"""
    longest_answer_s: float
    """Longest wait for a whole answer. [s]"""
    largest_bytes: int
    """Largest answer taken. [bytes]"""
    attempts: int
    """Requests made to a busy service before giving up. [1]"""
    first_wait_s: float
    """Wait after the first of them, doubled after each. [s]"""
    longest_wait_s: float
    """Told to wait longer, we give up. [s]"""
    rest_without_expires_s: float
    """Time to the next request where the answer gives none. [s]"""
    rest_after_refusal_s: float
    """Time to the next request after a refusal. [s]"""


@cache
def usual_terms():
    """The terms that ship with the package."""
    rows = tables.shipped("forecast_service")["terms"]
    return tables.build(Terms, rows, "forecast_service.toml [terms]")


def user_agent(contact):
    """How we name ourselves: the tool, its version and whom to write to."""
    if not re.fullmatch(r"[!-~]+(@|://)[!-~]+", contact):
        raise UnreadableInput(
            "A forecast service asks who is calling: the contact {contact} should be "
            "an e-mail address or a web page, such as ann@example.org.",
            contact=repr(contact[:40]),
        )
    return f"sheafwright/{__version__} {contact}"


def polite_address(address, decimals):
    """The address that is really asked, its coordinates cut to so many decimals."""
    try:
        parts = urlsplit(address)
        host, _ = parts.hostname, parts.port
    except ValueError:
        host = None
    if not host or not PLAIN.fullmatch(address) or not _is_safe(parts):
        raise UnreadableInput(
            "{address} is not an address to fetch from: it should be https://, a host "
            "and a path in plain characters.",
            address=repr(address[:80]),
        )
    query = [
        (name, _cut(name, value, decimals) if name in ("lat", "lon") else value)
        for name, value in parse_qsl(parts.query, keep_blank_values=True)
    ]
    return urlunsplit((*parts[:3], urlencode(query), ""))


def _is_safe(parts):
    at_home = parts.scheme == "http" and is_loopback(parts.hostname)
    return (parts.scheme == "https" or at_home) and "@" not in parts.netloc


def _cut(name, value, decimals):
    if not re.fullmatch(r"-?[0-9]{1,3}(\.[0-9]+)?", value):
        raise UnreadableInput(
            "The address has {name}={value}; it should be in degrees, such as 53.43.",
            name=name,
            value=repr(value[:20]),
        )
    whole, point, rest = value.partition(".")
    return whole + point + rest[:decimals]
