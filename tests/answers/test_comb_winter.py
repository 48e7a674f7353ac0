"""Fit days of winters that tests write are counted as on fingers; the demo's, too."""

import datetime
import json
import random
from pathlib import Path

import jsonschema
import pytest

from sheafwright.answers.comb_winter import WinterQuestion, comb_winter
from sheafwright.core.errors import NotEnoughWeather, OutOfRange
from sheafwright.feeds.holding import demo_holding
from sheafwright.feeds.telling import Reader, again, read_by
from told import loose

SCHEMA = json.loads(
    (Path(__file__).parent / "schemas" / "comb_winter.json").read_text("utf-8")
)
D = datetime.date
OCTOBER = D(2020, 10, 1)
KG = 9 * 10_000.0
"""Nine days' work at ten tonnes a day."""


@pytest.fixture
def record(tmp_path):
    """Write a record of 2000 to 2020 from what each day was: (humidity, rain, tmax)."""

    def written(of_day):
        luck = random.Random(7)
        lines = ["date,tmin_c,tmax_c,rain_mm,humidity_share"]
        day = D(2000, 1, 1)
        while day <= D(2020, 12, 31):
            humidity, rain, tmax = of_day(day)
            # No instrument reads the same day after day: such would be refused.
            rain += luck.choice((0, 0, 0.2, 1.4))
            humidity, tmax = humidity + luck.uniform(0, 0.02), tmax + luck.uniform(0, 2)
            lines.append(f"{day},{tmax - 4:.1f},{tmax:.1f},{rain:.1f},{humidity:.3f}")
            day += datetime.timedelta(1)
        path = tmp_path / "record.csv"
        path.write_text("\n".join(lines))
        return path

    return written


def asked(weather, **said):
    usual = {"latitude": 52.0, "altitude": 50.0, "as_of": OCTOBER, "kg": KG}
    return comb_winter(
        WinterQuestion(weather, **usual | {"own_days": (10_000.0,) * 4} | said)
    )


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


def fair(_day):
    return 0.8, 0.0, 8.0


def test_a_fair_winter_is_worked_five_days_in_seven(record):
    answer = asked(record(fair))
    assert [week.fit for week in answer.weeks] == [(5, 5, 5)] * 26
    # Nine days of work at five sevenths of a day each: done on the thirteenth.
    assert answer.done == (D(2020, 10, 13),) * 3
    assert valid(answer)["chance_done"] == 1


@pytest.mark.parametrize(
    ("spoiler", "weather"),
    [
        ("damp", (0.98, 0.0, 8.0)),
        ("dry", (0.4, 0.0, 8.0)),
        ("rain", (0.8, 5.0, 8.0)),
        ("frost", (0.8, 0.0, -4.0)),
    ],
)
def test_every_other_week_spoiled_is_told_by_what_spoils_it(record, spoiler, weather):
    def of_day(day):
        return weather if day.day <= 15 else fair(day)

    answer = asked(record(of_day))
    shares = answer.spoiled
    assert max(shares, key=shares.get) == spoiler
    assert shares[spoiler] == pytest.approx(0.49, abs=0.02)
    assert answer.done[1] > D(2020, 10, 16)
    assert f"{shares[spoiler]:.0%} of all days" in valid(answer)["sentence"]


def test_winters_that_differ_make_a_band(record):
    def of_day(day):
        # Every other winter is damp until New Year.
        damp = day.year % 2 == 0 and day.month > 9
        return (0.98, 0.0, 8.0) if damp else fair(day)

    answer = asked(record(of_day))
    early, _likely, late = answer.done
    assert early == D(2020, 10, 13)
    assert late == D(2021, 1, 13)
    assert answer.winters == 20


def test_a_winter_never_fit_is_never_done(record):
    answer = asked(record(lambda _day: (0.97, 0.0, 8.0)))
    said = valid(answer)
    assert said["done_p50"] is None
    assert said["chance_done"] == 0
    assert "not likely done by 31 March" in said["sentence"]


def test_in_winter_only_what_is_left_of_it_counts(record):
    answer = asked(record(fair), as_of=D(2020, 2, 1))
    assert (answer.begins, answer.ends) == (D(2020, 2, 1), D(2020, 3, 31))
    assert answer.done[1] == D(2020, 2, 13)


def test_nothing_after_the_day_is_looked_at(record):
    def of_day(day):
        return (0.97, 0.0, 8.0) if day >= OCTOBER else fair(day)

    assert asked(record(of_day)).done[1] == D(2020, 10, 13)


def test_two_days_of_ones_own_are_too_few_for_a_rate(record):
    answer = asked(record(fair), own_days=(10_000.0,) * 2)
    assert answer.own_days == 0
    # Two to four tonnes of reed, from sheaves of which 45% is reed.
    few, _likely, many = answer.needed
    assert KG * 0.45 / 4000 <= few < many <= KG * 0.45 / 2000


def test_a_record_too_short_for_odds_is_refused(record, tmp_path):
    lines = record(fair).read_text().splitlines()
    path = tmp_path / "short.csv"
    path.write_text("\n".join([lines[0], *lines[-700:]]))
    with pytest.raises(NotEnoughWeather, match=r"winters .*should come of at least"):
        asked(path)


def test_a_record_that_says_not_where_it_is_needs_a_latitude(record):
    with pytest.raises(OutOfRange, match="latitude should be given"):
        asked(record(fair), latitude=None)


@pytest.mark.parametrize("said", [{"kg": -1.0}, {"own_days": (float("nan"),) * 3}])
def test_a_mass_that_cannot_be_is_refused(record, said):
    with pytest.raises(OutOfRange, match="it should be from 0 kg"):
        asked(record(fair), **said)


def test_the_demo_s_winter_is_told_in_other_words_and_units():
    demo = demo_holding()
    answer = comb_winter(
        WinterQuestion(
            demo.weather,
            demo.columns,
            demo.latitude,
            demo.altitude,
            D(2024, 11, 20),
            KG,
        )
    )
    assert valid(answer)["winters"] >= 25
    told = [answer.sentence, *(step.says for step in answer.working)]
    assert not list(loose(told, {demo.name}))
    with read_by(Reader("imperial")):
        assert " kg" not in again(answer.sentence)
