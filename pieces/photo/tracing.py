"""From the mask of paper to outlines in mm, each edge found anew between the pixels."""

from dataclasses import dataclass

import numpy as np
import shapely

from pieces.outline.polygon import FloatArray
from pieces.photo.ground import Mask
from pieces.photo.library import opencv
from pieces.photo.plane import Plane
from pieces.photo.profiles import crossings
from pieces.photo.reading import Photo

TOLERANCE_MM = 0.3
"""No point of a traced outline is moved further than this to save vertices."""
LEAST_PIECE_MM2 = 900.0
_SMOOTH_MM = 0.8
_STEP_MM = 1.0
_REACH_MM = 3.0
_OPEN_MM, _CLOSE_MM = 2.5, 1.5


@dataclass(frozen=True, eq=False)
class Traced:
    """Something made of paper, as it was traced.

    Parameters
    ----------
    outline_px
        Its edge in the photograph, shape (n, 2).
    outline_mm
        The same on the floor, fine and unsmoothed, shape (n, 2).
    """

    outline_px: FloatArray
    outline_mm: FloatArray


def trace(photo: Photo, mask: Mask, plane: Plane) -> tuple[Traced, ...]:
    """Return everything made of paper that is larger than a stamp, the largest first."""
    cv = opencv()
    middle = plane.to_mm(0.5 * np.array([photo.size_px], dtype=np.float64))
    scale = float(plane.px_per_mm(middle)[0]) * mask.share
    paper = _brushed(mask.paper, scale)
    found = []
    for contour in cv.findContours(paper, cv.RETR_EXTERNAL, cv.CHAIN_APPROX_NONE)[0]:
        if len(contour) < 12:
            continue
        chain = mask.to_photo_px(contour.reshape(-1, 2).astype(np.float64))
        rough_mm = plane.to_mm(chain)
        if not np.isfinite(rough_mm).all() or shapely.Polygon(rough_mm).area < LEAST_PIECE_MM2:
            continue
        at_px = _edge(photo, chain, plane)
        found.append(Traced(at_px, plane.to_mm(at_px)))
    return tuple(sorted(found, key=lambda one: -shapely.Polygon(one.outline_mm).area))


def smooth_outline(outline_mm: FloatArray) -> FloatArray:
    """Return a traced outline smoothed, and with as few vertices as the tolerance allows.

    The smoothing is a bell curve of 0.8 mm along the edge: it rounds a square corner by 0.5 mm.
    """
    ring = _spaced(outline_mm, 0.5)
    smooth = _along(ring, _SMOOTH_MM / 0.5)
    polygon = shapely.simplify(shapely.make_valid(shapely.Polygon(smooth)), TOLERANCE_MM)
    parts = [part for part in shapely.get_parts(polygon) if part.geom_type == "Polygon"]
    largest = max(parts, key=lambda part: part.area)
    outline: FloatArray = shapely.get_coordinates(largest.exterior)[:-1]
    return outline


def _brushed(paper: np.ndarray, px_per_mm: float) -> np.ndarray:
    """Return the mask without specks and threads, and with drawn lines at its edge closed."""
    cv = opencv()
    for how, size_mm in ((cv.MORPH_CLOSE, _CLOSE_MM), (cv.MORPH_OPEN, _OPEN_MM)):
        size = max(1, round(size_mm * px_per_mm)) | 1
        brush = cv.getStructuringElement(cv.MORPH_ELLIPSE, (size, size))
        paper = cv.morphologyEx(paper, how, brush)
    return paper


def _edge(photo: Photo, chain_px: FloatArray, plane: Plane) -> FloatArray:
    """Return the edge near a chain of pixels, a point for each millimetre."""
    scale = plane.px_per_mm(plane.to_mm(chain_px.mean(axis=0, keepdims=True)))[0]
    points = _along(_spaced(chain_px, _STEP_MM * scale), 1.0)
    ahead = np.roll(points, -2, axis=0) - np.roll(points, 2, axis=0)
    ahead /= np.maximum(np.linalg.norm(ahead, axis=1, keepdims=True), 1e-9)
    x, y = points.T
    turning = np.sign((x * np.roll(y, -1) - y * np.roll(x, -1)).sum())
    out = np.column_stack((ahead[:, 1], -ahead[:, 0])) * turning
    reach = _REACH_MM * plane.px_per_mm(plane.to_mm(points))
    at, good = crossings(photo.grey, points, out, np.where(np.isfinite(reach), reach, 1.0))
    calm = np.median(np.stack([np.roll(at, i) for i in range(-3, 4)]), axis=0)
    at = np.where(good & (np.abs(at - calm) < 0.4 * reach), at, calm)
    edge: FloatArray = points + at[:, None] * out
    return edge


def _spaced(ring: FloatArray, step: float) -> FloatArray:
    """Return points at even steps around a ring."""
    closed = np.concatenate((ring, ring[:1]))
    ways = np.concatenate(([0.0], np.hypot(*np.diff(closed, axis=0).T).cumsum()))
    count = max(12, round(ways[-1] / step))
    at = np.linspace(0.0, ways[-1], count, endpoint=False)
    return np.column_stack([np.interp(at, ways, closed[:, axis]) for axis in (0, 1)])


def _along(ring: FloatArray, sigma: float) -> FloatArray:
    """Return a ring smoothed by a bell curve along it, in steps of its points."""
    reach = max(1, int(np.ceil(3.0 * sigma)))
    weights = np.exp(-0.5 * (np.arange(-reach, reach + 1) / sigma) ** 2)
    weights /= weights.sum()
    smooth = np.zeros_like(ring)
    for shift, weight in zip(range(-reach, reach + 1), weights, strict=True):
        smooth += weight * np.roll(ring, -shift, axis=0)
    return smooth
