"""The ways in: the first start, signing in and out, and one's holdings."""

from django.contrib.auth import login, views
from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache

from sheafwright.accounts.selectors import memberships_of
from sheafwright.accounts.services import holding_create
from sheafwright.accounts.start import installation_start, nobody_yet
from sheafwright.web.context import home_of, pages_for
from sheafwright.web.errors import told_on
from sheafwright.web.forms.ways_in import HoldingForm, SignInForm, StartForm

LOOPBACK = ("127.0.0.1", "::1")


@never_cache
def holdings(request):
    if nobody_yet():
        return redirect("web:start")
    if not request.user.is_authenticated:
        return redirect("web:sign-in")
    memberships = memberships_of(person=request.user)
    if len(memberships) == 1 and (home := home_of(memberships[0])):
        return redirect(home)
    mine = [(m.holding, pages_for(m)) for m in memberships]
    return render(request, "web/holdings.html", {"mine": mine})


@never_cache
def start(request):
    if not nobody_yet():
        raise Http404
    # Whoever starts it owns it, so that has to be someone at the machine itself.
    if request.META["REMOTE_ADDR"] not in LOOPBACK:
        there = f"{request.scheme}://{LOOPBACK[0]}:{request.get_port()}{request.path}"
        raise PermissionDenied(
            _("Make the first start on the computer that serves the book, at %(there)s")
            % {"there": there}
        )
    form = StartForm(request.POST or None)
    if form.is_valid():
        with told_on(form):
            person, _holding = installation_start(
                person=form.person(), holding=form.holding()
            )
            login(request, person, "django.contrib.auth.backends.ModelBackend")
            return redirect("web:holdings")
    return render(request, "web/start.html", {"form": form})


@login_required
def holding_new(request):
    form = HoldingForm(request.POST or None)
    if form.is_valid():
        with told_on(form):
            holding_create(made_by=request.user, **form.holding())
            return redirect("web:holdings")
    return render(request, "web/holding_new.html", {"form": form})


sign_in = views.LoginView.as_view(
    template_name="web/sign_in.html",
    authentication_form=SignInForm,
    redirect_authenticated_user=True,
)
sign_out = views.LogoutView.as_view()


def tried_as(request, credentials):
    """Whose password is being tried: one person, however the address is typed."""
    typed = (credentials or {}).get("username") or request.POST.get("username", "")
    return typed.strip().casefold()


def locked_out(request, response=None, credentials=None):
    return render(request, "web/locked_out.html", status=429)
