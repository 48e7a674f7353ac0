"""How pages write quantities, days and chances: ``{{ cut.area_ha|area:units }}``.

``units`` is the reader's family of units. What is not known is a dash.
"""

import re

from django import template
from django.utils.dateformat import format as date_format
from django.utils.timezone import template_localtime

from sheafwright.answers import wording
from sheafwright.feeds.telling import Said, say
from sheafwright.feeds.units import show

register = template.Library()
UNKNOWN = "–"
CODE = re.compile(r"(?<![\w-])[A-Z\d]{1,4}-\d{1,5}[a-z]?(?![\w-]|[^<>]*>)")
"""A lot's or a paper's, outside of any tag."""


def _shown(quantity):
    def said(value, units="metric"):
        # A template says nothing of a name that it lacks: "" is metric too.
        return UNKNOWN if value is None else show(value, quantity, units or "metric")

    return said


@register.filter(is_safe=True)
def codes_whole(html):
    """What a page says, with codes such as 25-07 never broken over two lines."""
    return CODE.sub(r'<span class="whole">\g<0></span>', html)


@register.filter
def told(words):
    """Marked words as the reader has them; what was said is so already."""
    return words if isinstance(words, Said) else say(words)


kg = register.filter("kg", _shown("mass"))
area = register.filter("area", _shown("area"))
rate = register.filter("rate", _shown("rate"))
yield_per_area = register.filter("yield_per_area", _shown("yield"))
length_mm = register.filter("length_mm", _shown("depth"))
height_cm = register.filter("height_cm", _shown("height"))
distance_m = register.filter("distance_m", _shown("distance"))
specific_weight = register.filter("specific_weight", _shown("specific_weight"))
temperature = register.filter("temperature", _shown("temperature"))


@register.filter
def grams(value, units="metric"):
    """A mass of the material book, which counts whole grams."""
    return UNKNOWN if value is None else show(value / 1000, "mass", units or "metric")


def _dated(pattern):
    def said(value):
        if not value:
            return UNKNOWN
        # In the holding's zone, which the view has set.
        return date_format(template_localtime(value), pattern).replace(" ", "\u00a0")

    return said


day = register.filter("day", _dated("j M"))
weekday = register.filter("weekday", _dated("D j M"))
day_and_year = register.filter("day_and_year", _dated("j M Y"))
day_and_time = register.filter("day_and_time", _dated("D j M, H:i"))


@register.filter
def percent(value):
    return UNKNOWN if value is None else f"{value:.3g}%"


@register.filter
def odds(chance):
    """A chance from 0 to 1, as the advice says it."""
    return UNKNOWN if chance is None else wording.odds(chance)


@register.filter
def money(value):
    """Whole pounds of what may be expected: pence would claim too much."""
    return UNKNOWN if value is None else f"£{round(value, -1):,.0f}"
