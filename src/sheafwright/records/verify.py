"""Proof of the material book: that it balances, is whole, and was never changed.

Each check tells what is wrong, a sentence a fault. Nothing is written, and what is
checked is the book of one moment, however much is being written meanwhile.
"""

import contextlib
import dataclasses
import datetime
import re
from itertools import groupby

from django.db import DatabaseError, connection
from django.db.models import Sum
from django.db.models.functions import Coalesce

from sheafwright.accounts.models import Holding
from sheafwright.records.models import Line, Movement, Place
from sheafwright.records.models.material import SOURCES
from sheafwright.records.seal import seal
from sheafwright.records.selectors.places import SUBJECTS, subjects_of
from sheafwright.records.triggers import CORRECTIONS, POSTGRESQL, SQLITE

UNREADABLE = (
    ArithmeticError,
    AttributeError,
    DatabaseError,
    LookupError,
    TypeError,
    ValueError,
)
"""What reading a damaged book can raise: a day that is none is read as None."""
SNAPSHOT = {
    "sqlite": "BEGIN",
    "postgresql": "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY",
}
AT_ONCE = 500
"""Movements read together."""


@dataclasses.dataclass(frozen=True)
class Verified:
    """How much was checked, and what is wrong."""

    holdings: int
    movements: int
    lines: int
    failures: tuple[str, ...]

    @property
    def is_sound(self):
        return not self.failures

    @property
    def sentence(self):
        books = "1 book" if self.holdings == 1 else f"{self.holdings:,} books"
        checked = (
            f"{self.movements:,} movements with {self.lines:,} lines, in {books}, "
            "were checked"
        )
        if self.is_sound:
            return f"The book is sound: {checked}."
        return f"The book is not as it was written: {checked}, and do not agree."

    def to_json(self):
        return {"sound": self.is_sound} | dataclasses.asdict(self)


def verify():
    """Check the whole book; see `Verified`."""
    try:
        with _one_moment():
            failures = [said for check in CHECKS for said in _told(check)]
            counts = map(_count, (Holding, Movement, Line))
            return Verified(*counts, failures=tuple(failures))
    except UNREADABLE as error:
        return Verified(0, 0, 0, (_unreadable(error),))


@contextlib.contextmanager
def _one_moment():
    if connection.in_atomic_block:
        yield
        return
    # Not `atomic`, which would keep writers waiting on SQLite.
    with connection.cursor() as cursor:
        cursor.execute(SNAPSHOT[connection.vendor])
        try:
            yield
        finally:
            cursor.execute("ROLLBACK")


def _told(check):
    try:
        yield from check()
    except UNREADABLE as error:
        yield _unreadable(error)


def _unreadable(error):
    says = "a value in it is of the wrong kind"
    if isinstance(error, DatabaseError | ValueError):
        says = " ".join(str(error).split()).rstrip(".")
    return f"The book cannot be read: {says}."


def _count(kind):
    try:
        return kind.objects.count()
    except UNREADABLE:
        return 0


def _file():
    """The database's own checks of its file."""
    if connection.vendor != "sqlite":
        return
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA integrity_check")
        yield from (
            f"The book's file is damaged: {said}."
            for (said,) in cursor.fetchall()
            if said != "ok"
        )
        cursor.execute("PRAGMA foreign_key_check")
        yield from (
            f"A row of {table} speaks of a row of {parent} that is not there."
            for table, _row, parent, _key in cursor.fetchall()
        )


def _rules():
    """The database still keeps the rules of the book."""
    kept = {"sqlite": _rules_of_sqlite, "postgresql": _rules_of_postgresql}
    wanted, found = kept[connection.vendor]()
    if wanted - found:
        yield "Rules of the book are missing or changed in the database."


def _rules_of_sqlite():
    with connection.cursor() as cursor:
        cursor.execute("SELECT sql FROM sqlite_master WHERE type = 'trigger'")
        found = {" ".join(sql.split()) for (sql,) in cursor.fetchall()}
    rules = SQLITE + CORRECTIONS["sqlite"]
    return {" ".join(rule.split()) for rule in rules}, found


def _rules_of_postgresql():
    rules = POSTGRESQL + CORRECTIONS["postgresql"]
    named = re.compile(r"CREATE TRIGGER (\w+)")
    wanted = {name for rule in rules for name in named.findall(rule)}
    with connection.cursor() as cursor:
        cursor.execute("SELECT tgname FROM pg_trigger WHERE tgenabled = 'O'")
        return wanted, {name for (name,) in cursor.fetchall()}


def _places():
    places = list(Place.objects.all())
    subjects = subjects_of(places)
    for place in places:
        subject = subjects[place.pk]
        if place.kind not in Place.Kind.values:
            yield f"Place {place.pk} is of a kind that is none: {place.kind}."
        elif place.kind not in SUBJECTS:
            if place.subject != place.holding_id:
                yield f"Place {place.pk} ({place}) is not its holding's own."
        elif subject is None or subject.holding_id != place.holding_id:
            yield f"Place {place.pk} ({place}) is of nothing on its holding."


def _balances():
    sums = Place.objects.annotate(total=Coalesce(Sum("lines__grams"), 0))
    for place in sums.select_related("balance"):
        may_owe = place.kind in SOURCES
        kept = getattr(place, "balance", None)
        if kept is None or kept.grams != place.total:
            yield (
                f"The balance of place {place.pk} ({place}) is not the sum of its "
                f"lines, {place.total / 1000:,.3f} kg."
            )
        elif kept.may_be_negative != may_owe or (kept.grams < 0 and not may_owe):
            yield f"Place {place.pk} ({place}) may hold less than nothing."


def _orphans():
    lost = Line.objects.exclude(movement__in=Movement.objects.all()).count()
    if lost:
        yield f"{lost:,} lines are of no movement."


def _chains():
    names = {holding.pk: holding.name for holding in Holding.objects.all()}
    movements = (
        Movement.objects.order_by("holding_id", "seq")
        .prefetch_related("lines")
        .iterator(chunk_size=AT_ONCE)
    )
    for holding, chain in groupby(movements, key=lambda each: each.holding_id):
        book = f"of {names.get(holding, holding)}"
        yield from (f"Movement {said}." for said in _chain(chain, book))


def _chain(movements, book):
    """What is wrong with one holding's movements, from the first."""
    before = ""
    for number, movement in enumerate(movements, 1):
        which = f"{movement.seq} {book}"
        lines = movement.lines.all()
        if movement.seq != number:
            yield f"{number} {book} is missing; the next is {movement.seq}"
            return
        if movement.previous_seal != before:
            yield f"{which} is not tied to the one before it"
        if movement.seal != seal(movement, lines):
            yield f"{which} does not say what it was sealed with"
        if movement.made_at != datetime.datetime.fromisoformat(movement.said_at):
            yield f"{which} was not written when it says"
        if len(lines) < 2 or sum(line.grams for line in lines):
            yield f"{which} does not balance"
        before = movement.seal


CHECKS = (_file, _rules, _places, _balances, _orphans, _chains)
