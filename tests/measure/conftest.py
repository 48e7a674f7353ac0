"""Makes the modules beside the tests importable, and one scene for them all."""

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))


@pytest.fixture(scope="session")
def scene():
    """One good photograph, of which all is known."""
    from scenes import make_scene

    return make_scene(3)


@pytest.fixture(scope="session")
def found(scene):
    """What is measured in it."""
    from sheafwright.measure.straw import measure_straw

    return measure_straw(scene.jpeg)
