"""Drafting tools: seam lines made of named edges, and the cut line at the allowance outside.

Every piece is drawn in mm as it lies on the table: the top of the garment up (+y). The seam line
runs anticlockwise, edge by edge, so the cut line is on the right-hand side of travel.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely

from pieces.grainline import Grainline, Point
from pieces.marks import DrillHole, InternalLine, MatchPoint, Notch
from pieces.outline.curves import flatten_arc, flatten_cubic, flatten_smooth
from pieces.outline.polygon import FloatArray
from pieces.piece import FoldEdge, PieceShape

SEAM_MM = 15.0
"""Seam allowance of all four patterns."""

DRAWN_WITHIN_MM = 0.1
"""How close the straight lines of a drafted curve stay to the curve."""

_FINE_MM = 0.005
_MITRE_LIMIT = 4.0
_DECIMALS = 2
_PARALLEL = 0.02  # sine of the angle below which two edges run on into one another


@dataclass(frozen=True, eq=False)
class Edge:
    """One named stretch of a seam line.

    Parameters
    ----------
    name
        Such as ``"side"`` or ``"armhole"``; ``"fold"`` is laid on a fold and not cut.
    points_mm
        Vertices in the direction of travel, shape (n, 2), mm.
    allowance_mm
        Distance from seam line to cut line, mm.
    """

    name: str
    points_mm: FloatArray
    allowance_mm: float = SEAM_MM


@dataclass(frozen=True, eq=False)
class SeamLine:
    """A closed seam line: edges in anticlockwise order, each beginning where the last one ends."""

    edges: tuple[Edge, ...]

    def __post_init__(self) -> None:
        """Refuse edges that do not meet end to end."""
        for one, following in zip(self.edges, self.edges[1:] + self.edges[:1], strict=True):
            gap_mm = math.dist(one.points_mm[-1], following.points_mm[0])
            if gap_mm > 1e-6:
                raise ValueError(
                    f'edge "{one.name}" ends {gap_mm:g} mm from the start of "{following.name}"; '
                    "draw them end to end"
                )

    def edge(self, name: str) -> Edge:
        """Return the edge called ``name``; ValueError if there is not exactly one."""
        (found,) = (edge for edge in self.edges if edge.name == name)
        return found

    def length_mm(self, name: str) -> float:
        """Return the length of an edge along the seam line, mm."""
        return length_mm(self.edge(name).points_mm)

    def point(self, name: str, distance_mm: float) -> Point:
        """Return the point of the seam at a distance from the edge's start (below 0: its end)."""
        return _point_along(self.edge(name).points_mm, distance_mm)[0]

    def beside(self, name: str, distance_mm: float) -> Point:
        """Return the point outside :meth:`point` by the edge's allowance, where a notch belongs."""
        edge = self.edge(name)
        (x, y), (dx, dy) = _point_along(edge.points_mm, distance_mm)
        return x + dy * edge.allowance_mm, y - dx * edge.allowance_mm

    def cut_edges(self) -> tuple[FloatArray, ...]:
        """Return the cut line of every edge, trimmed or drawn out to meet its neighbours."""
        moved = [_beside(edge.points_mm, edge.allowance_mm) for edge in self.edges]
        for i, edge in enumerate(self.edges):
            following = (i + 1) % len(moved)
            reach = _MITRE_LIMIT * max(edge.allowance_mm, self.edges[following].allowance_mm)
            corner = as_point(edge.points_mm[-1])
            moved[i], moved[following] = _meet(moved[i], moved[following], corner, reach)
        return tuple(moved)

    def outline_mm(self) -> FloatArray:
        """Return the cut line, shape (n, 2), rounded to 0.01 mm."""
        points = _rounded(np.concatenate(self.cut_edges()))
        fresh = (points != np.roll(points, 1, axis=0)).any(axis=1)
        kept: FloatArray = points[fresh]
        return kept

    def fold_edge_mm(self) -> FoldEdge | None:
        """Return both ends of the edge named fold on the cut line, if there is one."""
        for edge, cut in zip(self.edges, self.cut_edges(), strict=True):
            if edge.name == "fold":
                ends = _rounded(cut)
                return as_point(ends[0]), as_point(ends[-1])
        return None


