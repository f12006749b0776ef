"""How far a traced outline is from the true one, wherever it lies and however it is turned."""

from dataclasses import dataclass

import numpy as np
import shapely
from scipy.optimize import least_squares

from pieces.outline.polygon import FloatArray, area_mm2
from tests.pieces.photo.rendering import Laid


@dataclass(frozen=True)
class Match:
    """Share of the edge within 2 mm, error of the area as a share, and misses, mm.

    Nineteen places of twenty miss by less than ``most_mm``, all by ``largest_mm`` at most.
    """

    within_2mm: float
    area_error: float
    most_mm: float
    largest_mm: float
    turn_deg: float


def match(traced_mm: FloatArray, piece: Laid) -> Match:
    """Lay a traced outline best on the true one, moved and turned but not scaled, and measure."""
    true_mm = piece.outline_mm
    points = _every_mm(traced_mm)
    ring = shapely.LinearRing(true_mm)
    home = np.array(shapely.Polygon(true_mm).centroid.coords[0])
    middle = np.array(shapely.Polygon(traced_mm).centroid.coords[0])

    def moved(pose: FloatArray, what: FloatArray) -> FloatArray:
        c, s = np.cos(pose[2]), np.sin(pose[2])
        return (what - middle) @ np.array([[c, s], [-s, c]]) + home + pose[:2]

    def misses(pose: FloatArray) -> FloatArray:
        return np.asarray(shapely.distance(shapely.points(moved(pose, points[::4])), ring))

    start = np.array([0.0, 0.0, np.radians(upright_turn(piece))])
    pose = least_squares(misses, start, diff_step=1e-4, x_scale=(1.0, 1.0, 0.01)).x
    there = np.asarray(shapely.distance(shapely.points(moved(pose, points)), ring))
    own = shapely.LinearRing(moved(pose, traced_mm))
    back = np.asarray(shapely.distance(shapely.points(_every_mm(true_mm)), own))
    share = min(float((there <= 2.0).mean()), float((back <= 2.0).mean()))
    error = area_mm2(traced_mm) / area_mm2(true_mm) - 1.0
    most = max(float(np.quantile(there, 0.95)), float(np.quantile(back, 0.95)))
    largest = max(float(there.max()), float(back.max()))
    return Match(share, error, most, largest, float(np.degrees(pose[2])))


def upright_turn(piece: Laid) -> float:
    """Return by how many degrees a piece whose drawn grainline was set upright is to be turned."""
    if piece.grain_mm is None:
        return 0.0
    x, y = piece.grain_mm[1] - piece.grain_mm[0]
    return float(np.degrees(np.arctan2(y, x))) - 90.0


def _every_mm(outline: FloatArray) -> FloatArray:
    ring = shapely.LinearRing(outline)
    at = np.arange(0.0, ring.length, 1.0)
    return np.asarray(shapely.get_coordinates(shapely.line_interpolate_point(ring, at)))
