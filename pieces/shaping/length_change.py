"""Lengthen or shorten a piece at a line across its grain, as on a paper pattern.

Everything beyond the line is moved along the grain. Over a stretch beyond the line the change is
spread evenly, so that edges stay whole and run smoothly: the map never folds the piece over.
"""

from dataclasses import replace

import numpy as np
import shapely

from pieces.errors import ShapeError
from pieces.grainline import Grainline, Point
from pieces.outline.polygon import FloatArray
from pieces.piece import FoldEdge, PieceShape

_SAME_POINT_MM = 1e-6
BLEND = 4.0
"""Over how many times the change a piece is shortened, if nothing else is said."""


def change_length(
    shape: PieceShape, at_mm: Point, by_mm: float, *, blend_mm: float | None = None
) -> PieceShape:
    """Return the shape longer or shorter along its grain.

    Parameters
    ----------
    shape
        Any shape; the grainline tells the direction.
    at_mm
        A point of the line across the grain at which to change it.
    by_mm
        How much longer, mm; below zero shortens.
    blend_mm
        Stretch beyond the line, towards the head, over which the change is spread. Zero cuts the
        piece apart there and puts a straight strip between. If not said, it is zero for
        lengthening and four times the change for shortening.

    Returns
    -------
    PieceShape
        With all marks moved alike. What lies on the tail's side of the line stays.

    Raises
    ------
    ShapeError
        If the line does not cross the piece, or the stretch is too short for what is taken out.
    """
    if blend_mm is None:
        blend_mm = max(-BLEND * by_mm, 0.0)
    if not (0.0 <= blend_mm < np.inf and blend_mm + by_mm >= 0.0):
        raise ShapeError(
            f"{-by_mm:g} mm cannot be taken out of a stretch of {blend_mm:g} mm; give a longer one"
        )
    tail, head = np.array(shape.grainline.tail_mm), np.array(shape.grainline.head_mm)
    along = (head - tail) / np.linalg.norm(head - tail)
    line = float(np.array(at_mm) @ along)
    heights = shape.outline_mm @ along
    low, high = float(heights.min()), float(heights.max())
    if not low < line < high or line + blend_mm > high:
        raise ShapeError(
            f"the line across the grain and its stretch of {blend_mm:g} mm do not lie within the "
            f"piece; it reaches from {low - line:.4g} to {high - line:.4g} mm of that line"
        )
    change = _Change(along, line, by_mm, blend_mm)
    return _changed(shape, change)


class _Change:
    """The map: nothing below the line, all beyond its stretch, evenly between."""

    def __init__(self, along: FloatArray, line: float, by_mm: float, blend_mm: float) -> None:
        self._along, self._line, self._by, self._blend = along, line, by_mm, blend_mm

    def points(self, points: FloatArray) -> FloatArray:
        """Return points moved, shape (n, 2); one on the line itself stays."""
        beyond = points @ self._along - self._line
        share = (beyond > 1e-9).astype(np.float64)
        if self._blend > 0.0:
            share = np.clip(beyond / self._blend, 0.0, 1.0)
        moved: FloatArray = points + (share * self._by)[:, None] * self._along
        return moved

    def chain(self, points: FloatArray, *, closed: bool) -> FloatArray:
        """Return a chain moved, with vertices where it meets the line and the stretch's end."""
        ends = np.roll(points, -1, axis=0) if closed else np.vstack((points[1:], points[-1:]))
        kept: list[FloatArray] = []
        for start, end in zip(points, ends, strict=True):
            kept.append(self.points(start[None])[0])
            kept += self._breaks(start, end)
        chain = np.array(kept)
        gaps = np.linalg.norm(chain - np.roll(chain, 1, axis=0), axis=1)
        fresh = gaps > _SAME_POINT_MM
        if not closed:
            fresh[[0, -1]] = True
        fewer: FloatArray = chain[fresh]
        return fewer

    def _breaks(self, start: FloatArray, end: FloatArray) -> list[FloatArray]:
        low, high = float(start @ self._along), float(end @ self._along)
        found: list[tuple[float, list[FloatArray]]] = []
        below = 1e-9 if self._blend == 0.0 else -1e-9  # a corner on the cut is cut as well
        for height, shifts in self._stops():
            if min(low, high) <= height + below and height + 1e-9 < max(low, high):
                share = (height - low) / (high - low)
                at = start + share * (end - start)
                order = shifts if high > low else shifts[::-1]
                found.append((share, [at + shift * self._along for shift in order]))
        return [point for _, points in sorted(found, key=lambda one: one[0]) for point in points]

    def _stops(self) -> list[tuple[float, list[float]]]:
        """Return heights at which a chain bends, and how far its points there are moved."""
        if self._blend == 0.0:
            return [(self._line, [0.0, self._by])]
        return [(self._line, [0.0]), (self._line + self._blend, [self._by])]


def _changed(shape: PieceShape, change: _Change) -> PieceShape:
    def point(at: Point) -> Point:
        x, y = change.points(np.array([at]))[0].tolist()
        return x, y

    arrow = shape.grainline
    fold = shape.fold_edge_mm
    longer: FoldEdge | None = None if fold is None else (point(fold[0]), point(fold[1]))
    outline = change.chain(shape.outline_mm, closed=True)
    if not shapely.is_valid(shapely.polygons(outline)):
        raise ShapeError("the change of length would make the outline cross itself")
    return replace(
        shape,
        outline_mm=outline,
        grainline=Grainline(point(arrow.tail_mm), point(arrow.head_mm)),
        fold_edge_mm=longer,
        notches=tuple(replace(mark, at_mm=point(mark.at_mm)) for mark in shape.notches),
        match_points=tuple(replace(mark, at_mm=point(mark.at_mm)) for mark in shape.match_points),
        drill_holes=tuple(replace(mark, at_mm=point(mark.at_mm)) for mark in shape.drill_holes),
        internal_lines=tuple(
            replace(line, points_mm=change.chain(line.points_mm, closed=False))
            for line in shape.internal_lines
        ),
    )
