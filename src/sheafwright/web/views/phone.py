"""What a phone asks for so that it works with no signal."""

import functools
import hashlib
import json
from pathlib import Path

from django.contrib.staticfiles import finders
from django.http import HttpResponse, JsonResponse
from django.middleware.csrf import get_token
from django.shortcuts import render
from django.templatetags.static import static
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

SHELL = (
    "web/almanac.css",
    "web/kept.js",
    "web/field.js",
    "web/fonts/SourceSerif4-400.woff2",
    "web/fonts/SourceSerif4-600.woff2",
    "web/fonts/AtkinsonHyperlegibleNext-400.woff2",
    "web/fonts/AtkinsonHyperlegibleNext-700.woff2",
    "web/icons/sheaf.svg",
)
WORKER = "web/worker.js"
ICON_SIZES = (192, 512)


@require_safe
@never_cache
def service_worker(request):
    place = {
        "name": f"shell-{_shell_sha256()[:12]}",
        "csrf": reverse("web:csrf"),
        "kept": static("web/kept.js"),
        "offline": reverse("web:offline"),
        "shell": [
            reverse("web:offline"),
            reverse("web:unsent"),
            *(static(path) for path in SHELL),
        ],
    }
    script = f"const PLACE = {json.dumps(place)};\n{_source(WORKER).decode()}"
    return HttpResponse(script, content_type="text/javascript")


@require_safe
def manifest(request):
    icons = [
        {
            "src": static(f"web/icons/sheaf-{size}.png"),
            "sizes": f"{size}x{size}",
            "type": "image/png",
            "purpose": purpose,
        }
        for size in ICON_SIZES
        for purpose in ("any", "maskable")
    ]
    about = {
        "name": "Sheafwright",
        "short_name": "Sheafwright",
        "description": _("The book of a grower of thatching straw"),
        "id": "/",
        "start_url": reverse("web:holdings"),
        "scope": "/",
        "display": "standalone",
        "background_color": "#fbf8f1",
        "theme_color": "#fbf8f1",
        "icons": icons,
    }
    return JsonResponse(about, content_type="application/manifest+json")


@require_safe
@never_cache
def csrf(request):
    """Who is signed in here, and the token that a kept entry is sent with."""
    person = str(request.user.pk) if request.user.is_authenticated else None
    return JsonResponse({"token": get_token(request), "person": person})


@require_safe
def offline(request):
    return render(request, "web/offline.html")


@require_safe
def unsent(request):
    return render(request, "web/unsent.html")


@functools.cache
def _shell_sha256():
    """Changes with whatever a phone keeps, so that it then fetches all of it anew."""
    found = hashlib.sha256()
    for path in (*SHELL, WORKER):
        found.update(_source(path))
    templates = Path(__file__).parents[1] / "templates" / "web"
    for name in ("base.html", "offline.html", "unsent.html"):
        found.update((templates / name).read_bytes())
    return found.hexdigest()


def _source(path):
    return Path(finders.find(path)).read_bytes()
