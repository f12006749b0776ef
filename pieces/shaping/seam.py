"""Seam allowance added outside an outline, edge by edge; the outline stays as the sew line.

Each edge is widened by its own allowance. At a corner the widened edges are run on until they
meet, unless the corner is so sharp that they would meet far outside: there it is cut off straight.
"""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import shapely

from pieces.errors import OutlineError, ShapeError
from pieces.grainline import Point
from pieces.marks import InternalLine, Notch
from pieces.outline.polygon import FloatArray
from pieces.piece import FoldEdge, PieceShape
from pieces.shaping.unfold import fold_run

SEW_LINE = "sew line"
"""Name of the internal line along which is sewn."""

MOST_MM = 500.0
_MITRE_LIMIT = 3.0
_GRID_MM = 1e-4
_ON_LINE_MM = 1e-3


def add_seam(shape: PieceShape, allowances_mm: Sequence[float]) -> PieceShape:
    """Return the shape with seam allowance outside its outline.

    Parameters
    ----------
    shape
        Its outline is the line along which is sewn. A fold edge gets no allowance.
    allowances_mm
        One for the edge that begins at each vertex, from 0 to 500, mm.

    Returns
    -------
    PieceShape
        Notches move out to the new edge, other marks stay. The old outline is kept as an
        internal line called "sew line".

    Raises
    ------
    ShapeError
        If the count is not that of the vertices, or an allowance is out of range.
    """
    outline = shape.outline_mm
    widths = np.array(allowances_mm, dtype=np.float64)
    if len(widths) != len(outline):
        raise ShapeError(f"{len(widths)} allowances for {len(outline)} edges; give one for each")
    if not ((widths >= 0.0) & (widths <= MOST_MM)).all():
        raise ShapeError(f"a seam allowance is not from 0 to {MOST_MM:g} mm; check its unit")
    sewn = outline
    if shape.fold_edge_mm is not None:
        start, end = _fold_run(outline, shape.fold_edge_mm)
        count = len(outline)
        widths[(start + np.arange((end - start) % count)) % count] = 0.0
        sewn = outline[(end + np.arange((start - end) % count + 1)) % count]
    else:
        sewn = np.concatenate((outline, outline[:1]))
    if not widths.any():
        return shape
    around = _widened(outline, widths)
    return _with_marks(shape, around, sewn)


def _fold_run(outline: FloatArray, fold: FoldEdge) -> tuple[int, int]:
    run = fold_run(outline, fold)
    if run is None:
        raise ShapeError("the fold edge is no straight edge of the outline; check its two ends")
    return run


def _widened(outline: FloatArray, widths: FloatArray) -> FloatArray:
    """Return the outline of the piece with its allowances, shape (m, 2)."""
    steps = np.roll(outline, -1, axis=0) - outline
    lengths = np.hypot(*steps.T)
    normals = np.column_stack((steps[:, 1], -steps[:, 0])) / lengths[:, None]
    moved = normals * widths[:, None]
    strips = np.stack((outline, outline + moved, outline + steps + moved, outline + steps), axis=1)
    parts = [shapely.polygons(outline)]
    for i in range(len(outline)):
        meeting = _Meeting(outline[i], normals[i - 1], normals[i], (widths[i - 1], widths[i]))
        if meeting.turn <= 1e-9:
            continue
        if -lengths[i - 1] < meeting.reach < 0.0:
            strips[i - 1, 2] = meeting.mitre()
        if -lengths[i] < meeting.back_reach < 0.0:
            strips[i, 1] = meeting.mitre()
        parts.append(shapely.polygons(meeting.filling()))
    parts += list(shapely.polygons(strips[widths > 0.0]))
    sound = [part for part in parts if shapely.is_valid(part)]
    whole = shapely.union_all(sound, grid_size=_GRID_MM)
    largest = max(shapely.get_parts(whole), key=shapely.area)
    ring: FloatArray = shapely.get_coordinates(shapely.get_exterior_ring(largest))[:-1]
    return _without_straight_points(ring)


