"""First calls in a new process: of the engine, and of the compiled way."""

import json
import tempfile
from pathlib import Path
from typing import NamedTuple

from parts.timing import said_by

CODE = """
import json, sys, time
sys.path.insert(0, {here!r})
import numpy
from parts.case import case
work = case(2, 2, small=True)

def spent(call):
    began = time.process_time()
    made = call()
    return time.process_time() - began, made

imported, way = spent(lambda: __import__("parts.{way}").{way})
draw = lambda: way.drawn(work)
first_draw, paths = spent(draw)
second_draw, _ = spent(draw)
stand = lambda: way.stook_share(work, paths)
first_stand, _ = spent(stand)
second_stand, _ = spent(stand)
print(json.dumps([imported, first_draw, second_draw, first_stand, second_stand]))
"""


class Start(NamedTuple):
    """Processor time of a new process's first steps. [s]"""

    imported: float
    first_draw: float
    second_draw: float
    first_stand: float
    second_stand: float

    @property
    def total(self):
        """What the first answer waits for and the second does not."""
        once = self.first_draw - self.second_draw + self.first_stand - self.second_stand
        return self.imported + max(once, 0.0)


def start(way, env=None):
    """`Start` of a way, by the name of its module."""
    code = CODE.format(here=str(Path(__file__).parents[1]), way=way)
    return Start(*json.loads(said_by(code, env)))


def compiled_starts():
    """`Start` with an empty cache, and with the cache that the first one left."""
    with tempfile.TemporaryDirectory() as cache:
        env = {"NUMBA_CACHE_DIR": cache}
        return start("compiled", env), start("compiled", env)
