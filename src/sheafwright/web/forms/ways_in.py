"""Forms of the ways in."""

import zoneinfo

from django import forms
from django.contrib.auth.forms import AuthenticationForm
from django.utils.translation import gettext_lazy as _

from sheafwright.accounts.models import Holding, Person

ABOUT = ("time_zone", "latitude_deg", "altitude_m", "currency")


class SignInForm(AuthenticationForm):
    error_messages = {  # noqa: RUF012
        "invalid_login": _("That e-mail and that password don't go together."),
        "inactive": _("This person no longer signs in here."),
    }


class HoldingForm(forms.ModelForm):
    time_zone = forms.ChoiceField(
        label=_("Time zone"),
        choices=[(zone, zone) for zone in sorted(zoneinfo.available_timezones())],
        initial="Europe/London",
    )

    class Meta:
        model = Holding
        fields = ("name", *ABOUT)
        labels = {  # noqa: RUF012
            "name": _("Name of the holding"),
            "latitude_deg": _("Latitude in degrees, south below nothing"),
            "altitude_m": _("Height above the sea in metres"),
            "currency": _("Currency, three letters"),
        }

    def holding(self):
        """What makes the holding."""
        return {name: self.cleaned_data[name] for name in self.Meta.fields}


class StartForm(HoldingForm):
    """The first person and the first holding, together."""

    person_name = forms.CharField(
        label=_("Your name"),
        max_length=80,
    )
    email = forms.EmailField(label=_("Your e-mail"))
    password = forms.CharField(
        label=_("A password of ten characters or more"),
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )
    units = forms.ChoiceField(
        label=_("Units to show"), choices=Person._meta.get_field("units").choices
    )
    field_order = ("person_name", "email", "password", "units")

    def person(self):
        """What makes the person."""
        said = self.cleaned_data
        return {
            "name": said["person_name"],
            "email": said["email"],
            "password": said["password"],
            "units": said["units"],
        }
