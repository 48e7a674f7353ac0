"""Every published, remembered and closed-form value the core must give."""

import pkgutil
import tomllib
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

FILES = sorted((Path(__file__).parent / "checks").glob("*.toml"))
CHECKS = [c for f in FILES for c in tomllib.loads(f.read_text("utf-8"))["check"]]
NAMES = [f"{c['function']} {c['source']}" for c in CHECKS]
STANDINGS = {"published", "from memory", "closed form", "other library"}


def as_parameters(given):
    """A table inside the inputs stands for the part of a parameter set that is read."""
    return SimpleNamespace(**given) if isinstance(given, dict) else given


@pytest.mark.parametrize(
    "check", CHECKS, ids=lambda c: f"{c['function']} {c['source']}"
)
def test_core_gives_the_checked_value(check):
    model = pkgutil.resolve_name("sheafwright.core." + check["function"])
    got = model(**{name: as_parameters(each) for name, each in check["inputs"].items()})
    np.testing.assert_allclose(got, check["expected"], rtol=0, atol=check["abs_tol"])


@pytest.mark.parametrize(
    "check", CHECKS, ids=lambda c: f"{c['function']} {c['source']}"
)
def test_every_check_names_its_source_and_standing(check):
    assert check["source"].strip()
    assert check["standing"] in STANDINGS


def test_there_are_at_least_sixty_checks():
    assert len(CHECKS) >= 60
