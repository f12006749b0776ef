"""One shape element of SVG as strokes in mm."""

from collections.abc import Mapping

import numpy as np

from pieces.drawing.affine import apply
from pieces.drawing.limits import Budget
from pieces.drawing.svg_path import Stroke, flatten_path
from pieces.drawing.svg_units import user_length
from pieces.errors import DrawingError
from pieces.outline.polygon import FloatArray

SHAPES = frozenset({"path", "polygon", "polyline", "line", "rect", "circle", "ellipse"})


def strokes_of(
    tag: str, attributes: Mapping[str, str], matrix: FloatArray, budget: Budget
) -> list[Stroke]:
    """Return the strokes of a shape element, points of shape (n, 2), mm.

    Raises
    ------
    DrawingError
        If its attributes cannot be read, or it has more points than the limits allow.
    """
    budget.take_shape()
    match tag:
        case "path":
            return flatten_path(attributes.get("d", ""), matrix, budget)
        case "polygon" | "polyline":
            return _points(attributes.get("points", ""), matrix, budget, closed=tag == "polygon")
        case "line":
            x0, y0, x1, y1 = (_number(attributes, name) for name in ("x1", "y1", "x2", "y2"))
            ends = apply(matrix, np.array([[x0, y0], [x1, y1]]))
            return [Stroke(ends, closed=False)]
        case "rect":
            return flatten_path(_rectangle(attributes), matrix, budget)
        case _:
            return flatten_path(_ellipse(tag, attributes), matrix, budget)


def _points(text: str, matrix: FloatArray, budget: Budget, *, closed: bool) -> list[Stroke]:
    words = text.replace(",", " ").split()
    budget.take_vertices(len(words) // 2)
    try:
        numbers = np.array([float(word) for word in words], dtype=np.float64)
    except ValueError:
        raise DrawingError("a polygon holds points that are no numbers") from None
    if len(numbers) % 2:
        raise DrawingError("a polygon holds an odd count of numbers, so one point is half")
    if len(numbers) < 4:
        return []
    return [Stroke(apply(matrix, numbers.reshape(-1, 2)), closed)]


def _rectangle(attributes: Mapping[str, str]) -> str:
    x, y, wide, tall = (_number(attributes, name) for name in ("x", "y", "width", "height"))
    if wide <= 0.0 or tall <= 0.0:
        return ""
    rx, ry = (_radius(attributes, one, other) for one, other in (("rx", "ry"), ("ry", "rx")))
    rx, ry = min(rx, wide / 2.0), min(ry, tall / 2.0)
    if rx == 0.0 or ry == 0.0:
        return f"M{x!r} {y!r}h{wide!r}v{tall!r}h{-wide!r}z"
    corner = f"a{rx!r} {ry!r} 0 0 1"
    across, down = wide - 2.0 * rx, tall - 2.0 * ry
    return (
        f"M{x + rx!r} {y!r}h{across!r}{corner} {rx!r} {ry!r}v{down!r}{corner} {-rx!r} {ry!r}"
        f"h{-across!r}{corner} {-rx!r} {-ry!r}v{-down!r}{corner} {rx!r} {-ry!r}z"
    )


def _radius(attributes: Mapping[str, str], name: str, other: str) -> float:
    """Return a corner radius of a rectangle; one that is not said is as large as the other."""
    for key in (name, other):
        if attributes.get(key, "auto").strip() != "auto":
            return max(_number(attributes, key), 0.0)
    return 0.0


def _ellipse(tag: str, attributes: Mapping[str, str]) -> str:
    x, y = _number(attributes, "cx"), _number(attributes, "cy")
    if tag == "circle":
        rx = ry = _number(attributes, "r")
    else:
        rx, ry = (_radius(attributes, one, other) for one, other in (("rx", "ry"), ("ry", "rx")))
    if rx <= 0.0 or ry <= 0.0:
        return ""
    half = f"a{rx!r} {ry!r} 0 0 1"
    return f"M{x + rx!r} {y!r}{half} {-2.0 * rx!r} 0{half} {2.0 * rx!r} 0z"


def _number(attributes: Mapping[str, str], name: str) -> float:
    return user_length(attributes.get(name, "0"))
