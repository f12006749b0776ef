"""Curves into vertices: Bézier curves, circular arcs, and smooth curves through given points.

Every function returns vertices that lie on the curve, both ends included, such that no point of
the curve is further than the tolerance from the chain of straight lines between them.
"""

import math

import numpy as np
import numpy.typing as npt

from pieces.errors import OutlineError
from pieces.outline.polygon import FloatArray
from pieces.outline.transform import cosine_and_sine

TOLERANCE_MM = 0.1
"""Largest distance between a curve and the straight lines that stand for it."""

_SAME_POINT_MM = 1e-6
_MOST_STEPS = 100_000
_HOW_TO_COUNT = "use a larger tolerance or check the units"


def flatten_quadratic(
    control_mm: npt.ArrayLike, *, tolerance_mm: float = TOLERANCE_MM
) -> FloatArray:
    """Return vertices along a quadratic Bézier curve.

    Parameters
    ----------
    control_mm
        Start, control point and end, shape (3, 2), mm.
    tolerance_mm
        Largest distance from the curve, mm.

    Returns
    -------
    FloatArray
        Vertices with both ends, shape (n, 2), n at least 2, mm.

    Raises
    ------
    OutlineError
        If the points are not three finite pairs, or the tolerance is not above zero or so small
        that more than 100,000 lines would be needed.

    Examples
    --------
    >>> flatten_quadratic([(0, 0), (50, 0), (100, 0)]).tolist()
    [[0.0, 0.0], [100.0, 0.0]]
    """
    start, middle, end = _points(control_mm, exactly=3)
    third = (start + 2.0 * middle) / 3.0, (end + 2.0 * middle) / 3.0  # the same curve as a cubic
    bend = math.hypot(*(start - 2.0 * middle + end).tolist())
    cubic = np.array([start, *third, end])
    return _cubic_in_steps(cubic, _bezier_steps(0.25 * bend, tolerance_mm))


def flatten_cubic(control_mm: npt.ArrayLike, *, tolerance_mm: float = TOLERANCE_MM) -> FloatArray:
    """Return vertices along a cubic Bézier curve, at even steps of its parameter.

    The number of steps comes from the bound of Wang: a chord over the parameter step h is at
    most h² / 8 times the largest second derivative away from the curve, and for a cubic that
    derivative is at most six times the largest second difference of the control points.

    Parameters
    ----------
    control_mm
        Start, two control points and end, shape (4, 2), mm.
    tolerance_mm
        Largest distance from the curve, mm.

    Returns
    -------
    FloatArray
        Vertices with both ends, shape (n, 2), n at least 2, mm.

    Raises
    ------
    OutlineError
        If the points are not four finite pairs, or the tolerance is not above zero or so small
        that more than 100,000 lines would be needed.

    References
    ----------
    G. Wang, "The subdivision method for finding the intersection between two Bézier curves or
    surfaces", Zhejiang University Journal, 1984.
    """
    control = _points(control_mm, exactly=4)
    second = control[:-2] - 2.0 * control[1:-1] + control[2:]
    bend = float(np.hypot(second[:, 0], second[:, 1]).max())
    return _cubic_in_steps(control, _bezier_steps(0.75 * bend, tolerance_mm))


def flatten_arc(
    centre_mm: npt.ArrayLike,
    radius_mm: float,
    *,
    start_deg: float,
    end_deg: float,
    tolerance_mm: float = TOLERANCE_MM,
) -> FloatArray:
    """Return vertices along a circular arc.

    Parameters
    ----------
    centre_mm
        Centre, an (x, y) pair, mm.
    radius_mm
        Radius, above zero, mm.
    start_deg, end_deg
        Directions from the centre, degrees anticlockwise from +x. The arc runs anticlockwise
        if ``end_deg`` is the larger, else clockwise; 0 to 360 is the full circle.
    tolerance_mm
        Largest distance from the arc, mm.

    Returns
    -------
    FloatArray
        Vertices with both ends, shape (n, 2), n at least 2, mm.

    Raises
    ------
    OutlineError
        If the radius or tolerance is not above zero, an angle is not finite, the arc has no
        length or goes round more than once, or more than 100,000 lines would be needed.

    Examples
    --------
    >>> flatten_arc((0, 0), 10, start_deg=0, end_deg=90, tolerance_mm=3).tolist()
    [[10.0, 0.0], [0.0, 10.0]]
    """
    centre = _points(np.atleast_2d(np.asarray(centre_mm)), exactly=1)[0]
    sweep = end_deg - start_deg
    if not 0 < radius_mm < math.inf:
        raise OutlineError(f"arc radius is {radius_mm:g} mm; it must be above zero")
    if not 0 < abs(sweep) <= 360:
        raise OutlineError(f"arc goes through {sweep:g} degrees; give above 0 and at most 360")
    steps = _arc_steps(radius_mm, abs(sweep), tolerance_mm)
    unit = [cosine_and_sine(start_deg + sweep * step / steps) for step in range(steps)]
    unit.append(cosine_and_sine(end_deg))
    vertices: FloatArray = centre + radius_mm * np.array(unit)
    return vertices


