"""One entity of a DXF drawing as strokes, curves within 0.1 mm."""

import math
from collections.abc import Callable, Iterable
from typing import Any

import numpy as np
from ezdxf.path import make_path

from pieces.drawing.affine import apply
from pieces.drawing.limits import Budget
from pieces.drawing.svg_path import Stroke, arc_points
from pieces.errors import DrawingError
from pieces.outline.curves import TOLERANCE_MM, flatten_cubic, flatten_quadratic
from pieces.outline.polygon import FloatArray

DRAWN = frozenset({"POINT", "LINE", "LWPOLYLINE", "POLYLINE", "CIRCLE", "ARC", "ELLIPSE", "SPLINE"})
_MIRRORED = np.diag([-1.0, 1.0, 1.0])
_MOST_CONTROL_POINTS = 5_000
_FLATTEN: dict[int, Callable[[FloatArray], FloatArray]] = {
    2: lambda line: line,
    3: flatten_quadratic,
    4: flatten_cubic,
}


def strokes_of(entity: Any, matrix: FloatArray, budget: Budget) -> list[Stroke]:
    """Return the strokes of an entity in mm; one point alone for a point.

    Raises
    ------
    DrawingError
        If it lies out of all measure, or has more points than the limits allow.
    """
    budget.take_shape()
    kind = entity.dxftype()
    if kind not in ("POINT", "LINE", "SPLINE", "ELLIPSE") and entity.dxf.extrusion.z < 0.0:
        matrix = matrix @ _MIRRORED  # drawn on the back of the plane
    if kind == "SPLINE":
        stroke = _spline(entity, matrix)
    else:
        user, closed = _user_points(entity, kind, matrix)
        stroke = Stroke(apply(matrix, user), closed)
    budget.take_vertices(len(stroke.points_mm))
    return [stroke] if len(stroke.points_mm) else []


def _user_points(entity: Any, kind: str, matrix: FloatArray) -> tuple[FloatArray, bool]:
    match kind:
        case "POINT":
            return _flat([entity.dxf.location]), False
        case "LINE":
            return _flat([entity.dxf.start, entity.dxf.end]), False
        case "LWPOLYLINE":
            rows = [(x, y, bulge) for x, y, bulge in entity.get_points("xyb")]
            return _with_bulges(rows, closed=entity.closed, matrix=matrix), entity.closed
        case "POLYLINE":
            if entity.is_polygon_mesh or entity.is_poly_face_mesh:
                raise DrawingError("the drawing holds a mesh in space; keep flat lines only")
            vertices = [vertex.dxf for vertex in entity.vertices]
            rows = [(v.location.x, v.location.y, v.get("bulge", 0.0)) for v in vertices]
            return _with_bulges(rows, closed=entity.is_closed, matrix=matrix), entity.is_closed
        case "CIRCLE":
            return _arc(entity.dxf.center, entity.dxf.radius, (0.0, 360.0), matrix), True
        case "ARC":
            start, end = entity.dxf.start_angle, entity.dxf.end_angle
            around = (end - start) % 360.0 or 360.0
            turn = (start, start + around)
            return _arc(entity.dxf.center, entity.dxf.radius, turn, matrix), False
        case _:
            return _ellipse(entity, matrix)


def _flat(points: Iterable[Any]) -> FloatArray:
    return np.array([(point.x, point.y) for point in points], dtype=np.float64)


def _with_bulges(
    rows: list[tuple[float, float, float]], *, closed: bool, matrix: FloatArray
) -> FloatArray:
    """Return points where each edge may be an arc: its bulge is tan(quarter of its angle)."""
    if not rows:
        return np.empty((0, 2))
    points = np.array([row[:2] for row in rows], dtype=np.float64)
    ends = np.roll(points, -1, axis=0)
    edges = range(len(rows) if closed else len(rows) - 1)
    chains = [points[:1], *(_edge(points[i], ends[i], rows[i][2], matrix)[1:] for i in edges)]
    chain = np.concatenate(chains)
    return chain[:-1] if closed and len(chain) > 1 else chain


def _edge(start: FloatArray, end: FloatArray, bulge: float, matrix: FloatArray) -> FloatArray:
    chord = math.dist(start.tolist(), end.tolist())
    if bulge == 0.0 or chord == 0.0 or not abs(bulge) < 1e6:
        return np.array([start, end])
    radius = chord * (1.0 + bulge * bulge) / (4.0 * abs(bulge))
    shape = [radius, radius, 0.0, float(abs(bulge) > 1.0), float(bulge > 0.0)]
    return arc_points(start, end, shape, matrix)


def _arc(
    centre: Any, radius: float, turn_deg: tuple[float, float], matrix: FloatArray
) -> FloatArray:
    middle = np.array([centre.x, centre.y])
    angles = np.radians([turn_deg[0], 0.5 * sum(turn_deg), turn_deg[1]])
    stops = middle + radius * np.column_stack((np.cos(angles), np.sin(angles)))
    shape = [abs(radius), abs(radius), 0.0, 0.0, 1.0]
    halves = [arc_points(stops[i], stops[i + 1], shape, matrix) for i in (0, 1)]
    return np.concatenate((halves[0], halves[1][1:]))


def _ellipse(entity: Any, matrix: FloatArray) -> tuple[FloatArray, bool]:
    """Return an ellipse, or a stretch of one, at even steps of its parameter."""
    major, ratio = entity.dxf.major_axis, entity.dxf.ratio
    side = -1.0 if entity.dxf.extrusion.z < 0.0 else 1.0
    axes = np.array([[major.x, -side * ratio * major.y], [major.y, side * ratio * major.x]])
    start, end = entity.dxf.start_param, entity.dxf.end_param
    around = (end - start) % (2.0 * math.pi) or 2.0 * math.pi
    radius_mm = float(np.linalg.norm(matrix[:2, :2] @ axes, ord=2))
    if not 0.0 < radius_mm < 1e7:
        raise DrawingError("an ellipse of the drawing has no sensible size; check its units")
    steps = max(8, math.ceil(around / (2.0 * math.acos(1.0 - min(TOLERANCE_MM / radius_mm, 0.5)))))
    angles = start + around * np.arange(steps + 1) / steps
    middle = np.array([entity.dxf.center.x, entity.dxf.center.y])
    points: FloatArray = middle + np.column_stack((np.cos(angles), np.sin(angles))) @ axes.T
    return points, around >= 2.0 * math.pi - 1e-9


def _spline(entity: Any, matrix: FloatArray) -> Stroke:
    if entity.control_point_count() + entity.fit_point_count() > _MOST_CONTROL_POINTS:
        raise DrawingError(
            f"a spline of the drawing has more than {_MOST_CONTROL_POINTS:,} points; simplify it"
        )
    knots = list(entity.construction_tool().knots())
    order = int(entity.dxf.degree) + 1
    if max(knots[:order]) > min(knots[:order]) or max(knots[-order:]) > min(knots[-order:]):
        raise DrawingError("a spline of the drawing has no ends of its own; save it as polyline")
    path = make_path(entity)
    at = path.start
    chains = [apply(matrix, _flat([at]))]
    for command in path.commands():
        named = (name for name in ("ctrl", "ctrl1", "ctrl2") if hasattr(command, name))
        handles = [getattr(command, name) for name in named]
        control = apply(matrix, _flat([at, *handles, command.end]))
        chains.append(_FLATTEN[len(control)](control)[1:])
        at = command.end
    return Stroke(np.concatenate(chains), bool(entity.closed))
