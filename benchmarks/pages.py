"""Time the pages of a large demo: server time of each, and readers beside writers.

Twenty seasons on forty fields, served as a grower would. Prints each page's 95th
percentile beside that of the lightest page there is, and its weight on the wire; then
fifty readers and eight writers at once, with whatever went wrong.
"""

import concurrent.futures
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

HERE = Path(sys.executable).parent
PAGES = (
    *("today", "ground", "seed", "growing", "cutting", "stooks", "ricks"),
    *("threshing", "straw", "grain", "book", "settings", "harvest-day"),
)
READERS, WRITERS = 50, 8
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
                pages(Person(BASE, password), times)
                crowd(BASE, password, seconds)
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
    return re.search(r"the password (\S+)", made.stdout)[1]


def wait_for(base):
    for _ in range(600):
        try:
            urllib.request.urlopen(base + "/csrf/", timeout=5).close()
        except OSError:
            time.sleep(0.2)
        else:
            return


def pages(person, times):
    """Each page's time as its reader sees it, the request's own way included."""
    lightest, weight = p95(person, "/csrf/", times)
    print(f"{'page':12} {'p95 ms':>8} {'as long':>10} {'kB on the wire':>15}")
    print(f"{'(lightest)':12} {lightest:8.0f} {'1 ×':>10} {weight / 1000:15.1f}")
    for name in PAGES:
        took, weight = p95(person, f"/{SLUG}/{name}/", times)
        ratio = f"{took / lightest:.1f} ×"
        print(f"{name:12} {took:8.0f} {ratio:>10} {weight / 1000:15.1f}")


def p95(person, path, times):
    took = []
    for _ in range(times + 1):
        begun = time.perf_counter()
        body = person.get(path)
        took.append(time.perf_counter() - begun)
    # The first warms it up.
    return 1000 * np.quantile(took[1:], 0.95), len(body)


def crowd(base, password, seconds):
    """Readers and writers at once: how many of each, and what went wrong."""
    until = time.monotonic() + seconds
    someone = Person(base, password)
    with concurrent.futures.ThreadPoolExecutor(READERS + WRITERS) as pool:
        reading = [pool.submit(read, someone, n, until) for n in range(READERS)]
        writing = [pool.submit(write, someone, until) for _ in range(WRITERS)]
        for name, jobs in (("reads", reading), ("writes", writing)):
            done, wrong = np.sum([job.result() for job in jobs], axis=0)
            print(f"{name}: {done / seconds:.0f} a second, {wrong} went wrong")


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
