"""How the pages are served. What differs from place to place comes from outside."""

import contextlib
import datetime
import os
import tempfile
from importlib import resources
from pathlib import Path

import dj_database_url
from csp.constants import NONE, SELF
from django.conf.locale import LANG_INFO
from django.core.management.utils import get_random_secret_key
from django.utils.translation import gettext_lazy as _

FOLDER = Path(os.environ["SHEAFWRIGHT_FOLDER"]).resolve()
"""Where this installation keeps its book, its photos and its key."""


HTTPS = os.environ.get("SHEAFWRIGHT_HTTPS") == "1"
"""Served to a network; else to this machine alone."""


def _own_key():
    """The installation's secret, made at its first start and readable by it alone."""
    kept = FOLDER / "key"
    if not kept.exists():
        FOLDER.mkdir(parents=True, exist_ok=True)
        # Whole before it has its name, so that two that start at once agree on one.
        with tempfile.NamedTemporaryFile("w", dir=FOLDER, delete=False) as made:
            made.write(get_random_secret_key())
        with contextlib.suppress(FileExistsError):
            os.link(made.name, kept)
        Path(made.name).unlink()
    return kept.read_text("utf-8")


SECRET_KEY = _own_key()
DEBUG = False
ALLOWED_HOSTS = os.environ.get(
    "SHEAFWRIGHT_HOSTS", "localhost,127.0.0.1,[::1],testserver"
).split(",")

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "axes",
    "csp",
    "sheafwright.accounts.apps.AccountsConfig",
    "sheafwright.records.apps.RecordsConfig",
    "sheafwright.web.apps.WebConfig",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "csp.middleware.CSPMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "sheafwright.web.compress.SmallPages",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "sheafwright.records.reader.InTheirLanguage",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "sheafwright.web.errors.Refusals",
    "axes.middleware.AxesMiddleware",
]
ROOT_URLCONF = "sheafwright.server.urls"
WSGI_APPLICATION = "sheafwright.server.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "django.template.context_processors.i18n",
                "sheafwright.web.context.page",
            ]
        },
    }
]

DATABASES = {
    # Kept open between requests, with the pages of the file that it has read.
    "default": dj_database_url.config(
        default=f"sqlite:///{FOLDER / 'book.sqlite3'}",
        conn_max_age=600,
        conn_health_checks=True,
    )
}
if DATABASES["default"]["ENGINE"].endswith("sqlite3"):
    DATABASES["default"]["OPTIONS"] = {
        # A writer takes its turn at the start, so that none is refused half way.
        "transaction_mode": "IMMEDIATE",
        "timeout": 20,
        # FULL: what was said to be written is on the disk, power cut or not.
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL;",
    }

AUTH_USER_MODEL = "accounts.Person"
AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
]
AUTH_PASSWORD_VALIDATORS = [
    {
        "NAME": f"django.contrib.auth.password_validation.{rule}Validator",
        "OPTIONS": options,
    }
    for rule, options in (
        ("UserAttributeSimilarity", {"user_attributes": ("email", "name")}),
        ("MinimumLength", {"min_length": 10}),
        ("CommonPassword", {}),
        ("NumericPassword", {}),
    )
]
LOGIN_URL = "web:sign-in"
LOGIN_REDIRECT_URL = "web:holdings"
LOGOUT_REDIRECT_URL = "web:holdings"

# Five tries of one address from one place, then a quarter of an hour's rest: a guesser
# gets nowhere, and cannot lock out the grower, who comes from elsewhere.
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_FAILURE_LIMIT = 5
AXES_COOLOFF_TIME = datetime.timedelta(minutes=15)
AXES_RESET_ON_SUCCESS = True
AXES_USERNAME_CALLABLE = "sheafwright.web.views.entry.tried_as"
AXES_LOCKOUT_CALLABLE = "sheafwright.web.views.entry.locked_out"
# Who signed in, and from where, is nobody's business afterwards.
AXES_DISABLE_ACCESS_LOG = True
AXES_VERBOSE = False
AXES_ENABLE_ADMIN = False

SESSION_COOKIE_AGE = 60 * 60 * 24 * 60
"""Two months [s]: a phone on the hill asks for no password in harvest."""
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = SECURE_SSL_REDIRECT = HTTPS
SECURE_HSTS_SECONDS = 60 * 60 * 24 * 365 if HTTPS else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = HTTPS
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
# W021: a list that browsers carry of public sites is no place for a farm's own server.
SILENCED_SYSTEM_CHECKS = ["security.W021"]
if not HTTPS:
    # Plain http goes no further than this machine (`serve` binds to loopback alone), so
    # there is no wire to guard; cookies marked secure would never be sent at all.
    # W004 HSTS, W008 redirect, W012 and W016 cookies.
    SILENCED_SYSTEM_CHECKS += [
        f"security.{check}" for check in ("W004", "W008", "W012", "W016")
    ]
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [SELF],
        "img-src": [SELF, "data:", "blob:"],
        "object-src": [NONE],
        "base-uri": [NONE],
        "form-action": [SELF],
        "frame-ancestors": [NONE],
    }
}

# Text of a form; files are held to their own limits by their fields, and the server
# takes no request larger than the largest.
DATA_UPLOAD_MAX_MEMORY_SIZE = 2 * 1024**2
DATA_UPLOAD_MAX_NUMBER_FILES = 10
FILE_UPLOAD_PERMISSIONS = 0o600
FILE_UPLOAD_DIRECTORY_PERMISSIONS = 0o700
# Not below STATIC_ROOT, and no address leads to it: views with a right hand files out.
MEDIA_ROOT = FOLDER / "kept"

LANGUAGE_CODE = "en-gb"
LOCALE_PATHS = [Path(str(resources.files("sheafwright"))) / "locale"]
LANGUAGES = [
    ("en-gb", _("British English")),
    # Another language is there as soon as its catalogue is.
    *(
        (code, LANG_INFO[code]["name_local"])
        for code in sorted(path.parts[-3] for path in LOCALE_PATHS[0].glob("*/*/*.mo"))
        if code in LANG_INFO
    ),
]
USE_TZ = True
TIME_ZONE = "UTC"

STATIC_URL = "static/"
STATIC_ROOT = FOLDER / "static"
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {
        "BACKEND": "whitenoise.storage.CompressedManifestStaticFilesStorage"
    },
}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"plain": {"()": "sheafwright.server.logs.NothingPersonal"}},
    "handlers": {"stderr": {"class": "logging.StreamHandler", "formatter": "plain"}},
    "root": {"handlers": ["stderr"], "level": "WARNING"},
    # Django's own handlers would add mail to admins; there are none.
    "loggers": {"django": {"handlers": [], "level": "WARNING"}},
}
