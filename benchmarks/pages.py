"""Time the pages of a large demo: server time of each, and readers beside writers.

Twenty seasons on forty fields, served as a grower would. Prints each page's 95th
percentile beside that of the lightest page there is, the processor's time that the
server spends on it, which other work on the machine disturbs less, and its weight on
the wire: while the worker rests, and while it thinks. Then fifty readers and eight
writers at once, and eight writers alone, with whatever went wrong.
"""

import concurrent.futures
import contextlib
import http.cookiejar
import re
import subprocess
import sys
import tempfile
import time
import urllib.parse
import urllib.request
import uuid
from pathlib import Path

import numpy as np
import psutil

HERE = Path(sys.executable).parent
PAGES = (
    *("today", "ground", "seed", "growing", "cutting", "hands", "stooks", "ricks"),
    *("threshing", "labour", "straw", "grain", "orders", "money"),
    *("book", "settings", "harvest-day"),
)
READERS, WRITERS = 50, 8
KEPT_ANSWERS = Path(__file__).parent / "parts" / "kept_answers.py"
SLUG = "marl-hollow"
PORT = 8765
BASE = f"http://127.0.0.1:{PORT}"


class Person:
    """Somebody signed in."""

    def __init__(self, base, password):
        jar = urllib.request.HTTPCookieProcessor(http.cookiejar.CookieJar())
        self.base, self.opener = base, urllib.request.build_opener(jar)
        self.post("/sign-in/", username="owner@example.org", password=password)

    def get(self, path):
        asked = urllib.request.Request(
            self.base + path, headers={"Accept-Encoding": "gzip"}
        )
        with self.opener.open(asked, timeout=60) as answer:
            return answer.read()

    def post(self, path, **said):
        with self.opener.open(self.base + "/csrf/", timeout=60) as answer:
            token = re.search(r"[\w-]{30,}", answer.read().decode())[0]
        said = urllib.parse.urlencode(said | {"csrfmiddlewaretoken": token}).encode()
        asked = urllib.request.Request(
            self.base + path, said, headers={"Referer": self.base + path}
        )
        with self.opener.open(asked, timeout=60) as answer:
            return answer.read()


def main(short):
    """Print the tables; ``short`` for a small demo looked at briefly."""
    seasons, fields, times, seconds = (2, 2, 3, 2) if short else (20, 40, 40, 60)
    with tempfile.TemporaryDirectory() as folder:
        password = make(folder, seasons, fields)
        options = ["--holding", folder, "--port", str(PORT), "--no-browser"]
        command = [HERE / "sheafwright", "serve", *options]
        with subprocess.Popen(command, stdout=subprocess.DEVNULL) as server:
            try:
                wait_for(BASE)
                person, served = Person(BASE, password), psutil.Process(server.pid)
                (worker,) = served.children()
                with resting(worker):
                    pages("the worker at rest", person, served, times)
                pages("the worker thinking", person, served, times)
                crowd(person, READERS, seconds)
                crowd(person, 0, seconds)
            finally:
                server.terminate()


def make(folder, seasons, fields):
    begun = time.perf_counter()
    options = ["--seasons", str(seasons), "--fields", str(fields)]
    where = ["--holding", folder, "--chart", f"{folder}/outlook.svg"]
    made = subprocess.run(
        [HERE / "sheafwright", "demo", *options, *where],
        check=True,
        capture_output=True,
        text=True,
    )
    took = time.perf_counter() - begun
    print(f"A demo of {seasons} seasons on {fields} fields was made in {took:.0f} s.")
    subprocess.run([sys.executable, KEPT_ANSWERS, folder], check=True)
    return re.search(r"the password (\S+)", made.stdout)[1]


def wait_for(base):
    for _ in range(600):
        try:
            urllib.request.urlopen(base + "/csrf/", timeout=5).close()
        except OSError:
            time.sleep(0.2)
        else:
            return


@contextlib.contextmanager
def resting(process):
    process.suspend()
    try:
        yield
    finally:
        process.resume()


def pages(when, person, served, times):
    """Each page's time as its reader sees it, the request's own way included."""
    lightest, *rest = timed(person, served, "/csrf/", times)
    print(f"{when:20} {'p95 ms':>8} {'as long':>8} {'processor ms':>13} {'kB':>6}")
    _print("(lightest)", lightest, lightest, *rest)
    for name in PAGES:
        took, *rest = timed(person, served, f"/{SLUG}/{name}/", times)
        _print(name, lightest, took, *rest)


def _print(name, lightest, took, spent, weight):
    ratio = f"{took / lightest:.1f} ×" if took != lightest else "1 ×"
    print(f"{name:20} {took:8.0f} {ratio:>8} {spent:13.0f} {weight / 1000:6.1f}")


def timed(person, served, path, times):
    """95th percentile, mean processor's time [ms], and weight on the wire [bytes]."""
    person.get(path)  # Warms it up.
    took, before = [], spent_ms(served)
    for _ in range(times):
        begun = time.perf_counter()
        body = person.get(path)
        took.append(time.perf_counter() - begun)
    spent = (spent_ms(served) - before) / times
    return 1000 * np.quantile(took, 0.95), spent, len(body)


def spent_ms(process):
    times = process.cpu_times()
    return 1000 * (times.user + times.system)


def crowd(someone, readers, seconds):
    """Readers and writers at once: how many of each, and what went wrong."""
    until = time.monotonic() + seconds
    with concurrent.futures.ThreadPoolExecutor(readers + WRITERS) as pool:
        reading = [pool.submit(read, someone, n, until) for n in range(readers)]
        writing = [pool.submit(write, someone, until) for _ in range(WRITERS)]
        print(f"{readers} readers and {WRITERS} writers at once:")
        for name, jobs in (("reads", reading), ("writes", writing)):
            if jobs:
                done, wrong = np.sum([job.result() for job in jobs], axis=0)
                print(f"  {name}: {done / seconds:.1f} a second, {wrong} went wrong")


def read(person, number, until):
    return _again(
        lambda n: person.get(f"/{SLUG}/{PAGES[n % len(PAGES)]}/"), number, until
    )


def write(person, until):
    return _again(
        lambda n: person.post(
            f"/{SLUG}/write/cleaning/",
            id=uuid.uuid4(),
            date="2025-08-01",
            what="the drum",
            how="brushed and blown out",
        ),
        0,
        until,
    )


def _again(deed, number, until):
    done = wrong = 0
    while time.monotonic() < until:
        try:
            deed(number + done + wrong)
        except OSError:
            wrong += 1
        else:
            done += 1
    return done, wrong


if __name__ == "__main__":
    main("--short" in sys.argv)
