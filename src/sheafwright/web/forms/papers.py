from django import forms
from django.utils.translation import gettext_lazy as _

from sheafwright.records.models import Lot

A_SHEET = 8
MOST = 96
"""Labels of one lot at a time: twelve sheets."""


class LabelsForm(forms.Form):
    """Which lot, and how many labels of it."""

    lot = forms.ModelChoiceField(Lot.objects.none(), label=_("Lot"), required=False)
    count = forms.IntegerField(
        label=_("How many"), required=False, min_value=1, max_value=MOST
    )

    def __init__(self, *args, holding, **options):
        super().__init__(*args, **options)
        self.fields["lot"].queryset = Lot.objects.filter(holding=holding)

    def clean_count(self):
        return self.cleaned_data["count"] or A_SHEET


class CountForm(forms.Form):
    """How many labels."""

    count = forms.IntegerField(
        label=_("How many"), required=False, min_value=1, max_value=MOST
    )
