"""What is paper and what is floor: paper is lighter than the floor, or of another colour.

The light is allowed to fall unevenly: the floor's colour is fitted by a surface of second degree
in the logarithm of the light, and paper is what stands out from it (threshold after Otsu 1979,
"A threshold selection method from gray-level histograms").
"""

from dataclasses import dataclass

import numpy as np

from pieces.errors import PhotoError
from pieces.outline.polygon import FloatArray
from pieces.photo.library import opencv
from pieces.photo.reading import Photo, Pixels

_WORK_PIXELS = 4_000_000
_FIT_PX = 220
_ROUNDS = 4
_LEAST_STEP = 0.16
_COLOUR_WEIGHT = 2.0


@dataclass(frozen=True, eq=False)
class Mask:
    """Where there is paper, on a reduced copy of the photograph.

    Parameters
    ----------
    paper
        Shape (height, width), 255 on paper and 0 on the floor.
    share
        Pixels of the copy for one pixel of the photograph.
    """

    paper: Pixels
    share: float

    def to_photo_px(self, at: FloatArray) -> FloatArray:
        """Return places of the copy as places of the photograph."""
        px: FloatArray = (at + 0.5) / self.share - 0.5
        return px


def paper_mask(photo: Photo, rings_px: list[FloatArray], sheets_px: list[FloatArray]) -> Mask:
    """Return where there is paper.

    Parameters
    ----------
    photo
        The photograph.
    rings_px
        Points of the floor, most of them bare: around each known sheet, shape (n, 2), pixels.
    sheets_px
        Corners of the known sheets, which are left out when the threshold is sought.

    Raises
    ------
    PhotoError
        If paper and floor cannot be told apart.
    """
    cv = opencv()
    width, height = photo.size_px
    share = min(1.0, (_WORK_PIXELS / (width * height)) ** 0.5)
    small = cv.resize(photo.pixels, None, fx=share, fy=share, interpolation=cv.INTER_AREA)
    logs = np.log(cv.GaussianBlur(small, (0, 0), 0.8).astype(np.float32) + 6.0)
    tiny_share = min(1.0, _FIT_PX / max(logs.shape[:2]))
    tiny = cv.resize(logs, None, fx=tiny_share, fy=tiny_share, interpolation=cv.INTER_AREA)
    is_sheet = np.zeros(tiny.shape[:2], dtype=np.uint8)
    for corners in sheets_px:
        cv.fillPoly(is_sheet, [np.round(corners * share * tiny_share).astype(np.int32)], 1)
    start = _start(tiny, np.concatenate(rings_px) * share * tiny_share)
    light, level = _fitted(tiny, start, is_sheet.astype(np.bool_))
    distance = _distance(logs - _surface(light, logs.shape[1], logs.shape[0]))
    mask = (distance > level).astype(np.uint8) * 255
    return Mask(mask, share)


def _start(tiny: FloatArray, ring: FloatArray) -> FloatArray:
    """Return the floor's colour, the middle one along the rings, shape (3,)."""
    at = np.round(ring).astype(int)
    inside = ((at >= 0) & (at < (tiny.shape[1], tiny.shape[0]))).all(axis=1)
    if inside.sum() < 12:
        raise PhotoError("there is no bare floor around the sheet; leave a hand's width free")
    colour: FloatArray = np.median(tiny[at[inside, 1], at[inside, 0]], axis=0)
    return colour


def _fitted(tiny: FloatArray, start: FloatArray, is_sheet: np.ndarray) -> tuple[FloatArray, float]:
    """Return the coefficients of the floor's light, shape (6, 3), and the threshold."""
    high, wide = tiny.shape[:2]
    terms = _terms(wide, high)
    light = np.zeros((6, 3))
    light[0] = start
    level = 0.0
    for _ in range(_ROUNDS):
        distance = _distance(tiny - (terms @ light))
        level = _threshold(distance[~is_sheet])
        floor = (distance < level) & ~is_sheet
        if floor.mean() < 0.05:
            raise PhotoError("there is too little bare floor in the photograph; step back")
        light = np.linalg.lstsq(terms[floor], tiny[floor], rcond=None)[0]
    distance = _distance(tiny - (terms @ light))
    if is_sheet.any() and np.median(distance[is_sheet]) < 1.5 * level:
        raise PhotoError(
            "the floor is hardly darker than the paper; lay the pieces on something plain and dark"
        )
    return light, level


def _threshold(distance: FloatArray) -> float:
    cv = opencv()
    top = max(float(np.quantile(distance, 0.995)), 1e-3)
    levels = np.clip(255.0 * distance / top, 0, 255).astype(np.uint8)
    level, _ = cv.threshold(levels[None, :], 0, 255, cv.THRESH_BINARY | cv.THRESH_OTSU)
    return max(float(level + 0.5) * top / 255.0, _LEAST_STEP)


def _distance(apart: FloatArray) -> FloatArray:
    """Return how far colours stand out from the floor; what is only darker does not."""
    lighter = apart.mean(axis=2)
    colour = np.sqrt(((apart - lighter[..., None]) ** 2).sum(axis=2))
    distance: FloatArray = np.hypot(np.maximum(lighter, 0.0), _COLOUR_WEIGHT * colour)
    return distance


def _terms(wide: int, high: int) -> FloatArray:
    x = np.linspace(-1.0, 1.0, wide, dtype=np.float32)[None, :]
    y = np.linspace(-1.0, 1.0, high, dtype=np.float32)[:, None]
    one = np.ones((high, wide), dtype=np.float32)
    return np.stack((one, x * one, y * one, x * x * one, x * y, y * y * one), axis=2)


def _surface(light: FloatArray, wide: int, high: int) -> FloatArray:
    surface: FloatArray = _terms(wide, high) @ light.astype(np.float32)
    return surface
