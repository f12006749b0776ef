"""How far a traced outline is from the true one, wherever it lies and however it is turned."""

from dataclasses import dataclass

import numpy as np
import shapely
from scipy.optimize import least_squares

from pieces.polygon import FloatArray, area_mm2


@dataclass(frozen=True)
class Match:
    """Share of the edge within 2 mm, error of the area as a share, and the largest miss, mm."""

    within_2mm: float
    area_error: float
    largest_mm: float
    turn_deg: float


def match(traced_mm: FloatArray, true_mm: FloatArray, *, turn_deg: float = 0.0) -> Match:
    """Lay one outline best on the other, moved and turned but not scaled, and measure.

    ``turn_deg`` is where to start.
    """
    points = _every_mm(traced_mm)
    ring = shapely.LinearRing(true_mm)
    middle, home = points.mean(axis=0), np.array(shapely.Polygon(true_mm).centroid.coords[0])
    middle = np.array(shapely.Polygon(traced_mm).centroid.coords[0])

    def moved(pose: FloatArray, what: FloatArray) -> FloatArray:
        c, s = np.cos(pose[2]), np.sin(pose[2])
        return (what - middle) @ np.array([[c, s], [-s, c]]) + home + pose[:2]

    def misses(pose: FloatArray) -> FloatArray:
        return np.asarray(shapely.distance(shapely.points(moved(pose, points[::4])), ring))

    start = np.array([0.0, 0.0, np.radians(turn_deg)])
    pose = least_squares(misses, start, diff_step=1e-4, x_scale=(1.0, 1.0, 0.01)).x
    there = np.asarray(shapely.distance(shapely.points(moved(pose, points)), ring))
    own = shapely.LinearRing(moved(pose, traced_mm))
    back = np.asarray(shapely.distance(shapely.points(_every_mm(true_mm)), own))
    share = min(float((there <= 2.0).mean()), float((back <= 2.0).mean()))
    error = area_mm2(traced_mm) / area_mm2(true_mm) - 1.0
    return Match(share, error, float(max(there.max(), back.max())), float(np.degrees(pose[2])))


def _every_mm(outline: FloatArray) -> FloatArray:
    ring = shapely.LinearRing(outline)
    at = np.arange(0.0, ring.length, 1.0)
    return np.asarray(shapely.get_coordinates(shapely.line_interpolate_point(ring, at)))
