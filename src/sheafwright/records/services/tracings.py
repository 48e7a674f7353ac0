"""Stems traced on photographs: measured, looked at, then accepted or thrown away.

Photographs are measured while whoever sent them waits, a second each: they stand at the
board, and a poor photograph is told of while it can still be taken again.
"""

import contextlib
import dataclasses
import datetime
import threading
import uuid

from django.core.files.storage import default_storage
from django.utils import timezone
from django.utils.translation import gettext as _

from sheafwright.answers.straw import Refused, Seen, Straw
from sheafwright.core.errors import SheafwrightError
from sheafwright.feeds.stems import plain_rows
from sheafwright.feeds.telling import capital, packed, refusal, say
from sheafwright.measure.drawn import small, traced
from sheafwright.measure.photo import plain_jpeg
from sheafwright.measure.straw import (
    check_can_measure,
    measure_straw,
    printed_board,
)
from sheafwright.records.errors import SaidOtherwise
from sheafwright.records.files import kept
from sheafwright.records.models import Photograph, StemSample, Tracing
from sheafwright.records.services.checks import not_ahead, refuse
from sheafwright.records.services.entry import entry_write, writing
from sheafwright.records.services.grading import of_straw

MOST_PHOTOS = 4
"""In one tracing."""
MOST_OF_A_NAME = 60
"""Letters of a file's name that are told."""
KEPT_DAYS = 7
"""A tracing that nobody accepted is thrown away after so long."""
_one_at_a_time = threading.Lock()
"""A large photograph takes hundreds of megabytes while it is measured."""


@dataclasses.dataclass(frozen=True)
class Shot:
    """A photograph as it is kept."""

    number: int
    whole: bytes
    small: bytes
    lines: dict


def tracing_measure(
    *, id, holding, lot, date, photos, names=(), sheets=None, bar_mm=None, **said
):
    """Measure the stems in photographs, and keep both as a draft.

    Parameters
    ----------
    photos : list of bytes
    names : list of str, optional
        What their files are called, so that each that is refused is told apart.
    sheets, bar_mm
        As `measure.straw.measure_straw`.

    Returns
    -------
    Tracing
    """
    of_straw(lot)
    not_ahead(holding, date)
    if already := _written(id, holding, lot):
        return already
    board = _board(sheets, bar_mm)
    called = [_called(*each) for each in enumerate(names or [""] * len(photos), 1)]
    answer, shots = _measured(
        dict(zip(called, photos, strict=True)), board, sheets, bar_mm
    )
    about = {"lot": lot, "date": date, "sheets": sheets, "bar_mm": bar_mm, **said}
    return _kept(id, holding, _said(answer, shots), shots, about)


def _written(id, holding, lot):
    """The tracing of this id, if it was sent before."""
    found = Tracing.objects.filter(pk=id).first()
    if found and (found.holding_id, found.lot_id) != (holding.pk, lot.pk):
        raise SaidOtherwise(
            "These photographs were already sent, of another lot; send them anew."
        )
    return found


def _board(sheets, bar_mm):
    """The printed board; what is odd about it is said of its own field."""
    for name, known in (("sheets", (sheets, None)), ("bar_mm", (sheets, bar_mm))):
        try:
            board = printed_board(*known)
        except SheafwrightError as error:
            refuse(name, refusal(error))
    return board


def _called(number, file):
    """As a photograph is told of: cameras of phones call every one alike."""
    if file:
        return say("photograph {n}, {file}", n=number, file=file[:MOST_OF_A_NAME])
    return say("photograph {n}", n=number)


def _measured(photos, board, sheets, bar_mm):
    """The `Straw` in photographs, and a `Shot` of each that could be measured."""
    _check_number(photos)
    seen, refused, shots = [], [], []
    for number, (name, content) in enumerate(photos.items(), 1):
        try:
            with _one_at_a_time:
                measured = measure_straw(content, sheets, bar_mm)
                shots.append(_shot(number, measured, board))
        except SheafwrightError as error:
            refused.append(Refused(name, refusal(error)))
            continue
        # The picture itself is no longer wanted, and large.
        seen.append(Seen(name, dataclasses.replace(measured, rgb=None)))
    if not seen:
        refuse("photos", refused[0].why if len(photos) == 1 else _reasons(refused))
    answer = Straw(tuple(seen), tuple(refused))
    if not answer.stems:
        refuse("photos", [answer.sentence, *_reasons(refused)])
    return answer, shots


