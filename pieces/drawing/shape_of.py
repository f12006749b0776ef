"""One piece from its outline and the marks that stand in it."""

import math
from collections.abc import Sequence

import numpy as np
import shapely

from pieces.drawing.labels import Role
from pieces.drawing.mark import Mark
from pieces.errors import DrawingError
from pieces.grainline import Grainline, Point
from pieces.marks import DrillHole, InternalLine, MatchPoint, Notch
from pieces.outline.polygon import FloatArray, as_outline
from pieces.piece import FoldEdge, PieceShape
from pieces.shaping.seam import SEW_LINE
from pieces.shaping.shapes import upright

SNAP_MM = 1.0
"""A fold line drawn as near as this to corners of the outline is meant to end there."""

NO_ARROW = "it has no grainline, so its arrow points up the drawing"


def shape_of(
    outline: Mark, marks: Sequence[Mark], origin_mm: Point
) -> tuple[PieceShape, tuple[str, ...]]:
    """Return the shape in the coordinates of its own piece, and what was assumed about it.

    Parameters
    ----------
    outline
        The cut edge.
    marks
        Everything else; what plays no part is an internal line.
    origin_mm
        Where the piece's own origin lies on the page.

    Raises
    ------
    PiecesError
        If the outline is not simple, or a mark cannot be used.
    """
    around = as_outline(outline.points_mm)
    by_role: dict[Role, list[Mark]] = {role: [] for role in Role}
    for mark in marks:
        by_role[mark.role or Role.LINE].append(mark)
    grainline, assumed = _grainline(by_role[Role.GRAIN], around)
    origin = np.array(origin_mm)

    def own(point: Point) -> Point:
        x, y = (np.array(point) - origin).tolist()
        return x, y

    fold = _fold(by_role[Role.FOLD], around)
    shape = PieceShape(
        outline_mm=around - origin,
        grainline=Grainline(own(grainline.tail_mm), own(grainline.head_mm)),
        fold_edge_mm=None if fold is None else (own(fold[0]), own(fold[1])),
        notches=tuple(Notch(own(_on_edge(mark, around))) for mark in by_role[Role.NOTCH]),
        match_points=tuple(
            MatchPoint(_named(mark), own(mark.middle_mm)) for mark in by_role[Role.MATCH]
        ),
        drill_holes=tuple(DrillHole(own(mark.middle_mm)) for mark in by_role[Role.DRILL]),
        internal_lines=tuple(
            _line(mark, origin)
            for mark in marks
            if mark.role in (None, Role.LINE, Role.SEW) and len(mark.points_mm) > 1
        ),
    )
    return shape, assumed


def _grainline(marks: Sequence[Mark], outline: FloatArray) -> tuple[Grainline, tuple[str, ...]]:
    if len(marks) > 1:
        raise DrawingError(f"there are {len(marks)} grainlines; keep one")
    if marks:
        tail, head = (_pair(marks[0].points_mm[i]) for i in (0, -1))
        return Grainline(tail, head), ()
    return upright(outline), (NO_ARROW,)


def _fold(marks: Sequence[Mark], outline: FloatArray) -> FoldEdge | None:
    if len(marks) > 1:
        raise DrawingError(f"there are {len(marks)} fold edges; a piece has one at most")
    if not marks:
        return None
    start, end = (_corner(marks[0].points_mm[i], outline) for i in (0, -1))
    if start == end:
        raise DrawingError("both ends of its fold edge meet one corner of the outline")
    return start, end


def _corner(point: FloatArray, outline: FloatArray) -> Point:
    gaps = np.hypot(*(outline - point).T)
    nearest = int(gaps.argmin())
    if gaps[nearest] > SNAP_MM:
        x, y = point.tolist()
        raise DrawingError(
            f"its fold edge ends at ({x:.6g}, {y:.6g}) mm on the page, {gaps[nearest]:.1f} mm from "
            f"the next corner of the outline; draw it from corner to corner, within {SNAP_MM:g} mm"
        )
    return _pair(outline[nearest])


def _on_edge(mark: Mark, outline: FloatArray) -> Point:
    """Return the point for which a notch stands.

    A closed line stands for its middle. A tick stands for where it crosses the outline, or for
    its end nearest to it.
    """
    if mark.closed or len(mark.points_mm) == 1:
        return mark.middle_mm
    ring = shapely.linearrings(outline)
    crossing = shapely.intersection(shapely.linestrings(mark.points_mm), ring)
    if not shapely.is_empty(crossing):
        middle = shapely.centroid(crossing)
        return float(shapely.get_x(middle)), float(shapely.get_y(middle))
    off = shapely.distance(ring, shapely.points(mark.points_mm))
    return _pair(mark.points_mm[int(np.argmin(off))])


def _named(mark: Mark) -> str:
    if not mark.name:
        x, y = mark.middle_mm
        raise DrawingError(
            f"its match point at ({x:.6g}, {y:.6g}) mm on the page has no name; "
            'call it "match side at waist" or the like'
        )
    return mark.name


def _line(mark: Mark, origin: FloatArray) -> InternalLine:
    name = SEW_LINE if mark.role is Role.SEW else mark.name or "line"
    return InternalLine(name, mark.chain_mm() - origin)


def _pair(point: FloatArray) -> Point:
    x, y = point.tolist()
    if not (math.isfinite(x) and math.isfinite(y)):
        raise DrawingError("a mark is not at a finite place")
    return x, y
