"""A lock is held by one at a time, whichever system it is of."""

import fcntl
import importlib.util
import subprocess
import sys
import threading
import time
import types

import pytest

from sheafwright.records import lock

HOLD = """
import pathlib, sys
from sheafwright.records.lock import locked
with locked(pathlib.Path(sys.argv[1])):
    print("held", flush=True)
    sys.stdin.read()
"""


@pytest.fixture(scope="module")
def of_windows():
    """The module as Windows loads it, over a stand-in for that system's own."""

    def locking(held, mode, _length):
        fcntl.flock(held, mode)

    stand_in = types.SimpleNamespace(
        locking=locking, LK_NBLCK=fcntl.LOCK_EX | fcntl.LOCK_NB, LK_UNLCK=fcntl.LOCK_UN
    )
    spec = importlib.util.spec_from_file_location("lock_of_windows", lock.__file__)
    module = importlib.util.module_from_spec(spec)
    with pytest.MonkeyPatch.context() as patch:
        patch.setitem(sys.modules, "fcntl", None)
        patch.setitem(sys.modules, "msvcrt", stand_in)
        spec.loader.exec_module(module)
    return module


@pytest.fixture(params=["of this system", "of Windows"])
def locked(request, of_windows):
    return (of_windows if request.param == "of Windows" else lock).locked


@pytest.fixture(params=["a file", "a folder"])
def path(request, tmp_path):
    if request.param == "a folder":
        (tmp_path / "book").mkdir()
    return tmp_path / "book"


def test_who_does_not_wait_is_refused_while_another_holds_it(locked, path):
    with locked(path), pytest.raises(BlockingIOError), locked(path, wait=False):
        pass
    with locked(path, wait=False):
        pass


def test_who_waits_comes_after_whoever_holds_it(locked, path):
    order = []

    def come_second():
        with locked(path):
            order.append("second")

    waiting = threading.Thread(target=come_second)
    with locked(path):
        waiting.start()
        time.sleep(0.1)
        order.append("first")
    waiting.join(timeout=30)
    assert order == ["first", "second"]


def test_it_is_let_go_when_what_was_done_under_it_fails(locked, path):
    with pytest.raises(ZeroDivisionError), locked(path):
        raise ZeroDivisionError
    with locked(path, wait=False):
        pass


def test_a_folder_that_is_held_can_take_another_name(locked, tmp_path):
    folder = tmp_path / "book"
    folder.mkdir()
    with locked(folder):
        folder.rename(tmp_path / "book-before")
        folder.mkdir()


def test_it_is_let_go_when_its_holder_is_killed(path):
    holder = subprocess.Popen(
        [sys.executable, "-c", HOLD, path],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
    )
    with holder:
        assert holder.stdout.readline() == b"held\n"
        with pytest.raises(BlockingIOError), lock.locked(path, wait=False):
            pass
        holder.kill()
    with lock.locked(path, wait=False):
        pass
