"""The served settings, on a folder of the tests' own."""

import os
import tempfile

# Settings read the folder's name when they are first imported.
os.environ["SHEAFWRIGHT_FOLDER"] = tempfile.mkdtemp(prefix="sheafwright-tests-")

from sheafwright.server.settings import *  # noqa: F403

# No static files are gathered for tests, and no password is slow to make.
STORAGES = STORAGES | {  # noqa: F405
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}
}
STATIC_ROOT.mkdir()  # noqa: F405
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