@dataclass(frozen=True, eq=False, kw_only=True)
class Drafted:
    """A drafted piece in one size: its seam line and all its marks.

    Parameters
    ----------
    seam
        The seam line.
    grain
        Tail and head of the grainline arrow.
    notches
        Pairs of edge name and distance along its seam line, mm (below 0: from the end).
    match
        Points on the seam line by name.
    holes
        Points to be marked through the cloth.
    lines
        Pairs of name and points of a line that is drawn and not cut.
    """

    seam: SeamLine
    grain: tuple[Point, Point]
    notches: tuple[tuple[str, float], ...] = ()
    match: Mapping[str, Point] = field(default_factory=dict)
    holes: tuple[Point, ...] = ()
    lines: tuple[tuple[str, Sequence[Point] | FloatArray], ...] = ()

    def shape(self) -> PieceShape:
        """Return the piece as the rest of the project knows it, rounded to 0.01 mm."""
        outline = self.seam.outline_mm()
        tail, head = self.grain
        return PieceShape(
            outline_mm=outline,
            grainline=Grainline(as_point(_rounded(tail)), as_point(_rounded(head))),
            fold_edge_mm=self.seam.fold_edge_mm(),
            notches=tuple(
                Notch(_nearest(outline, self.seam.beside(name, distance)))
                for name, distance in self.notches
            ),
            match_points=tuple(
                MatchPoint(name, as_point(_rounded(at))) for name, at in self.match.items()
            ),
            drill_holes=tuple(DrillHole(as_point(_rounded(at))) for at in self.holes),
            internal_lines=tuple(
                InternalLine(name, _rounded(points)) for name, points in self.lines
            ),
        )


def fold(top: Point, foot: Point) -> Edge:
    """Return the straight edge that lies on the fold: no allowance, and not cut."""
    return Edge("fold", line(top, foot), 0.0)


def line(*points: Point) -> FloatArray:
    """Return straight lines through the points, shape (n, 2)."""
    return np.array(points, dtype=np.float64)


def curve(
    start: Point,
    end: Point,
    *,
    leave_deg: float,
    arrive_deg: float,
    pull: tuple[float, float] = (0.38, 0.38),
) -> FloatArray:
    """Return a curve that leaves and arrives in given directions, shape (n, 2).

    Parameters
    ----------
    start, end
        Both ends, mm.
    leave_deg, arrive_deg
        Direction of travel at either end, degrees anticlockwise from +x.
    pull
        Length of the two handles, as shares of the distance from start to end.
    """
    chord = math.dist(start, end)
    first = polar(start, pull[0] * chord, leave_deg)
    second = polar(end, -pull[1] * chord, arrive_deg)
    return _thinned(flatten_cubic([start, first, second, end], tolerance_mm=_FINE_MM))


def arc(centre: Point, radius_mm: float, *, start_deg: float, end_deg: float) -> FloatArray:
    """Return a circular arc from one direction to another, shape (n, 2)."""
    return flatten_arc(
        centre, radius_mm, start_deg=start_deg, end_deg=end_deg, tolerance_mm=DRAWN_WITHIN_MM
    )


def smooth(*points: Point) -> FloatArray:
    """Return a smooth curve through the points, shape (n, 2)."""
    return _thinned(flatten_smooth(points, tolerance_mm=_FINE_MM))


def chain(*stretches: FloatArray) -> FloatArray:
    """Return stretches that meet end to end as one, shape (n, 2)."""
    return np.concatenate([stretches[0], *(stretch[1:] for stretch in stretches[1:])])


def polar(start: Point, distance_mm: float, direction_deg: float) -> Point:
    """Return the point at a distance and direction from ``start``.

    Examples
    --------
    >>> polar((1.0, 2.0), 5.0, 0.0)
    (6.0, 2.0)
    """
    angle = math.radians(direction_deg)
    return start[0] + distance_mm * math.cos(angle), start[1] + distance_mm * math.sin(angle)


def as_point(vertex: FloatArray) -> Point:
    """Return a vertex, shape (2,), as a point."""
    return float(vertex[0]), float(vertex[1])


def length_mm(points: FloatArray) -> float:
    """Return the length of a chain of straight lines, mm.

    Examples
    --------
    >>> length_mm(line((0, 0), (3, 4), (3, 10)))
    11.0
    """
    steps = np.diff(points, axis=0)
    return float(np.hypot(steps[:, 0], steps[:, 1]).sum())


def split(points: FloatArray, distance_mm: float) -> tuple[FloatArray, FloatArray]:
    """Return a chain of lines as two, parted at a distance from its start (below 0: its end).

    Examples
    --------
    >>> split(line((0, 0), (10, 0)), 4.0)[1].tolist()
    [[4.0, 0.0], [10.0, 0.0]]
    """
    whole = length_mm(points)
    wanted = distance_mm if distance_mm >= 0 else whole + distance_mm
    at = np.array(_point_along(points, wanted)[0])
    run = _run_mm(points)
    before, after = points[run < wanted - 1e-9], points[run > wanted + 1e-9]
    return np.vstack((before, at)), np.vstack((at, after))


def doubled(name: str, distance_mm: float) -> tuple[tuple[str, float], tuple[str, float]]:
    """Return two notches 10 mm apart, the mark of a back edge (common practice)."""
    step = 10.0 if distance_mm >= 0 else -10.0
    return (name, distance_mm), (name, distance_mm + step)


