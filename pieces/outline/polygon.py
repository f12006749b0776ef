"""Outlines: the one agreed form of a polygon, and its simple measures."""

import re

import numpy as np
import numpy.typing as npt
import shapely

from pieces.errors import OutlineError

FloatArray = npt.NDArray[np.float64]

LARGEST_COORDINATE = 1e9
"""Beyond this a coordinate is a slip of units, and products of two lose their digits."""


def as_outline(points: npt.ArrayLike, *, unit: str = "mm") -> FloatArray:
    """Bring points into the agreed form of an outline, or refuse them.

    An outline that is already good comes back with the same vertices in the same order. A
    clockwise one is reversed and keeps its first vertex. Vertices on a straight edge are kept.

    Parameters
    ----------
    points
        Vertices in order around the polygon, shape (n, 2). The first vertex may be repeated at
        the end, and a vertex may be repeated in place; the repeats are dropped.
    unit
        Unit of the coordinates, used only to word refusals; ``""`` if there is none.

    Returns
    -------
    FloatArray
        Read-only copy, shape (m, 2), m at least 3, anticlockwise, first vertex not repeated.

    Raises
    ------
    OutlineError
        If the points are not finite pairs, are fewer than three, enclose no area, or if the
        outline crosses or touches itself.

    Examples
    --------
    >>> as_outline([(0, 0), (0, 2), (3, 2), (0, 0)]).tolist()
    [[0.0, 0.0], [3.0, 2.0], [0.0, 2.0]]
    """
    outline = _without_repeats(_finite_pairs(points))
    if len(outline) < 3:
        raise OutlineError(f"outline has {len(outline)} different vertices; it needs at least 3")
    area = signed_area_mm2(outline)
    _refuse_crossing(outline, area, f" {unit}" if unit else "")
    if area < 0:
        outline = reversed_order(outline)
    outline.setflags(write=False)
    return outline


def reversed_order(points: FloatArray) -> FloatArray:
    """Return the vertices in the other direction, the first one still first, shape (n, 2).

    Examples
    --------
    >>> reversed_order(np.array([[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]])).tolist()
    [[0.0, 0.0], [0.0, 1.0], [1.0, 0.0]]
    """
    return np.concatenate((points[:1], points[:0:-1]))


def signed_area_mm2(points: FloatArray) -> float:
    """Return the area inside vertices of shape (n, 2), mm²: above zero if anticlockwise.

    Examples
    --------
    >>> signed_area_mm2(np.array([[0.0, 0.0], [0.0, 2.0], [3.0, 0.0]]))
    -3.0
    """
    x, y = (points - points[0]).T  # near the origin, so that far outlines lose no digits
    return float(0.5 * (x[:-1] @ y[1:] - x[1:] @ y[:-1]))


def area_mm2(points: FloatArray) -> float:
    """Return the area inside vertices of shape (n, 2), mm², whichever way they run.

    Examples
    --------
    >>> area_mm2(np.array([[0.0, 0.0], [0.0, 2.0], [3.0, 0.0]]))
    3.0
    """
    return abs(signed_area_mm2(points))


def bounds_mm(points: FloatArray) -> tuple[float, float, float, float]:
    """Return smallest x, smallest y, largest x and largest y of points of shape (n, 2), mm.

    Examples
    --------
    >>> bounds_mm(np.array([[0.0, 5.0], [3.0, -1.0]]))
    (0.0, -1.0, 3.0, 5.0)
    """
    (x_low, y_low), (x_high, y_high) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
    return x_low, y_low, x_high, y_high


def _finite_pairs(points: npt.ArrayLike) -> FloatArray:
    try:
        pairs = np.array(points, dtype=np.float64)
    except (TypeError, ValueError, OverflowError):
        raise OutlineError("outline is not a list of (x, y) pairs of numbers") from None
    if pairs.ndim != 2 or pairs.shape[1] != 2:
        raise OutlineError(
            f"outline has shape {pairs.shape}; it must be a list of (x, y) pairs, shape (n, 2)"
        )
    good = (np.abs(pairs) <= LARGEST_COORDINATE).all(axis=1)  # False for NaN too
    if not good.all():
        first = int(np.argmin(good))
        x, y = pairs[first]
        raise OutlineError(
            f"outline vertex {first + 1} is ({x:g}, {y:g}); coordinates must be finite and at "
            f"most {LARGEST_COORDINATE:g}, so check the units"
        )
    return pairs


def _without_repeats(pairs: FloatArray) -> FloatArray:
    """Drop each vertex that equals the one before it; the first comes after the last."""
    if len(pairs) < 2:
        return pairs
    keep = np.ones(len(pairs), dtype=np.bool_)
    keep[1:] = (pairs[1:] != pairs[:-1]).any(axis=1)
    pairs = pairs[keep]
    while len(pairs) > 1 and (pairs[-1] == pairs[0]).all():
        pairs = pairs[:-1]
    return pairs


def _refuse_crossing(outline: FloatArray, area: float, unit: str) -> None:
    polygon = shapely.polygons(outline)
    if area != 0.0 and shapely.is_valid(polygon):
        return
    reason = str(shapely.is_valid_reason(polygon))
    place = re.search(r"\[(\S+) (\S+)\]", reason)
    x_low, y_low, x_high, y_high = bounds_mm(outline)
    if place is None or x_high == x_low or y_high == y_low:
        raise OutlineError("outline encloses no area; give at least three corners of a surface")
    verb = "touches" if reason.startswith("Ring") else "crosses"
    x, y = (float(number) for number in place.groups())
    raise OutlineError(f"outline {verb} itself near ({x:.6g}, {y:.6g}){unit}")
