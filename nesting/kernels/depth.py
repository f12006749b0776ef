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

from nesting.kernels.jit import FloatArray, IntArray, inlined, kernel

FREE = -1.0
CELLS = 400

# edges (e, 7): x0, y0, dx, dy, reflex at start, reflex at end, 1 / (dx dx + dy dy); pairs (s, s):
# the number of the grid; flips (s, s): 1, or -1 where the grid is that of the opposite order;
# frames (p, 9): least x, least y, greatest x, greatest y, columns, rows, columns over width, rows
# over height, first cell; cells (c, 3): where the cell's list begins and ends, and the least depth
# in it, FREE if it is free altogether; the lists of edges.
Grids = tuple[FloatArray, IntArray, FloatArray, FloatArray, FloatArray, IntArray]


@inlined
def nearest(x: float, y: float, edge: FloatArray) -> tuple[float, float]:
    """Return the squared distance to an edge and where along it, 0 to 1, the nearest point is."""
    ox, oy, dx, dy = x - edge[0], y - edge[1], edge[2], edge[3]
    along = min(1.0, max(0.0, (ox * dx + oy * dy) * edge[6]))
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
    edges: FloatArray, first_edge: int, frame: FloatArray, cells: FloatArray, lists: IntArray
) -> int:
    """Work out the cells of one grid; return how many entries were written to ``lists``.

    ``cells`` gets one row for each cell, row by row; ``lists`` the numbers of the edges near each
    cell, counted from ``first_edge``. ``lists`` must have room for every edge in every cell.
    """
    columns, rows = int(frame[4]), int(frame[5])
    wide, high = 1.0 / frame[6], 1.0 / frame[7]
    half = 0.5 * math.sqrt(wide * wide + high * high)
    distances = np.empty(len(edges), np.float64)
    used = 0
    for cell in range(rows * columns):
        x = frame[0] + (cell % columns + 0.5) * wide
        y = frame[1] + (cell // columns + 0.5) * high
        least = np.inf
        for e in range(len(edges)):
            distances[e] = nearest(x, y, edges[e])[0]
            least = min(least, distances[e])
        apart = math.sqrt(least)
        cells[cell, 0] = cells[cell, 1] = used
        cells[cell, 2] = 0.0
        if apart > half:
            cells[cell, 2] = apart - half if is_inside_edges(x, y, edges) else FREE
        if cells[cell, 2] == FREE:
            continue
        reach = (apart + 2.0 * half) * (1.0 + 1e-9)
        for e in range(len(edges)):
            if distances[e] <= reach * reach:
                lists[used] = first_edge + e
                used += 1
        cells[cell, 1] = used
    return used


@inlined
def cell_at(
    fixed: int, moving: int, dx: float, dy: float, grids: Grids
) -> tuple[int, float, float]:
    """Return the cell for ``moving`` at (dx, dy) from ``fixed``, and that place in its grid.

    Beyond the grid it is the nearest cell: for boxes that overlap.
    """
    flip, frame = grids[2][fixed, moving], grids[3][grids[1][fixed, moving]]
    dx, dy = flip * dx, flip * dy
    column = min(max((dx - frame[0]) * frame[6], 0.0), frame[4] - 1.0)
    row = min(max((dy - frame[1]) * frame[7], 0.0), frame[5] - 1.0)
    return int(frame[8] + np.floor(row) * frame[4] + column), dx, dy


@inlined
def depth_in_cell(cell: int, x: float, y: float, grids: Grids) -> float:
    """Return how deep the place (x, y) lies inside the no-fit polygon, 0 if it does not."""
    edges, cells, lists = grids[0], grids[4], grids[5]
    least, best_along, best = np.inf, 0.0, 0
    for k in range(int(cells[cell, 0]), int(cells[cell, 1])):
        apart, along = nearest(x, y, edges[lists[k]])
        if apart < least:
            least, best_along, best = apart, along, lists[k]
    inside = True
    if cells[cell, 2] == 0.0:
        edge = edges[best]
        if best_along <= 0.0:
            inside = edge[4] > 0.0
        elif best_along >= 1.0:
            inside = edge[5] > 0.0
        else:
            inside = edge[2] * (y - edge[1]) - edge[3] * (x - edge[0]) > 0.0
    return math.sqrt(least) if inside else 0.0


@kernel
def overlap_depth(fixed: int, moving: int, dx: float, dy: float, grids: Grids) -> float:
    """Return how deep ``moving`` at (dx, dy) from ``fixed`` overlaps it, 0 if it does not."""
    cell, x, y = cell_at(fixed, moving, dx, dy, grids)
    frame = grids[3][grids[1][fixed, moving]]
    inside = frame[0] < x < frame[2] and frame[1] < y < frame[3]
    if not inside or grids[4][cell, 2] == FREE:
        return 0.0
    return depth_in_cell(cell, x, y, grids)
