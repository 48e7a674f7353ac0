"""How long a budget takes, and a what-if on the page: it should be under 200 ms.

The engine's own time for a budget with its sentence, for more fields and more draws,
and with what it hangs on shared out; then a what-if as its sender sees it, on a demo.
"""

import gzip
import html
import re
import subprocess
import sys
import tempfile
import time

import numpy as np
from pages import BASE, HERE, PORT, SLUG, Person, make, wait_for
from parts.timing import median_time, milliseconds, print_table, times_as_long

from sheafwright.answers.budget import BudgetQuestion, budget
from sheafwright.feeds.budget import terms_of

PAGE = f"/{SLUG}/money/"
WANTED_MS = 200
ZIPPED = b"\x1f\x8b"
CASES = {
    "one field, 2,000 draws": (1, 2000, False),
    "40 fields, 2,000 draws": (40, 2000, False),
    "one field, 20,000 draws": (1, 20_000, False),
    "one field, and Sobol's shares": (1, 2000, True),
}


def main(short):
    """Print the tables; ``short`` for a few runs and a small demo."""
    engine(3 if short else 30)
    seasons, fields, times = (2, 2, 3) if short else (20, 40, 40)
    with tempfile.TemporaryDirectory() as folder:
        password = make(folder, seasons, fields)
        options = ["--holding", folder, "--port", str(PORT), "--no-browser"]
        command = [HERE / "sheafwright", "serve", *options]
        with subprocess.Popen(command, stdout=subprocess.DEVNULL) as server:
            try:
                wait_for(BASE)
                page(Person(BASE, password), times)
            finally:
                server.terminate()


def engine(times):
    """Medians of the engine's own time."""
    took = {name: _asked(*case, times) for name, case in CASES.items()}
    first = next(iter(took.values()))
    rows = [
        (name, milliseconds(each), times_as_long(each, first))
        for name, each in took.items()
    ]
    print_table("A budget", ("", "ms", "as long"), rows)


def _asked(n_fields, draws, closely, times):
    terms = terms_of({f"Field {n}": 1.5 for n in range(n_fields)})

    def work():
        answer = budget(BudgetQuestion(terms, 2027, draws=draws))
        assert answer.sentence
        assert not closely or answer.shares.alone.any()

    work()  # Imports what it needs.
    return median_time(work, times).wall


def page(person, times):
    """95th percentiles of the page, and of a what-if sent from it."""
    form = _form(person)
    asked = {
        "(the lightest page)": lambda n: person.get("/csrf/"),
        "Money": lambda n: person.get(PAGE),
        "Money, what if": lambda n: person.post(PAGE, **form | _changed(n)),
    }
    took = {name: _timed(work, times) for name, work in asked.items()}
    lightest, *_, what_if = took.values()
    rows = [
        (name, milliseconds(each), times_as_long(each, lightest))
        for name, each in took.items()
    ]
    print_table("The page, p95", ("", "ms", "as long"), rows)
    kept = "kept" if 1000 * what_if < WANTED_MS else "not kept"
    print(f"A what-if under {WANTED_MS} ms: {kept}.")


def _form(person):
    sent = person.get(PAGE)
    text = (gzip.decompress(sent) if sent[:2] == ZIPPED else sent).decode()
    inputs = re.findall(r"<input[^>]*>", text)
    shown = [each for each in inputs if 'type="hidden"' not in each]
    return {
        re.search(r'name="(\w+)"', each)[1]: html.unescape(
            re.search(r'value="([^"]*)"', each)[1]
        )
        for each in shown
    }


def _changed(n):
    """Another price of reed each time."""
    return {"reed_price": str(700 + n)}


def _timed(work, times):
    work(0)  # Warms it up.
    took = []
    for n in range(times):
        begun = time.perf_counter()
        work(n)
        took.append(time.perf_counter() - begun)
    return float(np.quantile(took, 0.95))


if __name__ == "__main__":
    main("--short" in sys.argv)
