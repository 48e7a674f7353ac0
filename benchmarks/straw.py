"""What straw in a photograph of 12 million pixels takes, step by step, on one core."""

import functools
import json
import sys
import tempfile
from pathlib import Path

from parts.timing import (
    median_time,
    milliseconds,
    print_table,
    said_by,
    times_as_long,
)

ALONE = """
import json, os, pathlib, time
os.sched_setaffinity(0, [min(os.sched_getaffinity(0))])
import cv2
cv2.setNumThreads(1)
from sheafwright.measure.straw import measure_straw
content = pathlib.Path({path!r}).read_bytes()
took = []
for _ in range({times}):
    took.append(time.process_time())
    stems = len(measure_straw(content).stems)
took.append(time.process_time())
status = pathlib.Path("/proc/self/status").read_text()
print(json.dumps({{
    "first": took[1],
    "later": min(b - a for a, b in zip(took, took[1:])),
    "peak_mb": int(status.split("VmHWM:")[1].split()[0]) / 1024,
    "stems": stems,
}}))
"""
"""A process that measures, and does nothing else: what one photograph takes."""
PHOTOS = {"on planks": 1, "on a photographed ground": 5}
"""By the number of its scene."""

sys.path.insert(0, str(Path(__file__).parents[1] / "tests/measure"))


def main(short):
    """Print the table; ``short`` to run everything once."""
    import cv2

    cv2.setNumThreads(1)
    content = photo(1)
    steps = list(_steps(content))
    took = {name: median_time(work, 1 if short else 7) for name, work in steps}
    rows = [
        (name, *map(milliseconds, each), times_as_long(each.cpu, took["decoded"].cpu))
        for name, each in took.items()
    ]
    print_table(
        "A photograph of 12 million pixels",
        ("step", "wall ms", "CPU ms", "beside decoding"),
        rows,
    )
    if short:
        print_alone(dict([*PHOTOS.items()][:1]), times=1)
    else:
        print_alone(PHOTOS, times=7)


@functools.cache
def photo(number):
    """The photograph of a scene."""
    from scenes import make_scene

    return make_scene(number).jpeg


def print_alone(photos, times):
    """Seconds and memory of processes of their own, each on one core."""
    rows = []
    for name, number in photos.items():
        with tempfile.NamedTemporaryFile(suffix=".jpg") as file:
            file.write(photo(number))
            file.flush()
            told = json.loads(said_by(ALONE.format(path=file.name, times=times)))
        seconds = (f"{told[which]:.2f}" for which in ("first", "later"))
        rows.append((name, str(told["stems"]), *seconds, f"{told['peak_mb']:,.0f}"))
    print_table(
        "12 million pixels in a process of its own, on one core: at most 2 s, 1,500 MB",
        ("photograph", "stems", "CPU s with its start", "CPU s", "peak MB"),
        rows,
    )


def _steps(content):
    from sheafwright.measure import straw as measure
    from sheafwright.measure.board import board
    from sheafwright.measure.photo import open_photo

    rgb, known = open_photo(content).rgb, board()
    size = rgb.shape[1], rgb.shape[0]
    numbers, corners = measure.find_markers(rgb, known)
    camera, _ = measure.fit_camera(numbers, corners, known, size)
    colours = measure.read_colours(rgb, camera, known)
    mask = measure.straw_mask(rgb, camera, known, colours)
    yield "decoded", lambda: open_photo(content)
    yield "markers found", lambda: measure.find_markers(rgb, known)
    yield "camera fitted", lambda: measure.fit_camera(numbers, corners, known, size)
    yield "colours read", lambda: measure.read_colours(rgb, camera, known)
    yield (
        "straw told from ground",
        lambda: measure.straw_mask(rgb, camera, known, colours),
    )
    yield (
        "stems measured",
        lambda: measure.measure_stems(rgb, camera, known, colours, mask),
    )
    yield "all of it", lambda: measure.measure_straw(content)


if __name__ == "__main__":
    main("--short" in sys.argv)
