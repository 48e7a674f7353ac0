"""How any entry is written: in its turn, once, and about this holding's own things."""

import contextlib
import contextvars
import uuid

from django.db import connection, models, transaction

from sheafwright.accounts.models import Holding
from sheafwright.records.errors import NotOurs, SaidOtherwise
from sheafwright.records.line import in_line

_turn = contextvars.ContextVar("the holding that is being written in", default=None)


@contextlib.contextmanager
def writing(holding):
    """A short transaction in which this holding has one writer.

    Inside another of the same holding it is part of that one.
    """
    if is_being_written(holding):
        yield
        return
    with in_line(), transaction.atomic():
        if connection.features.has_select_for_update:
            Holding.objects.select_for_update().get(pk=holding.pk)
        before = _turn.set(holding.pk)
        try:
            yield
            Holding.objects.filter(pk=holding.pk).update(last_write=uuid.uuid4())
        finally:
            _turn.reset(before)


def is_being_written(holding):
    """Whether this is inside a `writing` of the holding."""
    return _turn.get() == holding.pk


def entry_write(kind, /, *, id, holding, made_by, **said):
    """Write an entry, or find it if it was written before; call it inside `writing`.

    Returns the entry, and whether it is new.
    """
    if not is_being_written(holding):
        raise RuntimeError("Only inside `writing` is an entry written in its turn.")
    written = kind.objects.filter(pk=id).first()
    entry = kind(id=id, holding=holding, made_by=made_by, **said)
    if written is None:
        entry_check(entry)
        entry.save(force_insert=True)
        return entry, True
    if written.holding_id != holding.pk or any(
        _value(written, name) != _value(entry, name) for name in said
    ):
        raise SaidOtherwise(
            f"This {kind._meta.verbose_name} was already written, and said otherwise; "
            "a change is a new entry."
        )
    return written, False


def entry_add(kind, /, *, holding, **said):
    """Write an entry that nothing else hangs on, in a turn of its own."""
    with writing(holding):
        entry, _ = entry_write(kind, holding=holding, **said)
    return entry


def _value(entry, name):
    field = entry._meta.get_field(name)
    return field.to_python(getattr(entry, field.attname))


def entry_check(entry):
    """As `full_clean`, of our own things; what is at hand is not looked up again."""
    _only_ours(entry)
    at_hand = {
        field.name
        for field in entry._meta.fields
        if isinstance(field, models.ForeignKey) and getattr(entry, field.name)
    }
    entry.clean_fields(exclude=at_hand)
    entry.clean()
    entry.validate_unique(exclude={"id"})
    entry.validate_constraints()


def _only_ours(entry):
    for field in entry._meta.fields:
        if isinstance(field, models.ForeignKey) and field.name != "made_by":
            about = getattr(entry, field.name)
            theirs = getattr(about, "holding_id", entry.holding_id)
            if about is not None and theirs != entry.holding_id:
                raise NotOurs(f"There is no such {field.verbose_name} on this holding.")
