import datetime

import pytest
from django.core.exceptions import ValidationError

from sheafwright.records.services.inspection import (
    certificate_add,
    cleaning_record,
    complaint_record,
    derogation_add,
    vermin_control_record,
)

DAY = datetime.date(2025, 9, 1)
CERTIFICATE = {
    "holder": "Marl Hollow",
    "is_own": True,
    "body": "An invented control body",
    "code": "XX-ORG-00",
    "scope": "cereals and straw",
    "covers_straw": True,
}
FAR = datetime.date(2190, 1, 1)


def test_a_certificate_ends_after_it_begins(write):
    with pytest.raises(ValidationError, match="when it begins"):
        write(certificate_add, **CERTIFICATE, since=DAY, expires=DAY.replace(year=2024))
    kept = write(certificate_add, **CERTIFICATE, since=DAY, expires=FAR)
    assert kept.covers_straw


@pytest.mark.parametrize(
    ("service", "said"),
    [
        (
            derogation_add,
            {"variety": "Rivet", "reason": "none", "reference": "D1"},
        ),
        (cleaning_record, {"what": "drum", "how": "brushed and blown"}),
        (complaint_record, {"who": "a thatcher", "what": "short bundles"}),
        (vermin_control_record, {"where": "barn", "what": "traps looked at"}),
    ],
)
def test_what_the_inspector_asks_for_is_kept_and_never_ahead(write, service, said):
    assert write(service, date=DAY, **said).date == DAY
    with pytest.raises(ValidationError, match="still to come"):
        write(service, date=FAR, **said)
