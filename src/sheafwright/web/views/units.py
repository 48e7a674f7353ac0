from django import forms
from django.contrib.auth.decorators import login_required
from django.shortcuts import redirect
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST

from sheafwright.accounts.models import Units
from sheafwright.accounts.services import person_settings_change


class UnitsForm(forms.Form):
    units = forms.ChoiceField(choices=Units)


@login_required
@require_POST
def units(request):
    form = UnitsForm(request.POST)
    if form.is_valid():
        person_settings_change(
            person=request.user, name=request.user.name, **form.cleaned_data
        )
    back = request.POST.get("next", "")
    is_ours = url_has_allowed_host_and_scheme(back, {request.get_host()})
    return redirect(back if is_ours else "web:holdings")
