"""A photograph seen straight from above: the board, or a strip along a stem."""

import numpy as np

NODE_PX = 16
"""Between points that are projected; those between are drawn out. [pixel]"""


def flat_map(camera, box, step_x, step_y):
    """Where the pixels of a flat picture are in the photograph.

    Parameters
    ----------
    box : (left, top, right, bottom) [mm]
    step_x, step_y : float [mm]

    Returns
    -------
    ndarray of float32, shape (row, column, xy) [pixel]
    """
    left, top, right, bottom = box
    columns, rows = int((right - left) / step_x), int((bottom - top) / step_y)
    x = left + (np.arange(0, columns + NODE_PX, NODE_PX) + 0.5) * step_x
    y = top + (np.arange(0, rows + NODE_PX, NODE_PX) + 0.5) * step_y
    coarse = camera.project(np.stack(np.meshgrid(x, y), axis=-1)).astype(np.float32)
    wide = _drawn_out(coarse.swapaxes(0, 1), columns).swapaxes(0, 1)
    return _drawn_out(wide, rows)


def _drawn_out(nodes, count):
    """Between nodes along the first axis, straight."""
    at = np.arange(count)
    node, share = at // NODE_PX, (at % NODE_PX / NODE_PX).astype(np.float32)
    share = share.reshape(-1, *[1] * (nodes.ndim - 1))
    return nodes[node] * (1 - share) + nodes[node + 1] * share


def looked_up(rgb, places):
    """Colours of a photograph at these places: (..., xy) to (..., colour), 0–255."""
    import cv2

    places = np.ascontiguousarray(places, dtype=np.float32)
    flat = places.reshape(-1, places.shape[-2], 2) if places.ndim != 3 else places
    seen = cv2.remap(
        rgb,
        flat[..., 0],
        flat[..., 1],
        cv2.INTER_LINEAR,
        borderMode=cv2.BORDER_REPLICATE,
    )
    return seen.reshape(*places.shape[:-1], 3)


def strip_map(camera, points, normals, aside):
    """Places of a strip that follows a line: (point, aside, xy). [pixel]

    Parameters
    ----------
    points, normals : ndarray, shape (point, xy) [mm, 1]
    aside : ndarray, shape (aside,)
        How far to the left of the line. [mm]
    """
    # Across a few millimetres perspective is a parabola: three places fix it.
    reach = aside[-1]
    low, mid, high = (
        camera.project(points + far * normals)[:, None, :] for far in (-reach, 0, reach)
    )
    t = (aside / reach)[:, None]
    return mid + t * (high - low) / 2 + t * t * ((high + low) / 2 - mid)
