"""Turn, flip and move points and outlines.

A piece is turned by the lay rules and flipped by the cut list; the two are never mixed up.
The functions named ``..._outline`` keep the vertices anticlockwise, the others keep the order.
"""

import math

import numpy as np

from pieces.errors import OutlineError
from pieces.outline.polygon import FloatArray, reversed_order

_QUARTERS = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}


def cosine_and_sine(deg: float) -> tuple[float, float]:
    """Return cosine and sine of an angle in degrees, exact for multiples of 90.

    Raises
    ------
    OutlineError
        If the angle is not a finite number.

    Examples
    --------
    >>> cosine_and_sine(-90)
    (0.0, -1.0)
    """
    if not math.isfinite(deg):
        raise OutlineError(f"an angle of {deg} degrees has no direction; give a finite number")
    rest = math.fmod(deg, 360.0)
    quarter = _QUARTERS.get(rest + 360.0 if rest < 0 else rest)
    if quarter is not None and rest % 90.0 == 0.0:
        return quarter
    return math.cos(math.radians(rest)), math.sin(math.radians(rest))


def turn(points: FloatArray, deg: float) -> FloatArray:
    """Return points of shape (n, 2) turned anticlockwise about the origin.

    Raises
    ------
    OutlineError
        If the angle is not a finite number.

    Examples
    --------
    >>> turn(np.array([[3.0, 0.0]]), 90).tolist()
    [[0.0, 3.0]]
    """
    cosine, sine = cosine_and_sine(deg)
    turned = np.empty_like(points, dtype=np.float64)
    x, y = points[:, 0], points[:, 1]
    turned[:, 0] = x * cosine - y * sine
    turned[:, 1] = x * sine + y * cosine
    return turned


def flip(points: FloatArray) -> FloatArray:
    """Return points of shape (n, 2) mirrored, x to -x, in the same order.

    Examples
    --------
    >>> flip(np.array([[3.0, 1.0], [0.0, 2.0]])).tolist()
    [[-3.0, 1.0], [0.0, 2.0]]
    """
    flipped = np.array(points, dtype=np.float64)
    flipped[:, 0] = 0.0 - flipped[:, 0]  # the subtraction leaves no minus zero
    return flipped


def place(
    points: FloatArray,
    *,
    turn_deg: float = 0.0,
    flipped: bool = False,
    x: float = 0.0,
    y: float = 0.0,
) -> FloatArray:
    """Return points flipped if said, then turned about the origin, then moved by (x, y).

    Parameters
    ----------
    points
        Marks or vertices, shape (n, 2).
    turn_deg
        Degrees anticlockwise.
    flipped
        True to mirror first, x to -x.
    x, y
        Move, in the unit of the points.

    Returns
    -------
    FloatArray
        Shape (n, 2), in the order given: a flipped outline runs clockwise here, so use
        :func:`place_outline` for outlines.

    Raises
    ------
    OutlineError
        If the angle is not a finite number.

    Examples
    --------
    >>> place(np.array([[3.0, 0.0]]), turn_deg=90, flipped=True, x=10, y=20).tolist()
    [[10.0, 17.0]]
    """
    turned = turn(flip(points) if flipped else points, turn_deg)
    turned += (x, y)
    return turned


def place_outline(
    outline: FloatArray,
    *,
    turn_deg: float = 0.0,
    flipped: bool = False,
    x: float = 0.0,
    y: float = 0.0,
) -> FloatArray:
    """Return an outline placed as :func:`place` does, and still anticlockwise.

    Raises
    ------
    OutlineError
        If the angle is not a finite number.

    Examples
    --------
    >>> triangle = np.array([[0.0, 0.0], [3.0, 0.0], [0.0, 2.0]])
    >>> place_outline(triangle, flipped=True, x=5).tolist()
    [[5.0, 0.0], [5.0, 2.0], [2.0, 0.0]]
    """
    placed = place(outline, turn_deg=turn_deg, flipped=flipped, x=x, y=y)
    return reversed_order(placed) if flipped else placed
