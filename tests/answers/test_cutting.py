"""Cut or wait: the advice, its doubts, and proof that it looks at nothing to come."""

import dataclasses
import datetime
import functools
import json
from pathlib import Path

import jsonschema
import pytest

from sheafwright.answers.cutting import cut
from sheafwright.answers.outlook import outlook
from sheafwright.answers.question import Question
from sheafwright.core.decide.otherwise import losses_times
from sheafwright.feeds import decision

pytestmark = pytest.mark.usefixtures("few_lessons")
SCHEMA = json.loads((Path(__file__).parent / "schemas/cut.json").read_text("utf-8"))
DUBLIN = Path(__file__).parents[2] / "../shared/data/weather/dly532.csv"
HARVEST = [datetime.date(2025, 7, 14) + datetime.timedelta(3 * n) for n in range(22)]


def said(answer):
    return json.dumps(answer.to_json(), allow_nan=False)


def on(question, date, **changes):
    seen = {stage: day for stage, day in question.seen.items() if day <= date}
    return dataclasses.replace(question, as_of=date, seen=seen, **changes)


@pytest.fixture(scope="module")
def asked(kiln_ground, few_lessons):
    """The answer on a day of the harvest; each worked out once."""
    return functools.cache(lambda date: cut(on(kiln_ground, date)))


@pytest.fixture(scope="module", params=[0, pytest.param(1, marks=pytest.mark.prove)])
def answers(asked, request):
    """The answers on every sixth day of a harvest; the days between for the proof."""
    return {date: asked(date) for date in HARVEST[request.param :: 2]}


def test_the_answer_follows_its_schema(answers):
    for answer in answers.values():
        jsonschema.Draft202012Validator(SCHEMA).validate(json.loads(said(answer)))


def test_a_harvest_goes_from_not_fit_to_too_late(answers):
    actions = [answer.advice.action for answer in answers.values()]
    assert actions[0] == "not_fit"
    assert actions[-1] == "too_late"
    assert {"cut", "wait"} <= set(actions)


def test_cutting_is_advised_where_waiting_is_worth_no_more(answers):
    for answer in answers.values():
        advice = answer.advice
        if advice.action == "cut":
            assert advice.worth_now >= advice.worth_waiting
        if advice.action == "wait":
            assert advice.worth_now < advice.worth_waiting


def test_a_wet_day_is_not_fit_and_says_so(answers):
    wet = [each for each in answers.values() if "mm of rain" in each.sentence]
    assert wet
    assert {each.advice.action for each in wet} == {"not_fit"}
    assert all(each.season.rain_today >= 0.5 for each in wet)


def test_a_green_crop_says_when_soft_dough_comes(asked):
    first = asked(HARVEST[0])
    assert "too green. Soft dough, when a binder may begin, should come about" in (
        first.sentence
    )


def test_ripeness_grows_through_the_harvest(answers):
    ripe = [answer.to_json()["ripeness"]["p50"] for answer in answers.values()]
    assert ripe == sorted(ripe)


def written(losses, path):
    """A table of losses as a grower would write it."""
    lines = []
    for section in ("ripeness", "stook", "drying"):
        rows = dataclasses.asdict(getattr(losses, section)).items()
        lines.append(f"[{section}]")
        lines += [f"{n} = {list(v) if isinstance(v, tuple) else v}" for n, v in rows]
    path.write_text("\n".join(lines))
    return str(path)


def test_the_doubt_is_what_a_doubled_table_really_advises(asked, kiln_ground, tmp_path):
    doubled = written(losses_times(decision.losses(), 2.0), tmp_path / "doubled.toml")
    for date in HARVEST[6:12:2]:
        really = cut(on(kiln_ground, date, losses=doubled)).advice.action
        same = really == asked(date).advice.action
        assert asked(date).advice.holds["losses_double"] == same


def test_rain_that_costs_nothing_leaves_more(kiln_ground, asked, tmp_path):
    losses = decision.losses()
    stook = dataclasses.replace(losses.stook, rain_loss_share=(0.0,) * 4)
    free = dataclasses.replace(losses, stook=stook)
    path = written(free, tmp_path / "free.toml")
    date = HARVEST[8]
    answer = cut(on(kiln_ground, date, losses=path))
    assert answer.advice.worth_now > asked(date).advice.worth_now
    assert path in {step.source for step in answer.working}


def test_the_advice_is_that_of_the_outlook(asked, kiln_ground):
    for date in HARVEST[4::8]:
        whole = outlook(on(kiln_ground, date)).to_json()
        assert whole["advice"] == asked(date).to_json()["advice"]


