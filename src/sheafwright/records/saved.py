"""Answers kept for the pages: which are due, how each is asked, and what it said.

Pages never work anything out: they show the last answer kept, with its time. What an
answer rests on is hashed; nothing is worked out twice from the same.
"""

import dataclasses
import hashlib
import json
import tempfile
from collections.abc import Callable
from importlib import resources
from pathlib import Path

from django.db.models import Max

from sheafwright import __version__
from sheafwright.core.errors import SheafwrightError
from sheafwright.records.clock import day_of, today
from sheafwright.records.models import (
    GaugeReading,
    SavedAnswer,
    Sowing,
    WeatherSource,
)
from sheafwright.records.selectors.crop import seen_stages
from sheafwright.records.selectors.in_hand import stooks_in_hand

SEED = 1


@dataclasses.dataclass(frozen=True)
class Due:
    """An answer to work out."""

    question: str
    subject: object
    """A sowing or a stook set."""
    asks: dict
    """What it rests on, as JSON."""
    answer: Callable
    """From the folder for its files to the answer, and its chart."""

    def inputs_sha256(self):
        said = json.dumps(self.asks, sort_keys=True, default=str)
        return hashlib.sha256(said.encode()).hexdigest()


def fill_due(holding):
    """Work out and keep every answer that is due on a holding."""
    for due in due_answers(holding):
        _fill(holding, due)


def _fill(holding, due):
    hashed = due.inputs_sha256()
    same = {"question": due.question, "subject": due.subject.pk}
    if SavedAnswer.objects.filter(**same, inputs_sha256=hashed).exists():
        return
    said, chart = _work_out(due)
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
        },
    )


def saved(*, question, about, with_charts=False):
    """Id of each of these sowings or stook sets to the last answer kept for it."""
    kept = SavedAnswer.objects.filter(
        holding__in={each.holding_id for each in about},
        question=question,
        subject__in=[each.pk for each in about],
    )
    # A season leaves hundreds, each long: only their days are read to find the last.
    last = dict(kept.values_list("subject").annotate(Max("made_at")))
    answers = kept.filter(made_at__in=last.values())
    answers = answers if with_charts else answers.defer("chart")
    return {a.subject: a for a in answers if a.made_at == last[a.subject]}


def due_answers(holding):
    """Every answer that the holding's pages show."""
    source = WeatherSource.objects.filter(holding=holding).first()
    if source is None:
        return
    common = _common(holding, source)
    for sowing in standing(holding):
        yield _outlook(sowing, source, common)
    for stook_set in stooks_in_hand(holding=holding).prefetch_related("readings"):
        yield _stooks(stook_set, source, common)


def standing(holding):
    """Sowings of the season that now runs that aren't all cut."""
    day = today(holding)
    sown = Sowing.objects.filter(
        holding=holding, date__lte=day, harvest_year__gte=day.year
    )
    for sowing in sown.select_related("field").prefetch_related("cuts", "observations"):
        # A corner left uncut isn't a crop to decide on.
        if sum(cut.area_ha for cut in sowing.cuts.all()) < 0.95 * sowing.area_ha:
            yield sowing


def _work_out(due):
    with tempfile.TemporaryDirectory() as folder:
        try:
            answer, chart = due.answer(Path(folder))
        except SheafwrightError as error:
            return {"refused": str(error)}, ""
    # The files it was given are gone by now; their names alone say what they were.
    said = json.dumps(answer.to_json()).replace(f"{folder}/", "")
    return json.loads(said), chart


def _common(holding, source):
    files = (source.record, source.columns, source.forecast)
    return {
        "files": [_file_sha256(file) for file in files if file],
        "tables": tables_sha256(),
        "engine": __version__,
        "seed": SEED,
        "as_of": holding.looked_at_as_of,
        "latitude_deg": holding.latitude_deg,
        "altitude_m": holding.altitude_m,
        "gauge": list(
            GaugeReading.objects.filter(holding=holding).values_list(
                "date", "rain_mm", "tmin_c", "tmax_c"
            )
        ),
    }


def _file_sha256(file):
    with file.open("rb") as opened:
        return hashlib.file_digest(opened, "sha256").hexdigest()


