"""A grainline drawn on a piece: a long straight dark line well inside it."""

from dataclasses import dataclass

import numpy as np
import shapely

from pieces.grainline import Grainline, Point
from pieces.outline.polygon import FloatArray
from pieces.photo.library import opencv
from pieces.photo.plane import Plane
from pieces.photo.reading import Photo

_LEAST_SHARE, _LEAST_MM = 0.2, 50.0
_MARGIN_SHARE, _MARGIN_MM = 0.08, 18.0
_MOST_PIXELS = 2_500_000
_LINE_MM = 3.0
_HEAD_MM = 14.0
_DARKER = 0.12
_TWO_WAYS_DEG = 4.0


@dataclass(frozen=True)
class DrawnGrain:
    """A line taken for the grainline.

    Parameters
    ----------
    tail_mm, head_mm
        Its ends on the floor.
    has_head
        Whether one end has an arrow head; otherwise the upper end is taken for the head.
    others
        How many other lines as long run another way.
    """

    tail_mm: Point
    head_mm: Point
    has_head: bool
    others: int

    @property
    def angle_deg(self) -> float:
        """Direction from tail to head, degrees anticlockwise from the photograph's right."""
        return Grainline(self.tail_mm, self.head_mm).angle_deg


def drawn_grain(photo: Photo, plane: Plane, outline_mm: FloatArray) -> DrawnGrain | None:
    """Return the longest straight dark line inside a piece, or None.

    Lines near the edge are passed over: they are where it is sewn.
    """
    low, high = outline_mm.min(axis=0), outline_mm.max(axis=0)
    wide, tall = (high - low).tolist()
    px_per_mm = min(2.0, (_MOST_PIXELS / max(wide * tall, 1.0)) ** 0.5)
    flat = _flattened(photo, plane, low, high, px_per_mm)
    margin = min(_MARGIN_MM, _MARGIN_SHARE * min(wide, tall))
    ink = _ink(flat, px_per_mm) & _inside(flat.shape, outline_mm, low, px_per_mm, margin)
    runs = _runs(ink, px_per_mm, max(_LEAST_MM, _LEAST_SHARE * max(wide, tall)))
    if not len(runs):
        return None
    lengths = np.hypot(*(runs[:, 1] - runs[:, 0]).T)
    best = int(lengths.argmax())
    turns = np.degrees(np.arctan2(*(runs[:, 1] - runs[:, 0]).T[::-1]))
    apart = np.abs((turns - turns[best] + 90.0) % 180.0 - 90.0)
    others = int(((apart > _TWO_WAYS_DEG) & (lengths > 0.8 * lengths[best])).sum())
    start, end, has_head = _directed(ink, runs[best], px_per_mm)
    return DrawnGrain(_point(start, low, px_per_mm), _point(end, low, px_per_mm), has_head, others)


def _flattened(
    photo: Photo, plane: Plane, low: FloatArray, high: FloatArray, px_per_mm: float
) -> np.ndarray:
    """Return the grey levels over the box of a piece, a row for each step upward."""
    cv = opencv()
    wide, tall = (np.ceil((high - low) * px_per_mm).astype(int) + 1).tolist()
    x, y = np.meshgrid(np.arange(wide), np.arange(tall))
    at_mm = low + np.column_stack((x.ravel(), y.ravel())) / px_per_mm
    maps = plane.to_px(at_mm).astype(np.float32).reshape(tall, wide, 2)
    flat: np.ndarray = cv.remap(
        photo.grey, maps[..., 0], maps[..., 1], cv.INTER_LINEAR, borderMode=cv.BORDER_CONSTANT
    )
    return flat


def _ink(flat: np.ndarray, px_per_mm: float) -> np.ndarray:
    """Return what is clearly darker than the paper a few millimetres around it."""
    cv = opencv()
    size = max(3, round(2.0 * _LINE_MM * px_per_mm)) | 1
    brush = cv.getStructuringElement(cv.MORPH_ELLIPSE, (size, size))
    paper = cv.morphologyEx(flat, cv.MORPH_CLOSE, brush)
    dark: np.ndarray = (paper.astype(np.float32) - flat) > _DARKER * (paper + 8.0)
    return dark


def _inside(
    shape: tuple[int, ...], outline_mm: FloatArray, low: FloatArray, px_per_mm: float, margin: float
) -> np.ndarray:
    cv = opencv()
    mask = np.zeros(shape[:2], dtype=np.uint8)
    inner = shapely.make_valid(shapely.Polygon(outline_mm)).buffer(-margin)
    for part in shapely.get_parts(inner):
        if part.geom_type == "Polygon":
            corners = (shapely.get_coordinates(part.exterior) - low) * px_per_mm
            cv.fillPoly(mask, [np.round(corners).astype(np.int32)], 1)
    return mask.astype(np.bool_)


def _runs(ink: np.ndarray, px_per_mm: float, least_mm: float) -> FloatArray:
    """Return straight runs of ink, shape (n, 2, 2), pixels of the flattened picture."""
    cv = opencv()
    found = cv.HoughLinesP(
        ink.astype(np.uint8) * 255,
        0.5,
        np.pi / 720.0,
        threshold=max(20, round(0.5 * least_mm * px_per_mm)),
        minLineLength=least_mm * px_per_mm,
        maxLineGap=6.0 * px_per_mm,
    )
    if found is None:
        return np.zeros((0, 2, 2))
    return np.asarray(found, dtype=np.float64).reshape(-1, 2, 2)


def _directed(
    ink: np.ndarray, run: FloatArray, px_per_mm: float
) -> tuple[FloatArray, FloatArray, bool]:
    """Return tail, head, and whether an arrow head tells which is which."""
    start, end = run if run[1, 1] >= run[0, 1] else run[::-1]
    dots = np.argwhere(ink)[:, ::-1].astype(np.float64)
    counts = []
    along = (end - start) / np.linalg.norm(end - start)
    for tip, way in ((start, along), (end, -along)):
        off = dots - tip
        ahead, aside = off @ way, np.abs(off @ np.array([-way[1], way[0]]))
        reach = _HEAD_MM * px_per_mm
        wing = (np.abs(ahead) < reach) & (aside < reach) & (aside > 1.5 * px_per_mm)
        counts.append(int(wing.sum()))
    least = 8.0 * px_per_mm**2
    if counts[0] > max(least, 1.6 * counts[1]):
        return end, start, True
    return start, end, counts[1] > max(least, 1.6 * counts[0])


def _point(at: FloatArray, low: FloatArray, px_per_mm: float) -> Point:
    x, y = (low + at / px_per_mm).tolist()
    return x, y
