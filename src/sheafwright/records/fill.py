"""Answers worked out beside the pages: which are due, and how they are kept.

What an answer rests on is hashed; nothing is worked out twice from the same.
"""

import json
import tempfile
from pathlib import Path

from django.utils import timezone

from sheafwright import __version__
from sheafwright.core.errors import SheafwrightError
from sheafwright.feeds.telling import packed, refusal
from sheafwright.records.clock import today
from sheafwright.records.due import SEED, common_asks, crew
from sheafwright.records.due.comb_winter import comb_winter_due
from sheafwright.records.due.cropping import Depth, is_soon_told, plan_due, plan_told
from sheafwright.records.due.lodging import lodged, lodging_due
from sheafwright.records.due.outlook import outlook_due
from sheafwright.records.due.rain import rain_due
from sheafwright.records.due.replay import replay_due
from sheafwright.records.due.sowings import sowings_due
from sheafwright.records.due.stooks import stooks_due
from sheafwright.records.due.straw import straw_due
from sheafwright.records.due.turns import turns_due
from sheafwright.records.due.yields import weighed_by_year, yield_due
from sheafwright.records.models import SavedAnswer, WeatherSource
from sheafwright.records.reader import ENGLISH_AND_METRIC, every_reader
from sheafwright.records.saved import standing
from sheafwright.records.selectors.crew import crew_asked, turns_asked
from sheafwright.records.selectors.grown import crops_grown
from sheafwright.records.selectors.in_hand import stooks_in_hand
from sheafwright.records.selectors.plan import plan_asked
from sheafwright.records.services.entry import writing


def fill_due(holding):
    """Work out and keep every answer that is due on a holding."""
    for due in due_answers(holding):
        _fill(holding, due)


def fill_plan(holding):
    """Make the plan anew at once, if that can be done while somebody waits for it."""
    question = plan_asked(holding=holding).question
    if question and is_soon_told(holding, question):
        _fill(holding, plan_due(holding, question, Depth.PLAN))


def fill_crew(holding):
    """Plan the crew's half-days anew at once, if that can be done so soon."""
    asked = crew_asked(holding=holding)
    if asked.question and crew.is_soon_told(holding, asked.question):
        _fill(holding, crew.crew_due(holding, asked, crew.AT_ONCE))


def _fill(holding, due):
    hashed = due.inputs_sha256()
    same = {"question": due.question, "subject": due.subject.pk}
    kept = SavedAnswer.objects.filter(**same)
    if before := kept.filter(inputs_sha256=hashed).only("pk", "made_at").first():
        if not due.found_by_inputs:
            _holds_again(holding, before, kept)
        return
    said, chart, charts = _work_out(due)
    with writing(holding):
        SavedAnswer.objects.get_or_create(
            **same,
            inputs_sha256=hashed,
            defaults={
                "holding": holding,
                "day": today(holding),
                "tables_sha256": due.asks["tables"],
                "engine_version": __version__,
                "seed": SEED,
                "said": said,
                "chart": chart,
                "charts": charts,
            },
        )


def _holds_again(holding, before, kept):
    """Make an answer that was kept before the last again, if another came after it.

    What it rests on is once more as it was: a wrong file was put right.
    """
    if kept.filter(made_at__gt=before.made_at).exists():
        with writing(holding):
            kept.filter(pk=before.pk).update(made_at=timezone.now())


def due_answers(holding):
    """Every answer that the holding's pages show."""
    source = WeatherSource.objects.filter(holding=holding).first()
    if source is None:
        yield from _of_the_plan(holding)
        yield from _of_straw(holding)
        return
    common = common_asks(holding, source)
    yield from _of_what_grows(holding, source, common)
    yield from _of_the_plan(holding)
    # Nothing waits for these: they come after all that presses.
    yield from _of_straw(holding, source, common)
    yield comb_winter_due(source, common)
    if replay := replay_due(source, common):
        yield replay
    yield sowings_due(source, common)


def _of_what_grows(holding, source, common):
    sowings = list(standing(holding))
    for sowing in sowings:
        yield outlook_due(sowing, source, common)
    for stook_set in stooks_in_hand(holding=holding).prefetch_related("readings"):
        yield stooks_due(stook_set, source, common)
    # Asked for only now: they are told of the answers that have just been kept.
    if turns := turns_asked(holding=holding):
        yield turns_due(turns, source, common)
    if (asked := crew_asked(holding=holding)).question:
        yield crew.crew_due(holding, asked)
    yield rain_due(source, common)
    # Asked for only now: the rain that has just been kept tells of the ground.
    crops = crops_grown(holding=holding, sowings=sowings)
    lay, weighed = lodged(holding), weighed_by_year(holding)
    for crop in crops:
        yield lodging_due(crop, lay, source, common)
    for crop in crops:
        yield from yield_due(crop, weighed, common)


def _of_the_plan(holding):
    question = plan_asked(holding=holding).question
    if question is None:
        return
    yield plan_due(holding, question, Depth.PLAN)
    # Asked for only now: it is told of the plan that has just been kept.
    if plan_told(holding, question):
        yield plan_due(holding, question, Depth.COMPARED)


def _of_straw(holding, source=None, common=None):
    due = straw_due(holding, source, common)
    if due is not None:
        yield due


def _work_out(due):
    with tempfile.TemporaryDirectory() as folder:
        try:
            answer, draw = due.answer(Path(folder))
        except SheafwrightError as error:
            return packed({"refused": refusal(error)}), "", {}
    # The files it was given are gone by now; their names alone say what they were.
    said = json.dumps(packed(answer.to_json())).replace(f"{folder}/", "")
    return json.loads(said), *_drawn(draw)


def _drawn(draw):
    """The chart in English and metric, and by reader wherever it is another."""
    if draw is None:
        return "", {}
    from sheafwright.charts.save import svg

    by_reader = {reader: svg(draw()) for reader in every_reader()}
    chart = by_reader.pop(ENGLISH_AND_METRIC)
    return chart, {who: drawn for who, drawn in by_reader.items() if drawn != chart}
