"""The served settings, on a folder of the tests' own."""

import os
import tempfile

# Settings read the folder's name when they are first imported; it goes with the run.
FOLDER_OF_TESTS = tempfile.TemporaryDirectory(prefix="sheafwright-tests-")
os.environ["SHEAFWRIGHT_FOLDER"] = FOLDER_OF_TESTS.name

from sheafwright.server.settings import *  # noqa: E402, F403

# No static files are gathered for tests, and no password is slow to make.
STORAGES = STORAGES | {  # noqa: F405
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}
}
STATIC_ROOT.mkdir()  # noqa: F405
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
