"""Forms of the settings: people, the place, and keys."""

from django import forms
from django.utils.translation import gettext_lazy as _

from sheafwright.accounts.models import Holding
from sheafwright.accounts.rights import Role


class PersonForm(forms.Form):
    email = forms.EmailField(label=_("E-mail"))
    name = forms.CharField(label=_("Name"), max_length=80)
    role = forms.ChoiceField(label=_("What they are here"), choices=Role.choices)
    password = forms.CharField(
        label=_("A first password, if they are new here"),
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
        required=False,
    )


class PlaceForm(forms.ModelForm):
    class Meta:
        model = Holding
        fields = ("latitude_deg", "altitude_m")
        labels = {  # noqa: RUF012
            "latitude_deg": _("Latitude in degrees, south below nothing"),
            "altitude_m": _("Height above the sea in metres"),
        }


class TokenForm(forms.Form):
    label = forms.CharField(label=_("What it is for"), max_length=80)
