"""Where a job is done, and what its button says."""

from django import template
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from sheafwright.records.selectors.today import Urgency

register = template.Library()

LABELS = {
    Urgency.DANGER: _("Enter a reading"),
    Urgency.CUT: _("See the cutting"),
    Urgency.SHOW: _("See the hands"),
    Urgency.CART: _("See the stooks"),
    Urgency.READING: _("Enter a reading"),
    Urgency.TURN: _("See the stooks"),
    Urgency.SETTLE: _("Settle it"),
    Urgency.COVER: _("See the rick"),
    Urgency.HEAP: _("See the grain"),
    Urgency.GRAIN: _("See the grain"),
    Urgency.CHECK: _("See the machines"),
    Urgency.WALK: _("Record what you saw"),
    Urgency.WATCH: _("See the stooks"),
    Urgency.PAPERS: _("See the papers"),
}


@register.simple_tag(takes_context=True)
def job_url(context, job):
    return reverse(f"web:{job.page}", args=[context["holding"].slug])


@register.simple_tag
def job_label(job):
    return LABELS[job.urgency]
