"""The board in a photograph: its markers, and the camera that saw them so.

One photograph fixes the camera: where it was, its focal length (loosely), how its lens
bends straight lines, and how far each sheet lies from where it should.
"""

import dataclasses
import functools

import numpy as np

from sheafwright.measure.board import PER_SHEET
from sheafwright.measure.light import decoded

USUAL_FOCAL = 0.75
"""Of the longer side: a phone's main lens, 27 mm on film."""
FOCAL_SD, KNOWN_FOCAL_SD = 0.12, 0.03
K1_SD, K2_SD = 0.08, 0.05
CORNER_SD_PX = 0.15
SHEET_SD_MM, SHEET_TURN_SD = 0.4, 0.0012
OUTWARD = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]])
"""From a marker's middle to its corners."""
LEAST_MARKERS = 6
HALF_FROM_PX = 3200
"""Wider pictures are searched at half their size."""
FAR_OFF = 0.03
"""Of a picture's width: no lens bends a true marker farther from its place."""
SUBPIXEL_WINDOW = 5
LENS = slice(0, 3)
N_CAMERA = 10
SPREAD = 9
"""Where a fit keeps how much larger markers look than they are. [mm]"""
SPREAD_SD_MM = 0.3
MOST_STEPS, STEP, ENOUGH, FAR_MISS = 25, 1e-6, 0.05, 4.0


@dataclasses.dataclass(frozen=True)
class Camera:
    """What it takes to go from the board to the picture."""

    focal_px: float
    centre: tuple[float, float]
    k1: float
    k2: float
    turn: np.ndarray
    """(3, 3), from the board's axes (right, down, into it) to the camera's."""
    shift: np.ndarray
    sheets: np.ndarray
    """(sheet, 3): how far each lies aside, below [mm], and turned."""
    error_mm: float
    """How far markers lie from where they should, root mean square. [mm]"""
    focal_sd: float

    @functools.cached_property
    def place(self):
        """Where the camera was: right, down, and above the board. [mm]"""
        place = -self.turn.T @ self.shift
        return place * [1, 1, -1]

    @property
    def tilt_deg(self):
        """Between the camera's way and straight down. [°]"""
        return float(np.degrees(np.arccos(np.clip(self.turn[2, 2], -1, 1))))

    def project(self, points, height=0.0):
        """Where points of the board stand in the picture: (..., xy). [pixel]"""
        points = np.asarray(points)
        flat = points.reshape(-1, 2)
        local = flat @ self.turn[:, :2].T - height * self.turn[:, 2] + self.shift
        seen = _bent(local, self.focal_px, self.centre, self.k1, self.k2)
        return seen.reshape(points.shape)


def _bent(local, focal, centre, k1, k2):
    at = local[:, :2] / local[:, 2:]
    squared = (at * at).sum(axis=1, keepdims=True)
    return focal * at * (1 + squared * (k1 + k2 * squared)) + centre


def find_markers(rgb, board):
    """Numbers and corners of the board's markers: (marker,), (marker, corner, xy)."""
    import cv2

    grey = cv2.cvtColor(rgb, cv2.COLOR_RGB2GRAY)
    halved = max(grey.shape) > HALF_FROM_PX
    small = cv2.resize(grey, None, fx=0.5, fy=0.5, interpolation=cv2.INTER_AREA)
    corners, numbers, _ = _detector().detectMarkers(small if halved else grey)
    if numbers is None:
        return np.empty(0, int), np.empty((0, 4, 2))
    corners = np.concatenate(corners).astype(np.float32)
    # In light, not in code: there, white spreads over black where the lens blurs.
    grey = cv2.LUT(grey, (255 * decoded(np.arange(256) / 255)).astype(np.uint8))
    corners = corners * 2 + 0.5 if halved else corners
    numbers = numbers.ravel()
    known = (numbers < len(board.numbers)) & _once(numbers)
    return numbers[known], _refined(grey, corners[known])


def _once(numbers):
    return np.bincount(numbers, minlength=100)[numbers] == 1


@functools.cache
def _detector():
    import cv2

    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_5X5_100)
    how = cv2.aruco.DetectorParameters()
    how.adaptiveThreshWinSizeMin, how.adaptiveThreshWinSizeMax = 13, 33
    how.adaptiveThreshWinSizeStep = 20
    how.minMarkerPerimeterRate, how.maxMarkerPerimeterRate = 0.015, 0.5
    how.errorCorrectionRate = 0.3
    return cv2.aruco.ArucoDetector(dictionary, how)


def _refined(grey, corners):
    """Corners to a fraction of a pixel."""
    import cv2

    if not len(corners):
        return corners.astype(float)
    window = (SUBPIXEL_WINDOW, SUBPIXEL_WINDOW)
    end = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_MAX_ITER, 30, 0.01)
    flat = np.ascontiguousarray(corners.reshape(-1, 1, 2))
    return cv2.cornerSubPix(grey, flat, window, (-1, -1), end).reshape(-1, 4, 2)


def fit_camera(numbers, corners, board, size, focal_px=None):
    """The camera that saw these markers, and which of them agree with it.

    Parameters
    ----------
    size : (width, height) [pixel]

    Returns
    -------
    camera : Camera or None
        None if too few markers agree.
    kept : ndarray of bool, shape (marker,)
    """
    kept = _agreeing(numbers, corners, board, size)
    if kept.sum() < LEAST_MARKERS:
        return None, kept
    fitted = _fit(numbers[kept], corners[kept], board, size, focal_px)
    return fitted, kept