def flatten_smooth(
    points_mm: npt.ArrayLike, *, closed: bool = False, tolerance_mm: float = TOLERANCE_MM
) -> FloatArray:
    """Return vertices along a smooth curve through the given points.

    The curve is the centripetal Catmull-Rom spline: it passes through every point, and no
    stretch between two points has a loop or a cusp. At an open end the curve leaves as if the
    next point stood mirrored beyond the end.

    Parameters
    ----------
    points_mm
        Points to pass through, shape (n, 2), at least two different ones, mm. A point within
        1e-6 mm of the one before is dropped.
    closed
        True to come back to the first point; needs at least three different points.
    tolerance_mm
        Largest distance from the curve, mm.

    Returns
    -------
    FloatArray
        Vertices with both ends, shape (m, 2), mm; a closed curve ends where it starts.

    Raises
    ------
    OutlineError
        If there are too few points, one is not a finite pair, or the tolerance is not above
        zero or so small that more than 100,000 lines would be needed between two points.

    References
    ----------
    E. Catmull and R. Rom, "A class of local interpolating splines", Computer Aided Geometric
    Design, 1974. C. Yuksel, S. Schaefer and J. Keyser, "Parameterization and applications of
    Catmull-Rom curves", Computer-Aided Design 43, 2011.
    """
    through = _points(points_mm)
    if closed:
        through = np.concatenate((through, through[:1]))
    gaps = np.linalg.norm(np.diff(through, axis=0), axis=1)
    through = through[np.concatenate(([True], gaps > _SAME_POINT_MM))]
    if len(through) < (4 if closed else 2):
        raise OutlineError(
            "a smooth curve needs at least two different points, and three to close on itself"
        )
    if closed:
        through[-1] = through[0]
    before = through[-2] if closed else 2.0 * through[0] - through[1]
    after = through[1] if closed else 2.0 * through[-1] - through[-2]
    guided = np.concatenate(([before], through, [after]))
    pieces = [
        flatten_cubic(_centripetal_segment(guided[i : i + 4]), tolerance_mm=tolerance_mm)
        for i in range(len(guided) - 3)
    ]
    return np.concatenate([through[:1], *(piece[1:] for piece in pieces)])


def _centripetal_segment(four: FloatArray) -> FloatArray:
    """Return the Bézier control points of the spline between the middle two of four points."""
    steps = np.diff(four, axis=0)
    first, second, third = np.sqrt(np.hypot(steps[:, 0], steps[:, 1])).tolist()  # knot spacing
    leave = steps[0] / first - (steps[0] + steps[1]) / (first + second) + steps[1] / second
    arrive = steps[1] / second - (steps[1] + steps[2]) / (second + third) + steps[2] / third
    start, end = four[1], four[2]
    return np.array([start, start + leave * second / 3.0, end - arrive * second / 3.0, end])


def _cubic_in_steps(control: FloatArray, steps: int) -> FloatArray:
    t = np.linspace(0.0, 1.0, steps + 1)[:, None]
    s = 1.0 - t
    weights = np.hstack((s**3, 3.0 * s**2 * t, 3.0 * s * t**2, t**3))
    vertices: FloatArray = weights @ control
    vertices[0], vertices[-1] = control[0], control[-1]
    return vertices


def _bezier_steps(bend: float, tolerance_mm: float) -> int:
    _check_tolerance(tolerance_mm)
    return _counted(math.sqrt(bend / tolerance_mm))


def _arc_steps(radius_mm: float, sweep_deg: float, tolerance_mm: float) -> int:
    """Count chords whose greatest distance from the arc, r (1 - cos(step / 2)), is allowed."""
    _check_tolerance(tolerance_mm)
    share = min(tolerance_mm / radius_mm, 1.0)
    step_deg = min(math.degrees(4.0 * math.asin(math.sqrt(share / 2.0))), 120.0)
    return _counted(sweep_deg / step_deg) if step_deg > 0 else _counted(math.inf)


def _counted(steps: float) -> int:
    if not steps <= _MOST_STEPS:
        raise OutlineError(
            f"a curve would need more than {_MOST_STEPS:,} straight lines; {_HOW_TO_COUNT}"
        )
    return max(1, math.ceil(steps - 1e-9))


def _check_tolerance(tolerance_mm: float) -> None:
    if not 0 < tolerance_mm < math.inf:
        raise OutlineError(f"curve tolerance is {tolerance_mm:g} mm; it must be above zero")


def _points(points: npt.ArrayLike, *, exactly: int | None = None) -> FloatArray:
    try:
        pairs = np.array(points, dtype=np.float64)
    except (TypeError, ValueError):
        raise OutlineError("a curve needs (x, y) pairs of numbers") from None
    if pairs.ndim != 2 or pairs.shape[1] != 2 or not np.isfinite(pairs).all() or not len(pairs):
        raise OutlineError("a curve needs (x, y) pairs of finite numbers")
    if exactly is not None and len(pairs) != exactly:
        raise OutlineError(f"the curve has {len(pairs)} points; it needs {exactly}")
    return pairs
