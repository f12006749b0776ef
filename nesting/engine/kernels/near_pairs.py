"""Half-planes that keep near pairs apart: the constraints of compaction by linear programming.

While a pair's relative place stays within all its half-planes, the pair cannot overlap: together
they bound a convex region of free places around where it lies now (Li & Milenkovic 1995,
"Compaction and separation algorithms for non-convex polygons and their applications").
"""

import math

import numpy as np

from nesting.engine.kernels.bottom_left import TOUCH
from nesting.engine.kernels.depth import Grids, nearest, overlap_depth
from nesting.engine.kernels.jit import FloatArray, IntArray, kernel, uncounted

MOST_PLANES = 6
TOUCHING = 512.0


@uncounted
def clipped(edge: FloatArray, planes: FloatArray, count: int) -> tuple[float, float]:
    """Return the part of an edge in front of the first planes, as a range of 0 to 1.

    A plane is nx, ny, offset; in front means n . p > offset + 1. The range is empty (first above
    second) if nothing is.
    """
    low, high = 0.0, 1.0
    for k in range(count):
        at = planes[k, 0] * edge[0] + planes[k, 1] * edge[1] - planes[k, 2] - 1.0
        rise = planes[k, 0] * edge[2] + planes[k, 1] * edge[3]
        if rise == 0.0:
            if at <= 0.0:
                return 1.0, 0.0
        elif rise > 0.0:
            low = max(low, -at / rise)
        else:
            high = min(high, -at / rise)
    return low, high


@uncounted
def add_plane(
    x: float, y: float, edge: FloatArray, part: tuple[float, float], planes: FloatArray, count: int
) -> None:
    """Write the plane through the nearest point of an edge's part, facing (x, y)."""
    dx, dy = edge[2], edge[3]
    along = ((x - edge[0]) * dx + (y - edge[1]) * dy) / (dx * dx + dy * dy)
    inner = part[0] < along < part[1]
    along = min(max(along, part[0]), part[1])
    qx, qy = edge[0] + along * dx, edge[1] + along * dy
    nx, ny = x - qx, y - qy
    apart = math.sqrt(nx * nx + ny * ny)
    if inner or apart < TOUCHING:
        side = (
            1.0
            if dy * (x - edge[0]) - dx * (y - edge[1]) >= -TOUCHING * math.sqrt(dx * dx + dy * dy)
            else -1.0
        )
        nx, ny, apart = side * dy, -side * dx, math.sqrt(dx * dx + dy * dy)
    nx, ny = nx / apart, ny / apart
    planes[count, 0], planes[count, 1], planes[count, 2] = nx, ny, nx * qx + ny * qy


@uncounted
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
            low, high = clipped(edge, planes, count)
            if low >= high:
                continue
            dx, dy = edge[2], edge[3]
            along = ((x - edge[0]) * dx + (y - edge[1]) * dy) / (dx * dx + dy * dy)
            along = min(max(along, low), high)
            ox, oy = x - edge[0] - along * dx, y - edge[1] - along * dy
            apart = math.sqrt(ox * ox + oy * oy)
            height = (dy * (x - edge[0]) - dx * (y - edge[1])) / math.sqrt(dx * dx + dy * dy)
            if apart < least - 1.0 or (apart < least + 1.0 and height > best_tie):
                least, best, best_low, best_high = min(apart, least), e, low, high
                best_tie = height
        if best < 0:
            break
        add_plane(x, y, edges[best], (best_low, best_high), planes, count)
        count += 1
    return count


@uncounted
def pushed_out(x: float, y: float, edges: FloatArray) -> tuple[float, float]:
    """Return the place nearest to (x, y) that lies just outside, for one that lies inside."""
    least, best, best_along = np.inf, 0, 0.0
    for e in range(len(edges)):
        apart, along = nearest(x, y, edges, e)
        if apart < least:
            least, best, best_along = apart, e, along
    edge = edges[best]
    size = math.sqrt(edge[2] * edge[2] + edge[3] * edge[3])
    x = edge[0] + best_along * edge[2] + edge[3] / size
    y = edge[1] + best_along * edge[3] - edge[2] / size
    return x, y


@kernel
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
    edges, pairs, boxes = grids[0], grids[1], grids[2]
    n = len(shapes)
    near = np.empty((64, 2), np.int64)
    rows = np.empty((64, 3), np.float64)
    planes = np.empty((MOST_PLANES, 3), np.float64)
    found = 0
    for i in range(n):
        for j in range(i):
            a, b = (i, j) if shapes[i] <= shapes[j] else (j, i)
            pair = pairs[shapes[a], shapes[b]]
            x, y = places[b, 0] - places[a, 0], places[b, 1] - places[a, 1]
            box = boxes[shapes[a], shapes[b]]
            if x < box[0] - reach or x > box[2] + reach:
                continue
            if y < box[1] - reach or y > box[3] + reach:
                continue
            of_pair = edges[edge_starts[pair, 0] : edge_starts[pair, 1]]
            free_x, free_y = x, y
            if overlap_depth(shapes[a], shapes[b], x, y, grids) > TOUCH:
                free_x, free_y = pushed_out(x, y, of_pair)
            count = free_region(free_x, free_y, of_pair, reach, planes)
            for k in range(count):
                if found == len(near):
                    more_near = np.empty((2 * found, 2), np.int64)
                    more_rows = np.empty((2 * found, 3), np.float64)
                    more_near[:found], more_rows[:found] = near, rows
                    near, rows = more_near, more_rows
                near[found, 0], near[found, 1] = a, b
                rows[found, 0], rows[found, 1] = planes[k, 0], planes[k, 1]
                rows[found, 2] = planes[k, 0] * x + planes[k, 1] * y - planes[k, 2]
                found += 1
    return near[:found], rows[:found]
