"""A harvest day in Ann's book: answers kept, hands that may come, and a binder."""

import datetime
import uuid

from sheafwright.records.models import SavedAnswer
from sheafwright.records.services import hands

DAY = datetime.date(2026, 8, 20)


def dates(n, first=DAY):
    return [str(first + datetime.timedelta(day)) for day in range(n)]


def outlook(*worths, rain=0.1, action="cut"):
    """What a field's outlook says of cutting on each day from today on."""
    return {
        "sentence": "Cut.",
        "as_of": str(DAY),
        "stages": {"soft_dough": {"p50": str(DAY)}},
        "fit_week": {"by_start": []},
        "advice": {
            "action": action,
            "sentence": "Cut.",
            "worth_now": worths[0],
            "worth_waiting": min(worths),
            "chance_waiting_wins": 0.1,
        },
        "by_cutting_day": [
            {
                "date": date,
                "worth_mean": worth,
                "worth_p10": worth,
                "worth_p90": worth,
                "chance_of_rain": rain,
            }
            for date, worth in zip(dates(len(worths)), worths, strict=True)
        ],
        "working": [],
    }


def stooks(fit, rain, n=9):
    return {
        "sentence": "Cart.",
        "action": "cart",
        "cut": str(DAY - datetime.timedelta(12)),
        "carting_by_day": [
            {"date": date, "chance_fit": fit, "chance_fit_by": fit}
            | {"chance_of_rain": rain}
            for date in dates(n)
        ],
        "moisture_by_day": [],
        "working": [],
    }


def keep(holding, question, subject, said):
    return SavedAnswer.objects.create(
        holding=holding,
        question=question,
        subject=subject.pk,
        day=DAY,
        inputs_sha256=uuid.uuid4().hex,
        seed=1,
        said=said,
    )


def people(write, names, **may):
    """Hands who may do what is named, or bind, stook and cart."""
    may = may or {"may_bind": True, "may_stook": True, "may_cart": True}
    return [write(hands.hand_add, name=name, **may) for name in names]


def binder(write, name="The old binder"):
    return write(hands.machine_add, kind="binder", name=name)


def turns(lost, until, verdict="holds_up"):
    """What is said of each field that may wait until after a day."""
    fields = [
        {"field": name, "verdict": verdict, "lost_by_waiting": share}
        for name, share in lost.items()
    ]
    return {"sentence": "Wait.", "until": until, "fields": fields, "working": []}
