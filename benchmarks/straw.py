"""What straw in a photograph of 12 million pixels takes, step by step, on one core."""

import resource
import sys
from pathlib import Path

from parts.timing import median_time, milliseconds, print_table, times_as_long

sys.path.insert(0, str(Path(__file__).parents[1] / "tests/measure"))


def main(short):
    """Print the table; ``short`` to run everything once."""
    import cv2
    from scenes import make_scene

    cv2.setNumThreads(1)
    content = make_scene(1).jpeg
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
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"At most {peak:,.0f} MB of memory, drawing the photograph included.")


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
