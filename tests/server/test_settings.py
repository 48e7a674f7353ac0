"""The served configuration, as ``check --deploy`` sees it."""

import os
import subprocess
import sys

import pytest

CHECK = [sys.executable, "-W", "ignore", "-m", "django", "check", "--deploy"]
CHECK += ["--fail-level", "INFO"]


def run(command, folder, **more):
    said = {
        "DJANGO_SETTINGS_MODULE": "sheafwright.server.settings",
        "SHEAFWRIGHT_FOLDER": str(folder),
    }
    return subprocess.run(
        command, env=os.environ | said | more, capture_output=True, text=True
    )


def show(name, folder, **more):
    """A setting, as a process of its own has it."""
    words = f"from django.conf import settings; print(settings.{name})"
    done = run([sys.executable, "-c", words], folder, **more)
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.mark.parametrize(("https", "silenced"), [("1", 1), ("", 4)])
def test_the_served_configuration_is_clean(tmp_path, https, silenced):
    said = {"SHEAFWRIGHT_HTTPS": https, "SHEAFWRIGHT_HOSTS": "farm.local"}
    done = run(CHECK, tmp_path, **said)
    assert done.returncode == 0, done.stderr
    assert f"no issues ({silenced} silenced)" in done.stdout


def test_the_key_is_made_once_and_is_for_nobody_else(tmp_path):
    secret = show("SECRET_KEY", tmp_path)
    key = tmp_path / "key"
    made = key.read_text()
    assert show("SECRET_KEY", tmp_path) == secret
    assert key.read_text() == made
    assert key.stat().st_mode & 0o777 == 0o600


def test_a_database_elsewhere_is_one_setting(tmp_path):
    said = f"sqlite:///{tmp_path}/elsewhere.sqlite3"
    shown = show("DATABASES", tmp_path, DATABASE_URL=said)
    assert "elsewhere.sqlite3" in shown
    assert "IMMEDIATE" in shown
    assert "synchronous=FULL" in shown
