"""Forms of the record book: a period, and how an entry is undone or settled."""

import datetime
import uuid

from django import forms
from django.utils.translation import gettext_lazy as _

from sheafwright.web.forms.fields import date_widget

YEAR = datetime.timedelta(days=365)


def year_to(day):
    """The period that a `PeriodForm` begins with: a year, to a day."""
    return {"begins": day - YEAR, "ends": day}


class PeriodForm(forms.Form):
    begins = forms.DateField(label=_("From"), widget=date_widget())
    ends = forms.DateField(label=_("Until"), widget=date_widget())

    def clean(self):
        said = super().clean()
        if said.get("begins") and said.get("ends") and said["begins"] > said["ends"]:
            self.add_error(
                "ends", _("It should end on the day that it begins or later.")
            )
        return said

    def said(self):
        """The first and the last day; those begun with, if what is typed won't do."""
        given = self.cleaned_data if self.is_valid() else self.initial
        return given["begins"], given["ends"]


class UndoForm(forms.Form):
    id = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    date = forms.DateField(label=_("Undone on"), widget=date_widget())
    note = forms.CharField(label=_("Why"), max_length=500)


class SettleForm(forms.Form):
    id = forms.UUIDField(widget=forms.HiddenInput)
    how = forms.CharField(label=_("What really happened"), max_length=300)
