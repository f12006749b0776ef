"""How deep two shapes overlap, nearly independent of how many vertices they have.

The depth of an overlap is the shortest shift that ends it: the distance from the moving shape's
place to the boundary of the no-fit polygon, if the place lies inside. Over the box of each no-fit
polygon lies a grid. With d the distance from a cell's centre to the boundary and h half the cell's
diagonal, the edge nearest to any point of the cell is within d + 2h of the centre, so a cell lists
those edges alone: one to three on average. A cell whose centre is outside and farther than h from
the boundary is free altogether.
"""

import math

import numpy as np

from nesting.kernels.jit import FloatArray, IntArray, kernel

FREE, INSIDE, BOUNDARY = 0, 1, 2
CELLS = 1024

# edges (e, 6): x0, y0, dx, dy, reflex at start, reflex at end; pairs (s, s): number of the pair or
# -1; boxes (p, 4); frames (p, 4): columns, rows, columns over width, rows over height; first cell
# of each pair (p,); kind of each cell (c,); where each cell's list begins (c + 1,); the lists.
Grids = tuple[FloatArray, IntArray, FloatArray, FloatArray, IntArray, IntArray, IntArray, IntArray]


@kernel
def nearest(x: float, y: float, edge: FloatArray) -> tuple[float, float]:
    """Return the squared distance to an edge and where along it, 0 to 1, the nearest point is."""
    ox, oy, dx, dy = x - edge[0], y - edge[1], edge[2], edge[3]
    along = (ox * dx + oy * dy) / (dx * dx + dy * dy)
    along = min(1.0, max(0.0, along))
    ox -= along * dx
    oy -= along * dy
    return ox * ox + oy * oy, along


@kernel
def is_inside_edges(x: float, y: float, edges: FloatArray) -> bool:
    """Tell whether a ray from (x, y) crosses an odd number of edges."""
    odd = False
    for e in range(len(edges)):
        y0 = edges[e, 1]
        y1 = y0 + edges[e, 3]
        if (y0 > y) != (y1 > y) and edges[e, 0] + edges[e, 2] * (y - y0) / edges[e, 3] > x:
            odd = not odd
    return odd


@kernel
def fill_grid(
    edges: FloatArray,
    first_edge: int,
    box: FloatArray,
    frame: FloatArray,
    kinds: IntArray,
    counts: IntArray,
    lists: IntArray,
) -> int:
    """Work out the cells of one grid; return how many entries were written to ``lists``.

    ``kinds`` and ``counts`` get one entry for each cell, row by row; ``lists`` the numbers of the
    edges near each cell, counted from ``first_edge``. ``lists`` must have room for every edge in
    every cell.
    """
    columns, rows = int(frame[0]), int(frame[1])
    wide, high = 1.0 / frame[2], 1.0 / frame[3]
    half = 0.5 * math.sqrt(wide * wide + high * high)
    distances = np.empty(len(edges), np.float64)
    used = 0
    for row in range(rows):
        for column in range(columns):
            x, y = box[0] + (column + 0.5) * wide, box[1] + (row + 0.5) * high
            least = np.inf
            for e in range(len(edges)):
                distances[e] = nearest(x, y, edges[e])[0]
                least = min(least, distances[e])
            cell = row * columns + column
            counts[cell] = 0
            apart = math.sqrt(least)
            kinds[cell] = BOUNDARY
            if apart > half:
                kinds[cell] = INSIDE if is_inside_edges(x, y, edges) else FREE
            if kinds[cell] == FREE:
                continue
            reach = (apart + 2.0 * half) * (1.0 + 1e-9)
            for e in range(len(edges)):
                if distances[e] <= reach * reach:
                    lists[used] = first_edge + e
                    used += 1
                    counts[cell] += 1
    return used


@kernel
def overlap_depth(fixed: int, moving: int, dx: float, dy: float, grids: Grids) -> float:
    """Return how deep ``moving`` at (dx, dy) from ``fixed`` overlaps it, 0 if it does not."""
    edges, pairs, boxes, frames, first_cells, kinds, starts, lists = grids
    pair = pairs[fixed, moving]
    if pair < 0:
        pair = pairs[moving, fixed]
        dx, dy = -dx, -dy
    left, low = boxes[pair, 0], boxes[pair, 1]
    if dx <= left or dy <= low or dx >= boxes[pair, 2] or dy >= boxes[pair, 3]:
        return 0.0
    column = min(int((dx - left) * frames[pair, 2]), int(frames[pair, 0]) - 1)
    row = min(int((dy - low) * frames[pair, 3]), int(frames[pair, 1]) - 1)
    cell = first_cells[pair] + row * int(frames[pair, 0]) + column
    if kinds[cell] == FREE:
        return 0.0
    least, along, best = np.inf, 0.0, 0
    for k in range(starts[cell], starts[cell + 1]):
        apart, at = nearest(dx, dy, edges[lists[k]])
        if apart < least:
            least, along, best = apart, at, lists[k]
    if kinds[cell] == BOUNDARY:
        edge = edges[best]
        if along <= 0.0:
            inside = edge[4] > 0.0
        elif along >= 1.0:
            inside = edge[5] > 0.0
        else:
            inside = edge[2] * (dy - edge[1]) - edge[3] * (dx - edge[0]) > 0.0
        if not inside:
            return 0.0
    return math.sqrt(least)