def _agreeing(numbers, corners, board, size):
    """Markers that one flat board can show, give or take what a lens bends."""
    import cv2

    if len(numbers) < LEAST_MARKERS:
        return np.zeros(len(numbers), bool)
    true = np.array([board.marker(n) for n in numbers]).reshape(-1, 2)
    seen = corners.reshape(-1, 2)
    _, inside = cv2.findHomography(true, seen, cv2.RANSAC, FAR_OFF * max(size))
    if inside is None:
        return np.zeros(len(numbers), bool)
    return inside.reshape(-1, 4).all(axis=1)


def _fit(numbers, corners, board, size, focal_px):
    import cv2

    true = np.array([board.marker(n) for n in numbers])
    problem = _Problem(true, corners, numbers // PER_SHEET, board, size, focal_px)
    try:
        camera = problem.camera(*_least(problem.residuals, problem.start()))
    except (cv2.error, np.linalg.LinAlgError):
        # Markers that no camera could see so.
        return None
    return camera if np.isfinite(camera.error_mm) else None


def _least(residuals, guess):
    """Least squares, in which few far misses count little: the guess, its covariance.

    Gauss and Newton's way; the misses are smooth and the start is near.
    """
    for _ in range(MOST_STEPS):
        misses = residuals(guess)
        slopes = _slopes(residuals, guess, misses)
        weights = 1 / np.sqrt(1 + (misses / FAR_MISS) ** 2)
        normal = slopes.T @ (slopes * weights[:, None])
        step = np.linalg.solve(normal, slopes.T @ (weights * misses))
        guess = guess - step
        if np.abs(step * np.sqrt(np.diag(normal))).max() < ENOUGH:
            break
    return guess, np.linalg.inv(normal)


def _slopes(residuals, guess, misses):
    steps = STEP * np.eye(len(guess))
    return np.stack([(residuals(guess + s) - misses) / STEP for s in steps], axis=1)


class _Problem:
    """What is to be made small: corners' misses, and oddness of lens and sheets."""

    def __init__(self, true, seen, sheet, board, size, focal_px):
        self.true, self.seen, self.sheet = true, seen, sheet
        self.n_sheets = board.sheets
        self.mid = np.array([0.0, board.height_mm / 2])
        self.mids = (np.arange(board.sheets) + 0.5) * board.sizes.sheet_width_mm
        self.centre = (size[0] - 1) / 2, (size[1] - 1) / 2
        self.usual = focal_px or USUAL_FOCAL * max(size)
        self.focal_sd = KNOWN_FOCAL_SD if focal_px else FOCAL_SD

    def start(self):
        import cv2

        flat = self.true.reshape(-1, 2)
        points = np.column_stack([flat, np.zeros(len(flat))])
        lens = np.array(
            [
                [self.usual, 0, self.centre[0]],
                [0, self.usual, self.centre[1]],
                [0, 0, 1],
            ]
        )
        seen = self.seen.reshape(-1, 2).astype(float)
        _, turn, shift = cv2.solvePnP(points, seen, lens, None)
        pose = np.concatenate([turn.ravel(), shift.ravel() / 1000])
        return np.concatenate([np.zeros(3), pose, np.zeros(1 + 3 * self.n_sheets)])

    def residuals(self, guess):
        misses = (self._seen_by(guess) - self.seen) / CORNER_SD_PX
        sheets = self._sheets(guess) / [SHEET_SD_MM, SHEET_SD_MM, SHEET_TURN_SD]
        lens = guess[LENS] / [self.focal_sd, K1_SD, K2_SD]
        spread = guess[SPREAD] / SPREAD_SD_MM
        return np.concatenate([misses.ravel(), lens, [spread], sheets.ravel()])

    def _sheets(self, guess):
        return guess[N_CAMERA:].reshape(-1, 3) * [1, 1, 1e-3]

    def _seen_by(self, guess):
        points = self._moved(self._sheets(guess)) + guess[SPREAD] * OUTWARD
        turn = _turn(guess[3:6])
        local = points.reshape(-1, 2) @ turn[:, :2].T + guess[6:9] * 1000
        focal = self.usual * np.exp(guess[0])
        seen = _bent(local, focal, self.centre, guess[1], guess[2])
        return seen.reshape(points.shape)

    def _moved(self, sheets):
        """Corners where their sheets really lie."""
        moves = sheets[self.sheet][:, None, :]
        across = self.true[..., 0] - self.mids[self.sheet][:, None]
        down = self.true[..., 1] - self.mid[1]
        turned = np.stack([-down, across], axis=-1) * moves[..., 2:]
        return self.true + moves[..., :2] + turned

    def camera(self, guess, covariance):
        miss = np.hypot(*(self._seen_by(guess) - self.seen).reshape(-1, 2).T)
        scale = self.mm_per_px(guess)
        return Camera(
            focal_px=float(self.usual * np.exp(guess[0])),
            centre=self.centre,
            k1=float(guess[1]),
            k2=float(guess[2]),
            turn=_turn(guess[3:6]),
            shift=guess[6:9] * 1000,
            sheets=self._sheets(guess),
            error_mm=float(np.sqrt(np.mean(miss**2)) * scale),
            focal_sd=float(np.sqrt(covariance[0, 0])),
        )

    def mm_per_px(self, guess):
        """On the board's middle. [mm]"""
        return float(guess[8] * 1000 / (self.usual * np.exp(guess[0])))


def _turn(vector):
    """The rotation of a vector: (3, 3)."""
    angle = np.sqrt((vector * vector).sum())
    if angle < 1e-12:
        return np.eye(3)
    x, y, z = vector / angle
    cross = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    return np.eye(3) + np.sin(angle) * cross + (1 - np.cos(angle)) * cross @ cross
