"""The field's year as parts/_year.html draws it."""

from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from sheafwright.records.selectors.year import field_years
from sheafwright.web.templatetags.said import day

NAMES = {
    "sown": _("sown"),
    "up": _("up"),
    "ear": _("ear"),
    "flower": _("flower"),
    "cut": _("cut"),
    "stooked": _("stooked"),
    "ricked": _("ricked"),
    "threshed": _("threshed"),
    "sold": _("sold"),
}
PAGE_OF = {
    "sown": "seed",
    "cut": "cutting",
    "stooked": "stooks",
    "ricked": "ricks",
    "threshed": "threshing",
    "sold": "straw",
}
"""Where a step is recorded; the rest are seen on the growing crop."""


def years_of(slug, sowings):
    """Each sowing's id to the steps of its year."""
    return {
        pk: tuple(_step(slug, step) for step in steps)
        for pk, steps in field_years(list(sowings)).items()
    }


def _step(slug, step):
    if step.known:
        state, text = "known", day(step.known)
    elif step.expected:
        spread = (step.expected.late - step.expected.early).days / 2
        state, text = "expected", f"{day(step.expected.likely)} ±{spread:.0f}"
    else:
        state, text = "later", ""
    page = PAGE_OF.get(step.name, "growing")
    return {
        "name": NAMES[step.name],
        "date_text": text,
        "state": state,
        "url": reverse(f"web:{page}", args=[slug]),
    }
