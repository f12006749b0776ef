"""Fewer vertices by growing outward only, so that a marker is never too short.

Two steps grow an outline and never cut into it. At a reflex vertex, the two neighbours are joined
by a straight line. Over an edge between two convex vertices, the neighbouring edges are run on
until they meet. The step that adds the least height is taken first.
"""

import heapq
import itertools
import math

import numpy as np
import shapely

from pieces.errors import OutlineError
from pieces.outline.polygon import FloatArray, as_outline

Point = tuple[float, float]

_ON_LINE_MM = 0.01
_LOST_AREA = 1e-9  # share of the area that rounding of new corners may cost


def simplify_outward(
    outline: FloatArray,
    tolerance_mm: float = 0.2,
    *,
    fold_edge_mm: tuple[Point, Point] | None = None,
) -> FloatArray:
    """Return an outline with fewer vertices that holds the given one and is hardly larger.

    Parameters
    ----------
    outline
        Outline in the agreed form, shape (n, 2), mm.
    tolerance_mm
        No point of the result is further than this from the inside of the given outline, mm.
    fold_edge_mm
        Two ends of a straight edge that must not move sideways; it may only grow longer.

    Returns
    -------
    FloatArray
        Outline in the agreed form, shape (m, 2), m at most n, mm. It holds the given outline
        up to rounding (a share of 1e-9 of its area). The given outline comes back as it is
        when no vertex can be saved.

    Raises
    ------
    OutlineError
        If the tolerance is not above zero, or the outline is not in order.

    Examples
    --------
    The shallow dent in the lower edge is filled:

    >>> dented = np.array([[0.0, 0.0], [50.0, 0.1], [100.0, 0.0], [100.0, 80.0], [0.0, 80.0]])
    >>> simplify_outward(dented).tolist()
    [[0.0, 0.0], [100.0, 0.0], [100.0, 80.0], [0.0, 80.0]]
    """
    if not 0 < tolerance_mm < math.inf:
        raise OutlineError(f"simplifying by {tolerance_mm:g} mm; the tolerance must be above zero")
    outline = as_outline(outline)
    original = shapely.polygons(outline)
    reach = original.buffer(tolerance_mm, quad_segs=32)  # lies inside the true border, by 0.03 %
    shapely.prepare(reach)
    ring = _Ring(outline, fold_edge_mm)
    ring.grow(tolerance_mm, reach)
    if ring.count == len(outline):
        return outline
    simple = ring.vertices()
    grown = shapely.polygons(simple)
    if not (shapely.is_valid(grown) and shapely.covers(reach, grown)):
        return outline
    lost = shapely.area(shapely.difference(original, grown))
    return as_outline(simple) if lost <= _LOST_AREA * original.area else outline


