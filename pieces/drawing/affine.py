"""Affine maps of the plane, and the ``transform`` attribute that writes them."""

import math
import re

import numpy as np

from pieces.errors import DrawingError
from pieces.outline.polygon import LARGEST_COORDINATE, FloatArray
from pieces.outline.transform import cosine_and_sine

_NUMBER = r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?"
_CALL = re.compile(r"\s*([a-zA-Z]+)\s*\(([^()]*)\)\s*,?\s*")
_NUMBERS = re.compile(rf"\s*{_NUMBER}(?:\s*,\s*|\s+|(?=[-+.])|\s*$)")
_MOST_LETTERS = 10_000


def identity() -> FloatArray:
    """Return the map that moves nothing, shape (3, 3)."""
    return np.eye(3)


def apply(matrix: FloatArray, points: FloatArray) -> FloatArray:
    """Return points of shape (n, 2) moved by a map of shape (3, 3).

    Raises
    ------
    DrawingError
        If a point is moved out of all measure.

    Examples
    --------
    >>> apply(read_transform("translate(10) scale(2)"), np.array([[1.0, 3.0]])).tolist()
    [[12.0, 6.0]]
    """
    with np.errstate(over="ignore", invalid="ignore"):
        moved: FloatArray = points @ matrix[:2, :2].T + matrix[:2, 2]
    if not (np.abs(moved) <= LARGEST_COORDINATE).all():
        raise DrawingError("the drawing has coordinates beyond all measure; check its units")
    return moved


def read_transform(text: str) -> FloatArray:
    """Return the map that a ``transform`` attribute writes, shape (3, 3).

    Raises
    ------
    DrawingError
        If it is no list of matrix, translate, scale, rotate, skewX and skewY.
    """
    matrix = identity()
    if len(text) > _MOST_LETTERS:
        raise DrawingError(f"a transform has {len(text):,} letters; simplify the drawing")
    at = len(text) - len(text.lstrip())
    while at < len(text):
        call = _CALL.match(text, at)
        if call is None:
            raise DrawingError(f'transform "{_short(text)}" cannot be read; save as plain SVG')
        with np.errstate(over="ignore", invalid="ignore"):
            matrix = matrix @ _map_of(call[1], _numbers(call[2]))
        at = call.end()
    return matrix


def _numbers(text: str) -> list[float]:
    numbers, at = [], 0
    while at < len(text):
        found = _NUMBERS.match(text, at)
        if found is None:
            raise DrawingError(f'transform holds "{_short(text)}", which is no list of numbers')
        numbers.append(float(found[0].strip().rstrip(",").strip()))
        at = found.end()
    return numbers


def _map_of(name: str, given: list[float]) -> FloatArray:
    if not all(math.isfinite(number) for number in given):
        raise DrawingError(f"transform {name} holds a number beyond all measure")
    match name, given:
        case "matrix", [a, b, c, d, e, f]:
            return np.array([[a, c, e], [b, d, f], [0.0, 0.0, 1.0]])
        case "translate", [x, *rest] if len(rest) <= 1:
            return _moved(x, rest[0] if rest else 0.0)
        case "scale", [x, *rest] if len(rest) <= 1:
            return np.diag([x, rest[0] if rest else x, 1.0])
        case "rotate", [deg]:
            return _turned(deg)
        case "rotate", [deg, x, y]:
            return _moved(x, y) @ _turned(deg) @ _moved(-x, -y)
        case "skewX", [deg]:
            return np.array([[1.0, _tangent(deg), 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]])
        case "skewY", [deg]:
            return np.array([[1.0, 0.0, 0.0], [_tangent(deg), 1.0, 0.0], [0.0, 0.0, 1.0]])
    raise DrawingError(f"transform {name} with {len(given)} numbers is not known in SVG")


def _moved(x: float, y: float) -> FloatArray:
    return np.array([[1.0, 0.0, x], [0.0, 1.0, y], [0.0, 0.0, 1.0]])


def _turned(deg: float) -> FloatArray:
    cosine, sine = cosine_and_sine(deg)
    return np.array([[cosine, -sine, 0.0], [sine, cosine, 0.0], [0.0, 0.0, 1.0]])


def _tangent(deg: float) -> float:
    return math.tan(math.radians(deg))


def _short(text: str) -> str:
    return text if len(text) <= 40 else f"{text[:37]}..."
