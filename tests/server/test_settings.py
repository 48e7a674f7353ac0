"""The served configuration, as ``check --deploy`` sees it."""

import os
import subprocess
import sys

import pytest

CHECK = [sys.executable, "-W", "ignore", "-m", "django", "check", "--deploy"]


def check(folder, **more):
    said = {
        "DJANGO_SETTINGS_MODULE": "sheafwright.server.settings",
        "SHEAFWRIGHT_FOLDER": str(folder),
    }
    return subprocess.run(
        [*CHECK, "--fail-level", "INFO"],
        env=os.environ | said | more,
        capture_output=True,
        text=True,
    )


@pytest.mark.parametrize(("https", "silenced"), [("1", 1), ("", 4)])
def test_the_served_configuration_is_clean(tmp_path, https, silenced):
    done = check(tmp_path, SHEAFWRIGHT_HTTPS=https, SHEAFWRIGHT_HOSTS="farm.local")
    assert done.returncode == 0, done.stderr
    assert f"no issues ({silenced} silenced)" in done.stdout


def test_the_key_is_made_once_and_is_for_nobody_else(tmp_path):
    check(tmp_path)
    key = tmp_path / "key"
    made = key.read_text()
    check(tmp_path)
    assert key.read_text() == made
    assert key.stat().st_mode & 0o777 == 0o600


def test_a_database_elsewhere_is_one_setting(tmp_path):
    said = f"sqlite:///{tmp_path}/elsewhere.sqlite3"
    show = "from django.conf import settings; print(settings.DATABASES)"
    done = subprocess.run(
        [sys.executable, "-c", show],
        env=os.environ
        | {
            "DJANGO_SETTINGS_MODULE": "sheafwright.server.settings",
            "SHEAFWRIGHT_FOLDER": str(tmp_path),
            "DATABASE_URL": said,
        },
        capture_output=True,
        text=True,
        check=True,
    )
    assert "elsewhere.sqlite3" in done.stdout
    assert "IMMEDIATE" in done.stdout
    assert "synchronous=FULL" in done.stdout
