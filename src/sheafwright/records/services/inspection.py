"""What the inspector asks for beside the material itself."""

from django.utils.translation import gettext as _

from sheafwright.records.models import (
    Certificate,
    Cleaning,
    Complaint,
    Derogation,
    VerminControl,
)
from sheafwright.records.services.checks import in_order, not_ahead
from sheafwright.records.services.corrections import put_right
from sheafwright.records.services.entry import entry_add


def certificate_add(*, holding, since, expires, **said):
    in_order(since, expires, _("it begins"), "expires")
    return entry_add(Certificate, holding=holding, since=since, expires=expires, **said)


def certificate_correct(*, id, holding, made_by, certificate, why, note="", **said):
    return put_right(
        id=id,
        holding=holding,
        made_by=made_by,
        certificate=certificate,
        now=said,
        check=lambda c: in_order(c.since, c.expires, _("it begins"), "expires"),
        why=why,
        note=note,
    )


def derogation_add(*, holding, date, **said):
    return _add(Derogation, holding, date, said)


def cleaning_record(*, holding, date, **said):
    return _add(Cleaning, holding, date, said)


def complaint_record(*, holding, date, **said):
    return _add(Complaint, holding, date, said)


def vermin_control_record(*, holding, date, **said):
    return _add(VerminControl, holding, date, said)


def _add(kind, holding, date, said):
    not_ahead(holding, date)
    return entry_add(kind, holding=holding, date=date, **said)