class _Ring:
    """Vertices linked in a ring; new corners get new numbers, and old links are cut."""

    def __init__(self, outline: FloatArray, fold_edge_mm: tuple[Point, Point] | None) -> None:
        n = len(outline)
        self.count = n
        self._fold = fold_edge_mm
        self._at: list[Point] = [(x, y) for x, y in outline.tolist()]
        self._place = [float(i) for i in range(n)]  # where along the outline, for a fixed order
        self._next = [(i + 1) % n for i in range(n)]
        self._previous = [(i - 1) % n for i in range(n)]
        self._low = np.full((2 * n, 2), np.inf)  # box of the edge leaving each vertex
        self._high = np.full((2 * n, 2), -np.inf)
        for i in range(n):
            self._box(i)

    def grow(self, tolerance_mm: float, reach: shapely.Polygon) -> None:
        """Take the lowest step that stays within reach, until none is left."""
        waiting: list[tuple[float, float, tuple[int, ...], Point | None]] = []
        for i in range(len(self._at)):
            self._propose(i, tolerance_mm, waiting)
        while waiting and self.count > 3:
            _, _, chain, corner = heapq.heappop(waiting)
            if not self._linked(chain) or not self._free(chain, corner, reach):
                continue
            start = self._replace(chain, corner)
            for _ in range(3):
                start = self._previous[start]
            for _ in range(6):
                self._propose(start, tolerance_mm, waiting)
                start = self._next[start]

    def vertices(self) -> FloatArray:
        """Return what is left, shape (m, 2), from the vertex that came first."""
        alive = [i for i, following in enumerate(self._next) if following >= 0]
        i = min(alive, key=lambda k: self._place[k])
        order = []
        for _ in range(self.count):
            order.append(self._at[i])
            i = self._next[i]
        return np.array(order)

    def _propose(
        self,
        i: int,
        tolerance_mm: float,
        waiting: list[tuple[float, float, tuple[int, ...], Point | None]],
    ) -> None:
        """Queue the steps that would take away vertex ``i``, or the edge that leaves it."""
        h, j = self._previous[i], self._next[i]
        k = self._next[j]
        a, b, c, d = (self._at[index] for index in (h, i, j, k))
        if _cross(a, b, c) <= 0:
            height = _height(a, b, c)
            if height <= tolerance_mm:
                heapq.heappush(waiting, (round(height, 9), self._place[i], (h, i, j), None))
            return
        if self.count <= 3 or _cross(b, c, d) <= 0 or self._on_fold(b, c):
            return
        corner = _meeting(a, b, c, d)
        if corner is not None:
            height = _height(b, corner, c)
            if height <= tolerance_mm:
                heapq.heappush(waiting, (round(height, 9), self._place[i], (h, i, j, k), corner))

    def _linked(self, chain: tuple[int, ...]) -> bool:
        return all(self._next[i] == j for i, j in itertools.pairwise(chain))

    def _free(self, chain: tuple[int, ...], corner: Point | None, reach: shapely.Polygon) -> bool:
        """Tell whether the added triangle is within reach and meets no other edge."""
        at = [self._at[index] for index in chain]
        if corner is None:
            triangle, border = at, [at[0], at[2]]
            skipped, touching = chain[:2], (self._previous[chain[0]], chain[2])
        else:
            triangle, border = [at[1], corner, at[2]], [at[1], corner, at[2]]
            skipped, touching = chain[:3], (-1, -1)
        if not shapely.covers(reach, shapely.linestrings(border)):
            return False
        corners = np.array(triangle)
        meets = (self._low <= corners.max(axis=0)) & (self._high >= corners.min(axis=0))
        near = [i for i in np.flatnonzero(meets.all(axis=1)).tolist() if i not in skipped]
        area = shapely.polygons(corners)
        for i in near:
            edge = shapely.linestrings([self._at[i], self._at[self._next[i]]])
            shared = shapely.intersection(edge, area) if i in touching else None
            if shared is None and shapely.intersects(edge, area):
                return False
            if shared is not None and shapely.length(shared) > 0:
                return False
        return True

    def _replace(self, chain: tuple[int, ...], corner: Point | None) -> int:
        """Take out the inner vertices of the chain, put in the corner, return where to go on."""
        first, last = chain[0], chain[-1]
        for i in chain[1:-1]:
            self._next[i] = -1
            self._low[i], self._high[i] = np.inf, -np.inf
        self.count -= len(chain) - 2
        if corner is None:
            self._link(first, last)
            return first
        new = len(self._at)
        self._at.append(corner)
        self._place.append(self._place[chain[1]])
        self._next.append(last)
        self._previous.append(first)
        self.count += 1
        self._link(first, new)
        self._link(new, last)
        return new

    def _link(self, i: int, j: int) -> None:
        self._next[i], self._previous[j] = j, i
        self._box(i)

    def _box(self, i: int) -> None:
        (x0, y0), (x1, y1) = self._at[i], self._at[self._next[i]]
        self._low[i] = min(x0, x1), min(y0, y1)
        self._high[i] = max(x0, x1), max(y0, y1)

    def _on_fold(self, b: Point, c: Point) -> bool:
        if self._fold is None:
            return False
        start, end = self._fold
        return max(_height(start, b, end), _height(start, c, end)) <= _ON_LINE_MM


def _cross(a: Point, b: Point, c: Point) -> float:
    """Return the turn at ``b``: above zero where the outline is convex."""
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])


def _height(a: Point, b: Point, c: Point) -> float:
    """Return the distance of ``b`` from the line through ``a`` and ``c``."""
    base = math.dist(a, c)
    return abs(_cross(a, b, c)) / base if base > 0 else math.dist(a, b)


def _meeting(a: Point, b: Point, c: Point, d: Point) -> Point | None:
    """Return where the edge a to b, run on, meets the edge c to d, run back."""
    forward, backward = (b[0] - a[0], b[1] - a[1]), (d[0] - c[0], d[1] - c[1])
    spread = forward[0] * backward[1] - forward[1] * backward[0]
    if spread <= 1e-9 * math.hypot(*forward) * math.hypot(*backward):
        return None
    share = ((c[0] - b[0]) * backward[1] - (c[1] - b[1]) * backward[0]) / spread
    corner = [b[0] + share * forward[0], b[1] + share * forward[1]]
    for axis in (0, 1):  # an edge along an axis stays on its line to the last digit
        if forward[axis] == 0.0:
            corner[axis] = b[axis]
        elif backward[axis] == 0.0:
            corner[axis] = c[axis]
    return corner[0], corner[1]
