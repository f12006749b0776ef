"""Open out a half piece about its fold edge into the full piece."""

import dataclasses
from collections.abc import Callable

import numpy as np

from pieces.errors import OutlineError, PieceError
from pieces.grainline import Point
from pieces.marks import DrillHole, InternalLine, MatchPoint, Notch
from pieces.outline.polygon import FloatArray
from pieces.piece import FoldEdge, PieceShape

ON_FOLD_MM = 0.01
"""A point this near to the fold line lies on it."""

_Mirror = Callable[[FloatArray], FloatArray]


def unfold(shape: PieceShape) -> PieceShape:
    """Return the full piece: the half and its mirror image about the fold edge.

    Vertices inside the fold edge go, and so does an end of it where the edge of the full piece
    runs straight through. Each mark stands on both sides, the given ones first; a mark on the
    fold line stands once. The grainline is kept.

    Parameters
    ----------
    shape
        A half piece, its outline wholly on one side of the fold line.

    Returns
    -------
    PieceShape
        The full piece, without fold edge.

    Raises
    ------
    PieceError
        If there is no fold edge, if it is no edge of the outline (or straight run of edges)
        within 0.01 mm, or if the outline touches or crosses the fold line elsewhere.
    """
    if shape.fold_edge_mm is None:
        raise PieceError("shape has no fold edge to open it out about; it is a full piece already")
    around = _from_end_of_fold(shape.outline_mm, shape.fold_edge_mm)
    end, start = around[0], around[-1]
    _refuse_crossing(around, start, end)
    mirror = _mirror_about(start, end)
    opened = np.concatenate((around, mirror(around[-2:0:-1])))
    full = _without_straight_ends(opened, len(around), end - start)
    try:
        alone = dataclasses.replace(shape, outline_mm=full, fold_edge_mm=None)
    except OutlineError as error:
        raise PieceError(f"opened out about its fold edge, the {error}") from error
    return _with_marks_on_both_sides(alone, mirror)


def fold_run(outline: FloatArray, fold_edge_mm: FoldEdge) -> tuple[int, int] | None:
    """Find the fold edge in an outline.

    Parameters
    ----------
    outline
        Outline in the agreed form, shape (n, 2), mm.
    fold_edge_mm
        The two ends, in either order.

    Returns
    -------
    tuple of int, or None
        Numbers of the vertices where the straight run of edges starts and ends, in the order
        of the outline; None if no run of edges lies within 0.01 mm of the fold edge.
    """
    ends = np.array(fold_edge_mm, dtype=np.float64)
    gaps = np.linalg.norm(outline[:, None, :] - ends[None, :, :], axis=2)
    first, second = (int(i) for i in gaps.argmin(axis=0))
    if first == second or not gaps.min(axis=0).max() <= ON_FOLD_MM:
        return None
    count = len(outline)
    for start, end in ((first, second), (second, first)):
        run = outline[(start + np.arange((end - start) % count + 1)) % count]
        if _is_straight(run):
            return start, end
    return None


def _is_straight(run: FloatArray) -> bool:
    """Tell whether vertices go from the first to the last near their line, never back."""
    along = (run[-1] - run[0]) / np.linalg.norm(run[-1] - run[0])
    away = np.abs(_side(run, run[0], along))
    return bool(away.max() <= ON_FOLD_MM and (np.diff(run @ along) > 0).all())


def _side(points: FloatArray, start: FloatArray, along: FloatArray) -> FloatArray:
    """Return the distance to the left of the line through ``start`` along a unit vector."""
    offset = points - start
    distances: FloatArray = along[0] * offset[:, 1] - along[1] * offset[:, 0]
    return distances


def _from_end_of_fold(outline: FloatArray, fold_edge_mm: FoldEdge) -> FloatArray:
    """Return the vertices from the end of the fold edge, the long way round, to its start."""
    run = fold_run(outline, fold_edge_mm)
    if run is None:
        (x0, y0), (x1, y1) = fold_edge_mm
        raise PieceError(
            f"fold edge from ({x0:g}, {y0:g}) to ({x1:g}, {y1:g}) mm is no straight edge of the "
            f"outline within {ON_FOLD_MM:g} mm; both its ends must be vertices of the outline"
        )
    start, end = run
    count = len(outline)
    around: FloatArray = outline[(end + np.arange((start - end) % count + 1)) % count]
    return around


def _refuse_crossing(around: FloatArray, start: FloatArray, end: FloatArray) -> None:
    along = (end - start) / np.linalg.norm(end - start)
    inside = _side(around[1:-1], start, along)  # the outline is anticlockwise: left is inside
    if inside.min() <= 1e-6:
        x, y = around[1:-1][int(inside.argmin())]
        raise PieceError(
            f"outline touches or crosses the fold line at ({x:g}, {y:g}) mm; a half piece lies "
            "on one side of it, and the fold edge must be the whole of its straight edge"
        )


def _mirror_about(start: FloatArray, end: FloatArray) -> _Mirror:
    """Return the mirroring of points, shape (n, 2), about a line; exact along an axis."""

    def mirror(points: FloatArray) -> FloatArray:
        along = end - start
        if along[0] == 0.0 or along[1] == 0.0:
            axis = 0 if along[0] == 0.0 else 1
            mirrored = np.array(points)
            mirrored[:, axis] = 2.0 * start[axis] - points[:, axis]
            return mirrored
        offset = points - start
        share = (offset @ along) / (along @ along)
        reflected: FloatArray = start + 2.0 * share[:, None] * along - offset
        return reflected

    return mirror


def _without_straight_ends(opened: FloatArray, half: int, fold: FloatArray) -> FloatArray:
    """Drop each end of the fold edge whose next edge leaves it at a right angle."""
    keep = np.ones(len(opened), dtype=np.bool_)
    for end, beside in ((0, 1), (half - 1, half - 2)):
        edge = opened[beside] - opened[end]
        if abs(edge @ fold) <= 1e-12 * np.linalg.norm(edge) * np.linalg.norm(fold):
            keep[end] = False
    return opened[keep]


def _with_marks_on_both_sides(shape: PieceShape, mirror: _Mirror) -> PieceShape:
    def moved(points: FloatArray) -> bool:
        gaps = np.linalg.norm(mirror(points) - points, axis=1)
        return bool(gaps.max() > 2.0 * ON_FOLD_MM)

    def images(point: Point) -> list[Point]:
        """Return the mirrored point, or nothing for one on the fold line."""
        points = np.array([point], dtype=np.float64)
        return [(x, y) for x, y in mirror(points).tolist()] if moved(points) else []

    notches = (Notch(at) for mark in shape.notches for at in images(mark.at_mm))
    points = (MatchPoint(m.name, at) for m in shape.match_points for at in images(m.at_mm))
    holes = (DrillHole(at) for mark in shape.drill_holes for at in images(mark.at_mm))
    lines = (
        InternalLine(line.name, mirror(line.points_mm))
        for line in shape.internal_lines
        if moved(line.points_mm)
    )
    return dataclasses.replace(
        shape,
        notches=shape.notches + tuple(notches),
        match_points=shape.match_points + tuple(points),
        drill_holes=shape.drill_holes + tuple(holes),
        internal_lines=shape.internal_lines + tuple(lines),
    )
