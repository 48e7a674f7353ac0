"""Facts put right: a field's area, a certificate's dates, where seed came from.

The thing itself then says what is right; what it said before stays written beside it,
with who changed it, when and why. What was weighed is put right in the material book.
"""

import json

from django.core.serializers.json import DjangoJSONEncoder

from sheafwright.records.clock import today
from sheafwright.records.errors import NothingChanges, SaidOtherwise
from sheafwright.records.models import Correction
from sheafwright.records.services.entry import entry_check, entry_write, writing
from sheafwright.records.services.weights import ours


def put_right(*, id, holding, made_by, now, why, check=None, note="", **which):
    """Put facts of a thing right, or find that it was done before.

    Parameters
    ----------
    now : dict
        Name of each fact to what is right.
    check : callable, optional
        Refuses the thing as it would then be.
    **which
        The thing, under its name in `Correction`.
    """
    (thing,) = which.values()
    ours(holding, thing)
    with writing(holding):
        written = Correction.objects.filter(pk=id).first()
        if written is not None:
            return _same(written, which, now, why)
        thing.refresh_from_db()
        was = _facts(thing, now)
        for name, right in now.items():
            setattr(thing, name, right)
        entry_check(thing)
        if check:
            check(thing)
        became = _facts(thing, now)
        changed = [name for name in now if became[name] != was[name]]
        if not changed:
            raise NothingChanges(f"{thing} says that already; change what is wrong.")
        thing.save(update_fields=changed)
        correction, _is_new = entry_write(
            Correction,
            id=id,
            holding=holding,
            made_by=made_by,
            date=today(holding),
            was={name: was[name] for name in changed},
            now={name: became[name] for name in changed},
            why=why,
            note=note,
            **which,
        )
    return correction


def _facts(thing, names):
    """Facts as JSON keeps them."""
    fields = {name: thing._meta.get_field(name) for name in names}
    said = {name: field.value_from_object(thing) for name, field in fields.items()}
    return json.loads(json.dumps(said, cls=DjangoJSONEncoder))


def _same(written, which, now, why):
    (thing,) = which.values()
    for name, right in now.items():
        setattr(thing, name, right)
    said = _facts(thing, now)
    if (written.thing, written.why) != (thing, why) or any(
        said.get(name, right) != right for name, right in written.now.items()
    ):
        raise SaidOtherwise(
            "This was put right already, and said otherwise; put it right anew."
        )
    return written
