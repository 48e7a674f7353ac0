"""Kiln Ground at Marl Hollow, as the demo has it, and questions about it."""

import dataclasses
import datetime
import gzip

import pytest

from sheafwright.answers.outlook import outlook
from sheafwright.answers.question import Question
from sheafwright.feeds import decision
from sheafwright.feeds.holding import demo_holding

HOLDING = demo_holding()
KILN_GROUND = HOLDING.fields[0]
FEW_SUMMERS = 200
OF_A_GROWER = decision.settings


@pytest.fixture(scope="session")
def kiln_ground():
    """The question that the demo asks of its first field, of few summers."""
    return Question(
        weather=HOLDING.weather,
        columns=HOLDING.columns,
        sown=KILN_GROUND.sown,
        as_of=HOLDING.as_of,
        seen=KILN_GROUND.seen,
        summers=FEW_SUMMERS,
    )


@pytest.fixture(scope="module")
def few_lessons():
    """A tenth of the summers teach as well what tests of one answer ask."""
    full = decision.settings()
    futures = dataclasses.replace(full.futures, training_summers=FEW_SUMMERS)
    few = dataclasses.replace(full, futures=futures)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(decision, "settings", lambda: few)
        yield


@pytest.fixture
def all_lessons(monkeypatch):
    """As many summers as a grower's answer is learned from, in spite of those."""
    monkeypatch.setattr(decision, "settings", OF_A_GROWER)


@pytest.fixture(scope="module")
def look(kiln_ground, few_lessons):
    """The outlook of Kiln Ground, some of the question changed; each asked once."""
    given = {}

    def look(**changes):
        asked = repr(changes)
        if asked not in given:
            given[asked] = outlook(dataclasses.replace(kiln_ground, **changes))
        return given[asked]

    return look


@pytest.fixture(scope="session")
def lines():
    """Every line of the demo's weather record, its heading first."""
    with gzip.open(HOLDING.weather, "rt") as file:
        return file.read().splitlines()


@pytest.fixture(scope="session")
def forecast_file(tmp_path_factory):
    """A forecast file whose members all say the same rain on each day."""
    folder = tmp_path_factory.mktemp("forecasts")

    def write(first, rain_mm):
        path = folder / f"{first}-{'-'.join(map(str, rain_mm))}.csv"
        rows = [
            f"{first + datetime.timedelta(day)},{member},{rain}"
            for member in range(5)
            for day, rain in enumerate(rain_mm)
        ]
        path.write_text("\n".join(["date,member,rain_mm", *rows]))
        return path

    return write
