"""The form that photographs of stems are sent with."""

from django import forms
from django.utils.text import format_lazy
from django.utils.translation import gettext_lazy as _

from sheafwright.accounts.rights import Right
from sheafwright.measure.photo import MOST_BYTES
from sheafwright.records import models
from sheafwright.records.models.store import STRAW
from sheafwright.records.services.tracings import MOST_PHOTOS
from sheafwright.web.forms.kind import Kind

FORMATS = "image/jpeg,image/png"


class OneFile(forms.FileInput):
    def use_required_attribute(self, initial):
        # Of two such fields one will do.
        return False


class ManyFiles(OneFile):
    allow_multiple_selected = True


class PhotosField(forms.FileField):
    """Uploaded files, each its name and its bytes; of one too large, enough to tell."""

    def clean(self, data, initial=None):
        files = data if isinstance(data, list) else [data]
        return [(file.name, file.read(MOST_BYTES + 1)) for file in files if file]


class Photographed:
    """Taken now or before, photographs go to the service as one list, names beside."""

    field_order = ("lot", "taken", "photos", "bundle", "date", "note")
    board_fields = ("bar_mm", "sheets")

    def said(self):
        said = super().said()
        files = [*said.pop("taken"), *said["photos"]]
        names, photos = ([each[n] for each in files] for n in (0, 1))
        return said | {"names": names, "photos": photos}

    def add_error(self, field, error):
        """What is wrong with a photograph is said where it was given."""
        if field == "photos" and not self.cleaned_data.get("photos"):
            field = "taken"
        super().add_error(field, error)

    def parts(self):
        """Fields that everyone fills, and those of an unusual board."""
        shown = self.visible_fields()
        return (
            [field for field in shown if field.name not in self.board_fields],
            [field for field in shown if field.name in self.board_fields],
        )


def _photos(label, widget, help_text=""):
    return lambda membership: PhotosField(
        label=label, help_text=help_text, widget=widget
    )


def _straw(membership):
    lots = models.Lot.objects.filter(holding=membership.holding, kind__in=STRAW)
    return forms.ModelChoiceField(lots, label=_("Lot"))


TRACING = Kind(
    _("Measure stems from a photograph"), models.Tracing, "tracings:tracing_measure",
    ("bundle", "date", "bar_mm", "sheets", "note"), "straw", Right.DO_WORK,
    {
        "lot": _straw,
        "taken": _photos(
            _("take a photograph"),
            OneFile(attrs={"accept": "image/*", "capture": "environment"}),
        ),
        "photos": _photos(
            _("or choose some that you took"),
            ManyFiles(attrs={"accept": FORMATS}),
            format_lazy(
                _("{most} at most. Lay other stems out for each."), most=MOST_PHOTOS
            ),
        ),
    },
    (Photographed,),
)  # fmt: skip
"""Made as other kinds are, but no program sends it and its next page is its own."""