def _reasons(refused):
    """Why each was refused, by its name."""
    return [
        _("%(photograph)s: %(why)s")
        % {"photograph": capital(each.name), "why": each.why}
        for each in refused
    ]


def _check_number(photos):
    try:
        check_can_measure()
    except SheafwrightError as error:
        refuse("photos", refusal(error))
    if not photos:
        refuse("photos", _("Take a photograph, or choose one that you took."))
    if len(photos) > MOST_PHOTOS:
        refuse(
            "photos",
            _("%(n)d photographs are too many at once; send %(most)d at most.")
            % {"n": len(photos), "most": MOST_PHOTOS},
        )


def _shot(number, measured, board):
    return Shot(
        number,
        plain_jpeg(measured.rgb),
        plain_jpeg(small(measured.rgb)[0]),
        traced(measured, board),
    )


def _said(answer, shots):
    """The answer's JSON, in which each stem says on which photograph it is."""
    said = answer.to_json()
    on = [shot.number for shot in shots for _line in shot.lines["stems"]]
    for stem, number in zip(said["stems"], on, strict=True):
        stem["on"] = number
    return packed(said)


def _kept(id, holding, said, shots, about):
    """Files first, so that no row names one that isn't there."""
    with contextlib.ExitStack() as stack:
        rows = [_files_kept(stack, id, holding, shot) for shot in shots]
        stack.enter_context(writing(holding))
        if already := _written(id, holding, about["lot"]):
            # Sent twice at once: the other was first.
            return already
        who = {"holding": holding, "made_by": about.pop("made_by")}
        tracing, _new = entry_write(Tracing, id=id, said=said, **who, **about)
        for row in rows:
            entry_write(Photograph, tracing=tracing, **who, **row)
    return tracing


def _files_kept(stack, id, holding, shot):
    photo = uuid.uuid5(id, str(shot.number))
    before = f"straw/{holding.pk}/{photo}"
    return {
        "id": photo,
        "number": shot.number,
        "whole": stack.enter_context(kept(f"{before}.jpg", shot.whole)),
        "small": stack.enter_context(kept(f"{before}-small.jpg", shot.small)),
        "lines": shot.lines,
    }


def tracing_accept(*, holding, made_by, tracing, stems):
    """Write the stems that an eye left standing into the book, as a sample of the lot.

    Parameters
    ----------
    stems : set of int
        Their numbers in the tracing.

    Returns
    -------
    StemSample
    """
    rows = [stem for stem in tracing.said["stems"] if stem["number"] in stems]
    if not rows:
        refuse("stems", _("Every stem is struck out; throw the photographs away."))
    measured = plain_rows(rows, say("The photographs"))
    sources = [{"photo": stem["on"], "stem": stem["number"]} for stem in rows]
    with writing(holding):
        if not Tracing.objects.filter(pk=tracing.pk).exists():
            refuse("stems", _("These photographs were thrown away; send them anew."))
        sample, _new = entry_write(
            StemSample,
            # One tracing is one sample, however often it is accepted.
            id=tracing.pk,
            holding=holding,
            made_by=made_by,
            lot=tracing.lot,
            date=tracing.date,
            bundle=tracing.bundle,
            note=tracing.note,
            tracing=tracing,
            stems=[row | on for row, on in zip(measured, sources, strict=True)],
        )
    return sample


def tracing_drop(*, holding, tracing):
    """Throw a draft away, with its photographs."""
    with writing(holding):
        if StemSample.objects.filter(tracing=tracing).exists():
            refuse("stems", _("These stems were accepted: they stay in the book."))
        photographs = Photograph.objects.filter(tracing=tracing)
        names = [file.name for each in photographs for file in (each.whole, each.small)]
        photographs.delete()
        Tracing.objects.filter(pk=tracing.pk).delete()
    # Rows first: what stops in between leaves a file too many, never one too few.
    for name in names:
        default_storage.delete(name)


def tracings_tidy(holding):
    """Throw away what was left for long."""
    since = timezone.now() - datetime.timedelta(days=KEPT_DAYS)
    old = Tracing.objects.filter(holding=holding, sample=None, made_at__lt=since)
    for tracing in old.only("pk"):
        tracing_drop(holding=holding, tracing=tracing)
