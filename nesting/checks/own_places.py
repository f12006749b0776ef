"""Where an outline lies on the table: the judge's own arithmetic, in complex numbers.

A point (x, y) is the number x + iy. To flip, x to -x, is to take the conjugate and change its
sign; to turn is to multiply; to move is to add.
"""

import cmath
import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from nesting.checks.shared_regions import not_shared, together
from nesting.marker.placement import Placement
from pieces.grainline import Point
from pieces.outline.polygon import FloatArray
from pieces.piece import PieceShape

SAME_SHAPE_MM = 0.05
"""Two outlines this near to each other are cut alike: less than scissors can follow."""

_SEAM_MM = 0.02
"""Corners on a fold edge may be a hundredth of a millimetre off it; so much bridges them."""
FOLD_LEANS_DEG = 0.11
"""A fold edge that leans more than a tenth of a degree from the arrow lies on no fold."""


@dataclass(frozen=True, eq=False)
class Lying:
    """A shape where it lies.

    Parameters
    ----------
    outline_mm
        Shape (n, 2).
    arrow_deg
        Which way its grainline arrow points, anticlockwise from x.
    fold_edge_mm
        Both ends of the fold edge, shape (2, 2), or None.
    point_names, points_mm
        Its match points: a name for each, and where, shape (k, 2).
    """

    outline_mm: FloatArray
    arrow_deg: float
    fold_edge_mm: FloatArray | None
    point_names: tuple[str, ...]
    points_mm: FloatArray


def moved(points: npt.ArrayLike, at: Placement) -> FloatArray:
    """Return points of shape (n, 2) flipped if said, then turned, then moved, mm.

    Examples
    --------
    >>> moved([(3.0, 0.0)], Placement("back", 1, 0, 90.0, True, 10.0, 20.0)).tolist()
    [[10.0, 17.0]]
    """
    pairs = np.asarray(points, dtype=np.float64).reshape(-1, 2)
    numbers = pairs[:, 0] + 1j * pairs[:, 1]
    if at.flipped:
        numbers = -np.conj(numbers)
    numbers = numbers * _rotor(at.turn_deg) + complex(at.x_mm, at.y_mm)
    return np.stack([numbers.real, numbers.imag], axis=1)


def turned(points: FloatArray, deg: float) -> FloatArray:
    """Return points of shape (n, 2) turned anticlockwise about the origin, mm."""
    numbers = (points[:, 0] + 1j * points[:, 1]) * _rotor(deg)
    return np.stack([numbers.real, numbers.imag], axis=1)


def _rotor(deg: float) -> complex:
    """Return the number that turns by so many degrees, exact for quarter turns."""
    within = math.fmod(deg, 360.0)
    quarters, rest = divmod(within, 90.0)
    exact = (1 + 0j, 1j, -1 + 0j, -1j)[int(quarters) % 4]
    return exact if rest == 0.0 else exact * cmath.rect(1.0, math.radians(rest))


def arrow_deg(tail: Point, head: Point) -> float:
    """Return which way an arrow points, degrees anticlockwise from x."""
    return math.degrees(cmath.phase(complex(*head) - complex(*tail)))


def lying(shape: PieceShape, at: Placement) -> Lying:
    """Return a shape of the cut list where a placement puts it."""
    tail, head = moved((shape.grainline.tail_mm, shape.grainline.head_mm), at).tolist()
    marks = [mark.at_mm for mark in shape.match_points]
    return Lying(
        outline_mm=moved(shape.outline_mm, at),
        arrow_deg=arrow_deg((tail[0], tail[1]), (head[0], head[1])),
        fold_edge_mm=None if shape.fold_edge_mm is None else moved(shape.fold_edge_mm, at),
        point_names=tuple(mark.name for mark in shape.match_points),
        points_mm=moved(np.array(marks, dtype=np.float64), at),
    )


def is_own_mirror_image(shape: PieceShape) -> bool:
    """Tell whether a shape with its arrow along x is the same turned over from side to side."""
    outline = shape.outline_mm
    return same_outline(outline, outline * (1.0, -1.0))


def same_outline(first: FloatArray, second: FloatArray) -> bool:
    """Tell whether two outlines are one, wherever each lies: to a twentieth of a millimetre."""
    one, other = (points - points.min(axis=0) for points in (first, second))
    if one.shape == other.shape and np.abs(one - other).max() <= SAME_SHAPE_MM / 10.0:
        return True
    if np.abs(one.max(axis=0) - other.max(axis=0)).max() > SAME_SHAPE_MM:
        return False
    between = not_shared(shapely.Polygon(one), shapely.Polygon(other))
    return bool(shapely.buffer(between, -SAME_SHAPE_MM / 2.0).is_empty)


def opened_out(half: npt.ArrayLike, fold: npt.ArrayLike) -> FloatArray | None:
    """Return the outline of a half and its mirror image about its fold edge together, mm.

    None if the two do not make one outline without a hole.

    Examples
    --------
    >>> half = [(0.0, 0.0), (3.0, 0.0), (3.0, 5.0), (0.0, 5.0)]
    >>> opened = opened_out(half, [(0.0, 0.0), (0.0, 5.0)])
    >>> opened.min(axis=0).tolist(), opened.max(axis=0).tolist()
    ([-3.0, 0.0], [3.0, 5.0])
    """
    drawn, edge = (np.asarray(one, dtype=np.float64) for one in (half, fold))
    seam = shapely.LineString(edge).buffer(_SEAM_MM, cap_style="flat")
    images = shapely.Polygon(mirrored(drawn, edge))
    both = together(together(shapely.Polygon(drawn), seam), images)
    if isinstance(both, shapely.Polygon) and not both.interiors:
        corners: FloatArray = shapely.get_coordinates(both.exterior)[:-1]
        return corners
    return None


def mirrored(points: npt.ArrayLike, fold: npt.ArrayLike) -> FloatArray:
    """Return points of shape (n, 2) mirrored about the line through the two ends of a fold edge."""
    pairs, ends = (np.asarray(one, dtype=np.float64).reshape(-1, 2) for one in (points, fold))
    first, last = complex(*ends[0]), complex(*ends[1])
    along = (last - first) / abs(last - first)
    numbers = pairs[:, 0] + 1j * pairs[:, 1]
    images = first + along * np.conj((numbers - first) / along)
    return np.stack([images.real, images.imag], axis=1)
