"""Half-planes that keep near pairs apart: the constraints of compaction by linear programming.

While a pair's relative place stays within all its half-planes, the pair cannot overlap: together
they bound a convex region of free places around where it lies now (Li & Milenkovic 1995,
"Compaction and separation algorithms for non-convex polygons and their applications").
"""

import math

import numpy as np

from nesting.engine.kernels.bundles import (
    EDGE_X,
    EDGE_Y,
    HIGH,
    LEFT,
    LEVEL,
    LOW,
    NORMAL_X,
    NORMAL_Y,
    RIGHT,
    START_X,
    START_Y,
    Grids,
    Place,
    Range,
)
from nesting.engine.kernels.depth import nearest_on_edge, overlap_depth
from nesting.engine.kernels.jit import FloatArray, IntArray, kernel, uncounted
from nesting.engine.kernels.tolerances import NEARLY_TOUCHING, TOUCH

MOST_PLANES = 6
SLACK = LEVEL
"""Column of a half-plane between two copies that says how far in front of it the place lies."""


@uncounted(for_separation=True)
def part_in_front(edge: FloatArray, planes: FloatArray, count: int) -> Range:
    """Return the part of an edge in front of the first planes, as a range of 0 to 1.

    In front means n . p > level + 1. The range is empty (its low end above its high end) if
    nothing is.
    """
    low, high = 0.0, 1.0
    for k in range(count):
        nx, ny = planes[k, NORMAL_X], planes[k, NORMAL_Y]
        at = nx * edge[START_X] + ny * edge[START_Y] - planes[k, LEVEL] - 1.0
        rise = nx * edge[EDGE_X] + ny * edge[EDGE_Y]
        if rise == 0.0:
            if at <= 0.0:
                return Range(1.0, 0.0)
        elif rise > 0.0:
            low = max(low, -at / rise)
        else:
            high = min(high, -at / rise)
    return Range(low, high)


@uncounted(for_separation=True)
def add_plane(
    x: float, y: float, edge: FloatArray, part: Range, planes: FloatArray, count: int
) -> None:
    """Write the plane through the nearest point of an edge's part, facing (x, y)."""
    x0, y0, dx, dy = edge[START_X], edge[START_Y], edge[EDGE_X], edge[EDGE_Y]
    along = ((x - x0) * dx + (y - y0) * dy) / (dx * dx + dy * dy)
    inner = part.low < along < part.high
    along = min(max(along, part.low), part.high)
    qx, qy = x0 + along * dx, y0 + along * dy
    nx, ny = x - qx, y - qy
    apart = math.sqrt(nx * nx + ny * ny)
    if inner or apart < NEARLY_TOUCHING:
        size = math.sqrt(dx * dx + dy * dy)
        side = 1.0 if dy * (x - x0) - dx * (y - y0) >= -NEARLY_TOUCHING * size else -1.0
        nx, ny, apart = side * dy, -side * dx, size
    nx, ny = nx / apart, ny / apart
    planes[count, NORMAL_X], planes[count, NORMAL_Y] = nx, ny
    planes[count, LEVEL] = nx * qx + ny * qy


@uncounted(for_separation=True)
def free_region(x: float, y: float, edges: FloatArray, reach: float, planes: FloatArray) -> int:
    """Fill ``planes`` with the half-planes of a convex free region around (x, y); return how many.

    The nearest edge gives the first; while some edge still reaches into the region, its nearest
    part gives the next.
    """
    count = 0
    while count < MOST_PLANES:
        least, best, best_low, best_high, best_tie = reach, -1, 0.0, 0.0, -np.inf
        for e in range(len(edges)):
            edge = edges[e]
            low, high = part_in_front(edge, planes, count)
            if low >= high:
                continue
            x0, y0, dx, dy = edge[START_X], edge[START_Y], edge[EDGE_X], edge[EDGE_Y]
            along = ((x - x0) * dx + (y - y0) * dy) / (dx * dx + dy * dy)
            along = min(max(along, low), high)
            ox, oy = x - x0 - along * dx, y - y0 - along * dy
            apart = math.sqrt(ox * ox + oy * oy)
            height = (dy * (x - x0) - dx * (y - y0)) / math.sqrt(dx * dx + dy * dy)
            if apart < least - 1.0 or (apart < least + 1.0 and height > best_tie):
                least, best, best_low, best_high = min(apart, least), e, low, high
                best_tie = height
        if best < 0:
            break
        add_plane(x, y, edges[best], Range(best_low, best_high), planes, count)
        count += 1
    return count


@uncounted(for_separation=True)
def nearest_outside(x: float, y: float, edges: FloatArray) -> Place:
    """Return the place nearest to (x, y) that lies just outside, for one that lies inside."""
    least, best, best_along = np.inf, 0, 0.0
    for e in range(len(edges)):
        apart, along = nearest_on_edge(x, y, edges, e)
        if apart < least:
            least, best, best_along = apart, e, along
    edge = edges[best]
    dx, dy = edge[EDGE_X], edge[EDGE_Y]
    size = math.sqrt(dx * dx + dy * dy)
    return Place(
        edge[START_X] + best_along * dx + dy / size, edge[START_Y] + best_along * dy - dx / size
    )


@kernel(for_separation=True)
def separating_planes(
    shapes: IntArray, places: FloatArray, reach: float, grids: Grids, edge_starts: IntArray
) -> tuple[IntArray, FloatArray]:
    """Return pairs (k, 2) and for each a half-plane (k, 3): nx, ny, slack; pairs may recur.

    The pair (i, j) stays apart while n . (shift of j - shift of i) >= -slack for all its
    half-planes; slack is how far in front of it j's place lies. It is below zero for a pair that
    overlaps, whose region lies around the nearest free place.
    Pairs farther apart than ``reach`` are left out. ``edge_starts`` (p, 2) holds the first edge of
    each pair's no-fit polygon and one past its last.
    """
    n = len(shapes)
    near = np.empty((64, 2), np.int64)
    rows = np.empty((64, 3), np.float64)
    planes = np.empty((MOST_PLANES, 3), np.float64)
    found = 0
    for i in range(n):
        for j in range(i):
            a, b = (i, j) if shapes[i] <= shapes[j] else (j, i)
            pair = grids.pairs[shapes[a], shapes[b]]
            x, y = places[b, 0] - places[a, 0], places[b, 1] - places[a, 1]
            box = grids.boxes[shapes[a], shapes[b]]
            if x < box[LEFT] - reach or x > box[RIGHT] + reach:
                continue
            if y < box[LOW] - reach or y > box[HIGH] + reach:
                continue
            of_pair = grids.edges[edge_starts[pair, 0] : edge_starts[pair, 1]]
            free_x, free_y = x, y
            if overlap_depth(shapes[a], shapes[b], x, y, grids) > TOUCH:
                free_x, free_y = nearest_outside(x, y, of_pair)
            count = free_region(free_x, free_y, of_pair, reach, planes)
            for k in range(count):
                if found == len(near):
                    more_near = np.empty((2 * found, 2), np.int64)
                    more_rows = np.empty((2 * found, 3), np.float64)
                    more_near[:found], more_rows[:found] = near, rows
                    near, rows = more_near, more_rows
                near[found, 0], near[found, 1] = a, b
                nx, ny = planes[k, NORMAL_X], planes[k, NORMAL_Y]
                rows[found, NORMAL_X], rows[found, NORMAL_Y] = nx, ny
                rows[found, SLACK] = nx * x + ny * y - planes[k, LEVEL]
                found += 1
    return near[:found], rows[:found]
