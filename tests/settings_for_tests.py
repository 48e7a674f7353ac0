"""The served settings, on a folder of the tests' own."""

import os
import tempfile

# Settings read the folder's name when they are first imported.
os.environ["SHEAFWRIGHT_FOLDER"] = tempfile.mkdtemp(prefix="sheafwright-tests-")

from sheafwright.server.settings import *  # noqa: F403