CHANGED = {
    "tmin_c": lambda value: value - 4,
    "tmax_c": lambda value: value + 4,
    "rain_mm": lambda value: (value + 7) % 23,
    "sunshine_h": lambda value: 8 - value / 3,
    "wind_m_s": lambda value: value + 3,
    "pressure_hpa": lambda value: value - 11,
}


def changed_after(lines, date, names):
    """The record with every day after a date changed, in some of its variables."""
    heading = lines[0].split(",")
    yield lines[0]
    for line in lines[1:]:
        cells = line.split(",")
        if cells[0] > str(date):
            for name in names:
                at = heading.index(name)
                cells[at] = f"{CHANGED[name](float(cells[at])):.1f}"
        yield ",".join(cells)


@pytest.fixture
def with_changed_days(kiln_ground, lines, tmp_path):
    def with_changed_days(date, names):
        path = tmp_path / "weather.csv"
        path.write_text("\n".join(changed_after(lines, date, names)))
        return on(kiln_ground, date, weather=str(path))

    return with_changed_days


def test_every_variable_of_the_record_can_be_changed(lines):
    assert lines[0].split(",")[1:] == list(CHANGED)


BETWEEN = [pytest.param(date, marks=pytest.mark.prove) for date in HARVEST[1::2]]


@pytest.mark.parametrize("date", HARVEST[::2] + BETWEEN, ids=str)
def test_no_later_day_changes_what_to_do(asked, with_changed_days, date):
    question = with_changed_days(date, CHANGED)
    assert said(cut(question)) == said(asked(date))


@pytest.mark.parametrize("name", CHANGED)
def test_no_later_day_of_any_variable_changes_the_outlook(
    kiln_ground, with_changed_days, name
):
    date = HARVEST[8 + 2 * list(CHANGED).index(name)]
    question = with_changed_days(date, [name])
    assert said(outlook(question)) == said(outlook(on(kiln_ground, date)))


def test_a_record_cut_short_says_the_same(asked, kiln_ground, lines, tmp_path):
    date = HARVEST[8]
    path = tmp_path / "weather.csv"
    path.write_text(
        "\n".join(line for line in lines if line[:10] <= f"{date}" or line[0] == "d")
    )
    assert said(cut(on(kiln_ground, date, weather=str(path)))) == said(asked(date))


@pytest.fixture(scope="module")
def outlooks(kiln_ground):
    """What the outlook says on each of those days."""
    return {date: said(outlook(on(kiln_ground, date))) for date in HARVEST}


@pytest.mark.prove
@pytest.mark.parametrize("date", HARVEST, ids=str)
@pytest.mark.parametrize("name", CHANGED)
def test_no_later_day_of_any_variable_changes_any_answer(
    asked, outlooks, with_changed_days, name, date
):
    question = with_changed_days(date, [name])
    assert said(cut(question)) == said(asked(date))
    assert said(outlook(question)) == outlooks[date]


FIRST_OF_DUBLIN = datetime.date(2018, 6, 25)
DUBLIN_SUMMER = [FIRST_OF_DUBLIN + datetime.timedelta(2 * n) for n in range(20)]


def dublin_changed_after(date, path):
    """The Irish record with every number of every later day changed."""
    heading, *rows = DUBLIN.read_text("utf-8").splitlines()
    first = next(n for n, row in enumerate(rows) if row[:9] == f"{date:%d-%b-%y}")
    for n, row in enumerate(rows[first + 1 :], first + 1):
        day, warmest, coldest, *others = row.split(",")
        others = [f"{(float(x) + 3) % 1040:g}" if x.strip() else x for x in others]
        warm, cold = float(warmest) + 4, float(coldest) - 4
        rows[n] = ",".join([day, f"{warm:.1f}", f"{cold:.1f}", *others])
    path.write_text("\n".join([heading, *rows]))
    return str(path)


@pytest.mark.prove
@pytest.mark.skipif(not DUBLIN.exists(), reason="needs ../shared/data/weather")
@pytest.mark.parametrize("date", DUBLIN_SUMMER, ids=str)
def test_no_later_day_in_dublin_changes_any_answer(all_lessons, date, tmp_path):
    sown = datetime.date(2017, 10, 10)
    question = Question(str(DUBLIN), sown, latitude=53.43, as_of=date, summers=200)
    changed = dublin_changed_after(date, tmp_path / DUBLIN.name)
    for answer in (cut, outlook):
        later = answer(dataclasses.replace(question, weather=changed))
        assert said(later) == said(answer(question))
