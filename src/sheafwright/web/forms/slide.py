"""A number that is tried by sliding it, with what it stands at written beside it."""

import math

from django import forms
from django.utils.html import format_html


class SlideInput(forms.widgets.Input):
    """A range, and its number: on the server's word without scripts, live with them."""

    input_type = "range"

    def format_value(self, value):
        """Without the zeros that no one would write."""
        said = super().format_value(value)
        try:
            return f"{float(said):.10g}"
        except (TypeError, ValueError):
            return said

    def render(self, name, value, attrs=None, renderer=None):
        slide = super().render(name, value, attrs, renderer)
        shown = self.format_value(value) or ""
        of = (attrs or {}).get("id", "")
        return format_html(
            '<span class="slide">{}<output for="{}">{}</output></span>',
            slide,
            of,
            shown,
        )


def slide_from(value, least, most, step):
    """The widget of a number that stands at a value.

    Its steps are counted from the value itself: a browser moves what lies between two
    steps, and what nobody touched should come back as it was.
    """
    down = math.floor(max(value - least, 0) / step + 1e-9)
    up = math.floor(max(most - value, 0) / step + 1e-9)
    return SlideInput(
        attrs={
            "min": f"{value - down * step:.10g}",
            "max": f"{value + up * step:.10g}",
            "step": f"{step:.10g}",
        }
    )
