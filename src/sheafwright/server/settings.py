"""How the pages are served. What differs from place to place comes from outside."""

import os
from pathlib import Path

import dj_database_url
from django.core.management.utils import get_random_secret_key

FOLDER = Path(os.environ["SHEAFWRIGHT_FOLDER"]).resolve()
"""Where this installation keeps its book, its photos and its key."""


def _own_key():
    """The installation's secret, made at its first start and readable by it alone."""
    kept = FOLDER / "key"
    if not kept.exists():
        FOLDER.mkdir(parents=True, exist_ok=True)
        with os.fdopen(
            os.open(kept, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w"
        ) as f:
            f.write(get_random_secret_key())
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
    "django_htmx",
    "sheafwright.accounts.apps.AccountsConfig",
    "sheafwright.records.apps.RecordsConfig",
    "sheafwright.web.apps.WebConfig",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
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
            ]
        },
    }
]

DATABASES = {
    "default": dj_database_url.config(default=f"sqlite:///{FOLDER / 'book.sqlite3'}")
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
LANGUAGE_CODE = "en-gb"
USE_TZ = True
TIME_ZONE = "UTC"
STATIC_URL = "static/"
STATIC_ROOT = FOLDER / "static"
MEDIA_ROOT = FOLDER / "kept"
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
