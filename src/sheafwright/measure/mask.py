"""Where straw lies on the blue: a flat picture of yes and no."""

import dataclasses

import numpy as np

from sheafwright.measure.rectify import flat_map, looked_up

STEP_X_MM, STEP_Y_MM = 1.0, 0.25
INSET_MM = 1.5
"""Of the blue's edges: sheets lie a little aside."""
BLUE_SHARE = 0.42
"""Of the ground's own blueness: less of it is straw."""
JOINT_MM = 2
"""Either side of a joint, where a gap between sheets may show. [column]"""
GAPING = 0.1
"""So much more of a column than of its neighbours is no straw."""


@dataclasses.dataclass(frozen=True)
class Mask:
    """True where straw lies: (row, column)."""

    straw: np.ndarray
    left_mm: float
    top_mm: float
    blueness: float
    """Of the ground: how much more blue than red it sends back, of both."""

    def x_mm(self, column):
        """Of a column's middle. [mm]"""
        return self.left_mm + (np.asarray(column) + 0.5) * STEP_X_MM

    def y_mm(self, row):
        """Of a row's middle. [mm]"""
        return self.top_mm + (np.asarray(row) + 0.5) * STEP_Y_MM


def straw_mask(rgb, camera, board, colours):
    """The `Mask` of a photograph."""
    import cv2

    left, top, right, bottom = board.area
    box = left + INSET_MM, top + INSET_MM, right - INSET_MM, bottom - INSET_MM
    light = colours.light(
        looked_up(rgb, flat_map(camera, box, STEP_X_MM / 2, STEP_Y_MM))[..., ::2]
    )
    light = light.reshape(light.shape[0], -1, 2, 2).mean(axis=2)
    white = colours.white.mean(axis=(0, 1))
    red, blue = light[..., 0] / white[0], light[..., 1] / white[2]
    blueness = (blue - red) / (blue + red + 1e-3)
    ground = float(np.percentile(blueness, 70))
    straw = (blueness < BLUE_SHARE * ground).astype(np.uint8)
    _bridge_joints(straw, [int((j - box[0]) / STEP_X_MM) for j in board.joints])
    straw = cv2.morphologyEx(straw, cv2.MORPH_CLOSE, np.ones((1, 5), np.uint8))
    straw = cv2.morphologyEx(straw, cv2.MORPH_CLOSE, np.ones((3, 1), np.uint8))
    return Mask(straw.astype(bool), box[0], box[1], ground)


def _bridge_joints(straw, columns):
    """Take what lies beside a joint where sheets gape, and the whole column is pale."""
    share = straw.mean(axis=0)
    for column in columns:
        low, high = column - JOINT_MM, column + JOINT_MM + 1
        usual = max(share[low - 1], share[high])
        for at in range(low, high):
            if share[at] > usual + GAPING:
                straw[:, at] = straw[:, low - 1 if at <= column else high]
