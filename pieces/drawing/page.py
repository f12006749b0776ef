"""Where each shape goes on the page of a drawing."""

from collections.abc import Sequence

import numpy as np

from pieces.drawing.drawing import Drawing, DrawnShape
from pieces.errors import DrawingError
from pieces.grainline import Point
from pieces.outline.polygon import bounds_mm

GAP_MM = 20.0


def origins_of(drawing: Drawing, *, keep_places: bool) -> tuple[Point, ...]:
    """Return where the origin of each shape goes, mm: where it lies, or where none touches another.

    Raises
    ------
    DrawingError
        If there is nothing to draw.
    """
    if not drawing.shapes:
        raise DrawingError("there is no shape to draw; choose a pattern or marker with pieces")
    return ((0.0, 0.0),) * len(drawing.shapes) if keep_places else _spread_out(drawing.shapes)


def _spread_out(shapes: Sequence[DrawnShape]) -> tuple[Point, ...]:
    """Return where the origin of each shape goes, so that no two touch, mm.

    They stand in rows of about the width of the whole, in their order, the first row on top.
    """
    boxes = [bounds_mm(shape.shape.outline_mm) for shape in shapes]
    areas = [(r - x + GAP_MM) * (t - y + GAP_MM) for x, y, r, t in boxes]
    wide = max(sum(areas) ** 0.5, *(r - x + GAP_MM for x, y, r, t in boxes))
    origins, along, top, tallest = [], 0.0, 0.0, 0.0
    for left, low, right, high in boxes:
        if along > 0.0 and along + right - left > wide:
            along, top, tallest = 0.0, top - tallest - GAP_MM, 0.0
        origins.append((round(along - left, 3), round(top - high, 3)))
        along += right - left + GAP_MM
        tallest = max(tallest, high - low)
    return tuple(origins)


def page_box(
    shapes: Sequence[DrawnShape], origins: Sequence[Point]
) -> tuple[float, float, float, float]:
    """Return left, low, right and high of all shapes with a margin, mm."""
    boxes = np.array([bounds_mm(shape.shape.outline_mm) for shape in shapes])
    boxes += np.hstack((origins, origins))
    (left, low), (right, high) = boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)
    return float(left - GAP_MM), float(low - GAP_MM), float(right + GAP_MM), float(high + GAP_MM)
