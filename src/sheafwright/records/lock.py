"""The system's own lock on a file or a folder: let go however its holder ends."""

import contextlib
import os
import time

try:
    import fcntl
except ImportError:
    # Windows: there a folder has no lock, and no lock waits for as long as it takes.
    import msvcrt

    fcntl = None

PAUSE_S = 0.005
"""Between two tries, where the system wakes nobody."""


@contextlib.contextmanager
def locked(path, *, wait=True):
    """Hold the lock of a path.

    Raises
    ------
    BlockingIOError
        Another holds it, and there is no waiting.
    """
    take, leave = (_take, os.close) if fcntl else (_take_by_tries, _leave)
    held = take(path, wait)
    try:
        yield
    finally:
        leave(held)


def _take(path, wait):
    held = os.open(path, os.O_RDONLY if path.is_dir() else os.O_RDWR | os.O_CREAT)
    try:
        fcntl.flock(held, fcntl.LOCK_EX if wait else fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BaseException:
        os.close(held)
        raise
    return held


def _take_by_tries(path, wait):
    # Beside a folder, which can then still be given another name.
    file = path.with_name(f"{path.name}-in-use") if path.is_dir() else path
    held = os.open(file, os.O_RDWR | os.O_CREAT)
    while True:
        try:
            msvcrt.locking(held, msvcrt.LK_NBLCK, 1)
        except OSError:
            if not wait:
                os.close(held)
                raise BlockingIOError(f"{path} is held") from None
            time.sleep(PAUSE_S)
        else:
            return held


def _leave(held):
    msvcrt.locking(held, msvcrt.LK_UNLCK, 1)
    os.close(held)