def tables_sha256():
    """One hash of every table of parameters shipped."""
    folder = resources.files("sheafwright") / "data"
    tables = sorted(
        (each.name, each) for each in folder.iterdir() if each.name.endswith(".toml")
    )
    text = "".join(name + each.read_text("utf-8") for name, each in tables)
    return hashlib.sha256(text.encode()).hexdigest()


def _outlook(sowing, source, common):
    holding = sowing.holding
    seen = seen_stages(sowing.observations.all())
    signs = {
        kind: (level, o.date)
        for o in sowing.observations.all()
        for kind, level in o.signs.items()
    }
    past = list(_past_dates(holding, sowing.harvest_year))
    asks = common | {
        "sown": sowing.date,
        "class": sowing.variety_class,
        "area_ha": sowing.area_ha,
        "seen": seen,
        "signs": signs,
        "past": past,
    }

    def answer(folder):
        from sheafwright.answers.outlook import outlook
        from sheafwright.answers.question import Question
        from sheafwright.charts.save import svg
        from sheafwright.charts.season import season_chart

        said = outlook(
            Question(
                **_files(holding, source, common["gauge"], folder),
                sown=sowing.date,
                variety_class=sowing.variety_class or None,
                area=sowing.area_ha,
                seen=seen,
                signs=_fresh(signs, today(holding)),
                own_seasons=_csv(
                    folder / "Your own past dates", ("sown", "flowered", "cut"), past
                ),
                seed=SEED,
            )
        )
        return said, svg(season_chart([said], titled=False))

    return Due("outlook", sowing, asks, answer)


def _stooks(stook_set, source, common):
    holding = stook_set.holding
    readings = [
        (day_of(holding, r.at), _share(r.grain_pct), _share(r.straw_pct))
        for r in stook_set.readings.all()
    ]
    asks = common | {"cut": stook_set.cut.date, "readings": readings}

    def answer(folder):
        from sheafwright.answers.stooks import Reading, StooksQuestion, stooks
        from sheafwright.charts.save import svg
        from sheafwright.charts.stooks import stooks_chart

        said = stooks(
            StooksQuestion(
                **_files(holding, source, common["gauge"], folder),
                cut=stook_set.cut.date,
                field=stook_set.cut.sowing.field.name,
                readings=tuple(Reading(*reading) for reading in readings),
                seed=SEED,
            )
        )
        return said, svg(stooks_chart(said, titled=False))

    return Due("stooks", stook_set, asks, answer)


def _share(percent):
    return None if percent is None else percent / 100


def _files(holding, source, gauge, folder):
    from sheafwright.feeds.forecast.read import read

    return {
        "weather": source.record.path,
        "columns": source.columns.path if source.columns else None,
        "forecast": read(source.forecast.path) if source.forecast else None,
        "latitude": holding.latitude_deg,
        "altitude": holding.altitude_m,
        "as_of": holding.looked_at_as_of,
        "own_readings": _csv(
            folder / "Your own gauge and thermometer",
            ("date", "rain_mm", "tmin_c", "tmax_c"),
            gauge,
        ),
    }


def _csv(path, heading, rows):
    """The path of a file of the rows that the engine reads; None without any."""
    if not rows:
        return None
    lines = [heading, *(("" if x is None else str(x) for x in row) for row in rows)]
    path.write_text("\n".join(",".join(line) for line in lines) + "\n", "utf-8")
    return str(path)


def _past_dates(holding, before):
    """Sown, flowered and cut of the holding's earlier crops."""
    sown = Sowing.objects.filter(holding=holding, harvest_year__lt=before)
    for sowing in sown.order_by("date").prefetch_related("cuts", "observations"):
        flowered = next(
            (o.date for o in sowing.observations.all() if o.stage == "flowering"), None
        )
        cuts = [cut.date for cut in sowing.cuts.all()]
        if flowered or cuts:
            yield sowing.date, flowered, min(cuts, default=None)


def _fresh(signs, as_of):
    """Signs seen on the day itself: the engine takes no older ones."""
    return {kind: level for kind, (level, seen) in signs.items() if seen == as_of}
