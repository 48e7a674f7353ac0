"""Write constraints.txt: the installed version of every package that is needed.

Walks what the package and its test extra ask for, and what those ask for in turn,
so that tools a developer happens to have installed are not locked.
"""

from importlib.metadata import requires, version
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

PROJECT = "sheafwright"
CONSTRAINTS = Path(__file__).parents[1] / "constraints.txt"
HEADER = "# Locked versions; `make lock` rewrites this file from what is installed.\n"


def asked_for(name, extras):
    """The requirements of an installed package that hold on this machine."""
    environments = [{"extra": extra} for extra in ("", *extras)]
    for line in requires(name) or ():
        requirement = Requirement(line)
        marker = requirement.marker
        if marker is None or any(marker.evaluate(each) for each in environments):
            yield requirement


def needed(name, extras=(), found=None):
    """Every package that ``name`` leads to, itself included."""
    found = set() if found is None else found
    key = (canonicalize_name(name), frozenset(extras))
    if key not in found:
        found.add(key)
        for requirement in asked_for(name, extras):
            needed(requirement.name, requirement.extras, found)
    return found


def constraints():
    """One line a package, sorted, without the project itself."""
    names = {name for name, _ in needed(PROJECT, ("test",))} - {PROJECT}
    return HEADER + "".join(f"{name}=={version(name)}\n" for name in sorted(names))


if __name__ == "__main__":
    CONSTRAINTS.write_text(constraints(), encoding="utf-8")
