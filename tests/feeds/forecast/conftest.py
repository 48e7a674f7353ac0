"""A small forecast, and a service on this machine that does as a test tells it."""

import copy
import dataclasses
import datetime
import http.server
import json
import threading
from pathlib import Path

import numpy as np
import pytest

from sheafwright.feeds.forecast.fetch import Access

SAMPLE = Path(__file__).with_name("locationforecast.json")


@pytest.fixture
def sample_bytes():
    return SAMPLE.read_bytes()


@pytest.fixture
def sample(sample_bytes):
    """The small forecast as a document to be changed by a test."""
    return copy.deepcopy(json.loads(sample_bytes))


class Clock:
    """A clock that only moves when somebody sleeps, or by ``tick`` when read."""

    def __init__(self):
        self.now = datetime.datetime(2026, 8, 5, 20, 0, tzinfo=datetime.UTC)
        self.tick = datetime.timedelta(0)
        self.slept = []

    def __call__(self):
        self.now += self.tick
        return self.now

    def sleep(self, seconds):
        self.slept.append(seconds)
        self.now += datetime.timedelta(seconds=seconds)

    def wait(self, **time):
        self.now += datetime.timedelta(**time)


@dataclasses.dataclass
class Reply:
    """What the service says next; a length of its own makes it a cut answer."""

    status: int = 200
    content: bytes = b""
    headers: dict = dataclasses.field(default_factory=dict)
    length: int | None = None
    hold: bool = False


class Service:
    """A loopback service with a script of replies and a memory of requests."""

    def __init__(self, address):
        self.address = address
        self.replies = []
        self.requests = []
        self.closing = threading.Event()

    def will(self, *replies):
        self.replies.extend(replies)


class Handler(http.server.BaseHTTPRequestHandler):
    def do_GET(self):
        service = self.server.service
        service.requests.append((self.path, self.headers))
        reply = service.replies.pop(0)
        if reply.hold:
            service.closing.wait(5)
            return
        self.send_response(reply.status)
        length = len(reply.content) if reply.length is None else reply.length
        headers = {"Content-Type": "application/json", "Content-Length": length}
        for name, value in (headers | reply.headers).items():
            self.send_header(name, str(value))
        self.end_headers()
        self.wfile.write(reply.content)

    def log_message(self, *_):
        """Quiet: the test asks what was requested."""


@pytest.fixture
def service():
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), Handler) as server:
        server.service = Service(f"http://127.0.0.1:{server.server_port}/compact")
        thread = threading.Thread(target=server.serve_forever, args=(0.01,))
        thread.start()
        yield server.service
        server.service.closing.set()
        server.shutdown()
        thread.join()


@pytest.fixture
def reply():
    return Reply


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def access(tmp_path, clock):
    return Access(
        contact="ann@example.org",
        folder=tmp_path / "kept",
        rng=np.random.default_rng(5),
        clock=clock,
        sleep=clock.sleep,
    )
