"""Linear algebra stays in one thread: its own threads slow our small sums down."""

import os
import subprocess
import sys

import pytest

ASK_FOR_VERSION = """
import os, sys
from sheafwright.cli.main import main
sys.argv = ["sheafwright", "--version"]
main()
print(os.environ["OPENBLAS_NUM_THREADS"], "numpy" in sys.modules)
"""


@pytest.mark.parametrize(("asked", "kept"), [(None, "1"), ("2", "2")])
def test_the_command_asks_for_one_thread_before_numpy_is_there(asked, kept):
    env = {k: v for k, v in os.environ.items() if k != "OPENBLAS_NUM_THREADS"}
    env |= {"OPENBLAS_NUM_THREADS": asked} if asked else {}
    command = [sys.executable, "-c", ASK_FOR_VERSION]
    done = subprocess.run(command, capture_output=True, text=True, env=env, check=True)
    assert done.stdout.splitlines()[-1] == f"{kept} False"