class _Meeting:
    """How two widened edges meet outside the vertex between them."""

    def __init__(
        self,
        at: FloatArray,
        first: FloatArray,
        second: FloatArray,
        widths: tuple[float, float],
    ) -> None:
        self._at, self._first, self._second, self._widths = at, first, second, widths
        self.turn = float(first[0] * second[1] - first[1] * second[0])
        bend = float(first @ second)
        if self.turn > 1e-9:
            self.reach = (widths[1] - widths[0] * bend) / self.turn  # along the first edge
            self.back_reach = (widths[0] - widths[1] * bend) / self.turn  # back the second

    def mitre(self) -> FloatArray:
        """Return the point where the widened edges meet."""
        return self._on_first(self.reach)

    def filling(self) -> FloatArray:
        """Return what fills the gap between the two strips, cut off straight where it is long."""
        most = _MITRE_LIMIT * max(self._widths)
        tip = [self.mitre()]
        if max(self.reach, self.back_reach) > most:
            ends = min(self.reach, most), min(self.back_reach, most)
            tip = [self._on_first(ends[0]), self._on_second(ends[1])]
        points = [self._at, self._on_first(0.0), *tip, self._on_second(0.0)]
        if self.reach < 0.0 or self.back_reach < 0.0:  # one strip is trimmed by the other's line
            points = [self._at, self._on_first(min(self.reach, 0.0)), self.mitre()]
            points.append(self._on_second(min(self.back_reach, 0.0)))
        return np.array(points)

    def _on_first(self, reach: float) -> FloatArray:
        along = np.array([-self._first[1], self._first[0]])
        point: FloatArray = self._at + self._first * self._widths[0] + along * reach
        return point

    def _on_second(self, back: float) -> FloatArray:
        along = np.array([-self._second[1], self._second[0]])
        point: FloatArray = self._at + self._second * self._widths[1] - along * back
        return point


def _without_straight_points(ring: FloatArray) -> FloatArray:
    """Drop vertices on straight edges, shape (m, 2); the grid has moved them a little."""
    start = int(np.hypot(*(ring - ring.mean(axis=0)).T).argmax())  # a corner for sure
    closed = np.concatenate((ring[start:], ring[: start + 1]))
    simple = shapely.simplify(shapely.linestrings(closed), 2.0 * _GRID_MM)
    kept: FloatArray = shapely.get_coordinates(simple)[:-1]
    return kept


def _with_marks(shape: PieceShape, around: FloatArray, sewn: FloatArray) -> PieceShape:
    ring = shapely.linearrings(around)
    notches = tuple(Notch(_nearest(ring, mark.at_mm)) for mark in shape.notches)
    fold = shape.fold_edge_mm
    try:
        return replace(
            shape,
            outline_mm=around,
            fold_edge_mm=None if fold is None else _longer_fold(around, fold),
            notches=notches,
            internal_lines=(*shape.internal_lines, InternalLine(SEW_LINE, sewn)),
        )
    except OutlineError as error:
        raise ShapeError(f"with its seam allowance, the {error}") from error


def _nearest(ring: shapely.Geometry, point: Point) -> Point:
    place = shapely.line_interpolate_point(
        ring, shapely.line_locate_point(ring, shapely.points(point))
    )
    return float(shapely.get_x(place)), float(shapely.get_y(place))


def _longer_fold(around: FloatArray, fold: FoldEdge) -> FoldEdge:
    """Return the ends of the widened outline on the line of the fold."""
    start, end = np.array(fold[0]), np.array(fold[1])
    along = (end - start) / np.linalg.norm(end - start)
    offset = around - start
    on = np.abs(along[0] * offset[:, 1] - along[1] * offset[:, 0]) <= _ON_LINE_MM
    places = offset[on] @ along
    points = around[on]
    low, high = points[int(places.argmin())].tolist(), points[int(places.argmax())].tolist()
    return (low[0], low[1]), (high[0], high[1])