def solved(measure: Callable[[float], float], wanted: float, *, low: float, high: float) -> float:
    """Return where a rising measure reaches the wanted value, by halving from low to high.

    Examples
    --------
    >>> round(solved(lambda x: x * x, 9.0, low=0.0, high=10.0), 9)
    3.0
    """
    if not measure(low) <= wanted <= measure(high):
        raise ValueError(
            f"{wanted:g} is not reached between {low:g} ({measure(low):g}) and "
            f"{high:g} ({measure(high):g}); widen the limits of the draft"
        )
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if measure(middle) < wanted else (low, middle)
    return 0.5 * (low + high)


def rectangle(wide_mm: float, high_mm: float, **allowances_mm: float) -> SeamLine:
    """Return the seam line of a rectangle from (0, 0): edges bottom, right, top and left.

    Allowances other than the seam allowance are given by edge name.
    """
    corners = ((0.0, 0.0), (wide_mm, 0.0), (wide_mm, high_mm), (0.0, high_mm), (0.0, 0.0))
    names = ("bottom", "right", "top", "left")
    return SeamLine(
        tuple(
            Edge(name, line(start, end), allowances_mm.get(name, SEAM_MM))
            for name, start, end in zip(names, corners, corners[1:], strict=False)
        )
    )


def _thinned(points: FloatArray) -> FloatArray:
    """Drop vertices that the curve does not need; those left lie on it."""
    thin = shapely.simplify(shapely.linestrings(points), DRAWN_WITHIN_MM - _FINE_MM)
    return shapely.get_coordinates(thin)


def _run_mm(points: FloatArray) -> FloatArray:
    """Return how far each vertex of a chain of lines is from its start along it, shape (n,), mm."""
    return np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))))


def _rounded(points: FloatArray | Sequence[Point] | Point) -> FloatArray:
    """Round to 0.01 mm; adding zero turns minus zero into zero."""
    tidy: FloatArray = np.round(np.asarray(points, dtype=np.float64), _DECIMALS) + 0.0
    return tidy


def _point_along(points: FloatArray, distance_mm: float) -> tuple[Point, Point]:
    """Return place and direction (length 1) at a distance along a chain of lines."""
    run = _run_mm(points)
    wanted = distance_mm if distance_mm >= 0 else run[-1] + distance_mm
    if not -1e-6 <= wanted <= run[-1] + 1e-6:
        raise ValueError(f"{distance_mm:g} mm is beyond the edge, which is {run[-1]:g} mm long")
    i = min(int(np.searchsorted(run, wanted, side="right")) - 1, len(points) - 2)
    step = points[i + 1] - points[i]
    direction = step / np.hypot(*step)
    return as_point(points[i] + (wanted - run[i]) * direction), as_point(direction)


def _beside(points: FloatArray, distance_mm: float) -> FloatArray:
    """Move a chain of lines to its right by a distance, corner by corner."""
    steps = np.diff(points, axis=0)
    steps = steps / np.hypot(steps[:, 0], steps[:, 1])[:, None]
    normals = np.column_stack((steps[:, 1], -steps[:, 0]))
    before = np.vstack((normals[:1], normals))
    after = np.vstack((normals, normals[-1:]))
    mitre = (before + after) / (1.0 + (before * after).sum(axis=1))[:, None]
    moved: FloatArray = points + distance_mm * mitre
    return moved


def _meet(
    first: FloatArray, second: FloatArray, corner: Point, reach_mm: float
) -> tuple[FloatArray, FloatArray]:
    """Let one cut edge end where the next begins, or leave both if their corner is too far."""
    ending, beginning = first[-1] - first[-2], second[1] - second[0]
    sine = ending[0] * beginning[1] - ending[1] * beginning[0]
    if abs(sine) < _PARALLEL * np.hypot(*ending) * np.hypot(*beginning):
        return first, second
    longer = np.vstack((first[:-1], first[-1] + reach_mm * ending / np.hypot(*ending)))
    sooner = np.vstack((second[0] - reach_mm * beginning / np.hypot(*beginning), second[1:]))
    crossing = shapely.intersection(shapely.linestrings(longer), shapely.linestrings(sooner))
    places = shapely.get_coordinates(crossing)
    if not len(places):
        return first, second
    at = places[np.argmin(np.hypot(*(places - corner).T))]
    return _until(longer, at), _until(sooner[::-1], at)[::-1]


def _until(points: FloatArray, at: FloatArray) -> FloatArray:
    """Return a chain of lines as far as a point upon it."""
    run = _run_mm(points)
    reached = float(shapely.line_locate_point(shapely.linestrings(points), shapely.points(at)))
    return np.vstack((points[run < reached - 1e-6], at))


def _nearest(outline: FloatArray, at: Point) -> Point:
    """Return the point of the outline nearest to ``at``, rounded."""
    ring = shapely.linearrings(outline)
    where = shapely.line_locate_point(ring, shapely.points(at))
    found = shapely.get_coordinates(shapely.line_interpolate_point(ring, where))[0]
    return as_point(_rounded(found))
