"""One question to a service: an answer that is whole, of bounded size, or a refusal."""

import datetime
import http.client
import ipaddress
import re
import zlib
from typing import NamedTuple
from urllib.error import URLError
from urllib.parse import urljoin, urlsplit
from urllib.request import (
    HTTPErrorProcessor,
    ProxyHandler,
    Request,
    build_opener,
)

from sheafwright.core.errors import ServiceUnavailable

REDIRECTS = (301, 302, 303, 307, 308)
MOST_REDIRECTS = 3
WITH_A_BODY = (200, 203)
KNOWN_TYPES = (
    "application/json",
    "application/geo+json",
    "text/csv",
    "text/plain",
)
PLAIN = re.compile(r"[!-~]+")
CHUNK = 65536


class Reply(NamedTuple):
    """What a service answered."""

    status: int
    headers: http.client.HTTPMessage
    content: bytes


class _EveryStatus(HTTPErrorProcessor):
    """Hands over every answer as it is; by itself urllib follows and raises."""

    def http_response(self, request, response):
        return response

    https_response = http_response


def is_loopback(host):
    """Whether a host is this machine itself."""
    try:
        return host == "localhost" or ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


def ask(address, headers, terms, clock):
    """The answer to a GET, after redirects within the same host."""
    for _ in range(MOST_REDIRECTS + 1):
        reply = _ask_once(address, headers, terms, clock)
        if reply.status not in REDIRECTS:
            return reply
        address = _same_host(address, reply.headers.get("Location", ""))
    raise ServiceUnavailable("{host} keeps sending us elsewhere.", host=_host(address))


def _ask_once(address, headers, terms, clock):
    # A machine never reaches itself through a proxy.
    direct = [ProxyHandler({})] if is_loopback(urlsplit(address).hostname) else []
    opener = build_opener(_EveryStatus, *direct)
    request = Request(address, headers={"Accept-Encoding": "gzip", **headers})
    try:
        with opener.open(request, timeout=terms.timeout_s) as response:
            wanted = response.status in WITH_A_BODY
            content = _content(response, terms, clock) if wanted else b""
            return Reply(response.status, response.headers, content)
    except (OSError, http.client.HTTPException) as error:
        reason = error.reason if isinstance(error, URLError) else error
        said = getattr(reason, "strerror", "") or str(reason) or type(reason).__name__
        raise ServiceUnavailable(
            "{host} did not answer ({said}).", host=_host(address), said=said
        ) from None


def _content(response, terms, clock):
    host = _host(response.url)
    kind = response.headers.get_content_type()
    if kind not in KNOWN_TYPES:
        raise ServiceUnavailable(
            "{host} sent {kind} where JSON or CSV was asked for.", host=host, kind=kind
        )
    sent = _received(response, terms, clock)
    length = response.headers.get("Content-Length", "")
    if length.isdecimal() and len(sent) != int(length[:12]):
        raise ServiceUnavailable("The answer of {host} was cut short.", host=host)
    packed = response.headers.get("Content-Encoding", "identity").lower()
    if packed not in ("gzip", "identity"):
        raise ServiceUnavailable(
            "{host} packed its answer as {packed}, not gzip.", host=host, packed=packed
        )
    return _unpacked(sent, terms.largest_bytes, host) if packed == "gzip" else sent


def _received(response, terms, clock):
    """The bytes sent, given up when there are too many or they come too slowly."""
    deadline = clock() + datetime.timedelta(seconds=terms.longest_answer_s)
    received = bytearray()
    while chunk := response.read1(CHUNK):
        received += chunk
        if len(received) > terms.largest_bytes or clock() > deadline:
            raise ServiceUnavailable(
                "The answer of {host} was too long or too slow.",
                host=_host(response.url),
            )
    return bytes(received)


def _unpacked(sent, largest, host):
    unpacker = zlib.decompressobj(wbits=31)
    try:
        content = unpacker.decompress(sent, largest)
    except zlib.error:
        raise ServiceUnavailable(
            "The gzip answer of {host} is damaged.", host=host
        ) from None
    if not unpacker.eof:
        raise ServiceUnavailable(
            "The answer of {host} was cut short or too long.", host=host
        )
    return content


def _same_host(address, location):
    try:
        target = urljoin(address, location)
        followed = urlsplit(target)[:2] == urlsplit(address)[:2]
    except ValueError:
        target, followed = location, False
    if not (followed and PLAIN.fullmatch(target)):
        raise ServiceUnavailable(
            "{host} sent us to another place, {place}, where we do not follow.",
            host=_host(address),
            place=repr(target[:80]),
        )
    return target


def _host(address):
    return urlsplit(address).netloc
