"""How deep two shapes overlap, nearly independent of how many vertices they have.

The depth of an overlap is the shortest shift that ends it: the distance from the moving shape's
place to the boundary of the no-fit polygon, if the place lies inside. Over the box of each no-fit
polygon lies a grid. With d the distance from a cell's centre to the boundary and h half the cell's
diagonal, the edge nearest to any point of the cell is within d + 2h of the centre, so a cell lists
those edges alone: a small part of them all. A cell whose centre is outside and farther than h from
the boundary is free altogether.
"""

import math

import numpy as np
import numpy.typing as npt

from nesting.kernels.jit import FloatArray, IntArray, inlined, kernel

FREE = -1
CELLS = 400

# edges (e, 7): x0, y0, dx, dy, reflex at start, reflex at end, 1 / (dx dx + dy dy); pairs (s, s):
# the number of the grid; frames (s, s, 10): least x, least y, greatest x, greatest y, columns,
# rows, columns over width, rows over height, first cell, and 1, or -1 where the grid is that of the
# opposite order; cells (c + 1, 2): the least depth in each, whole units, FREE if it is free
# altogether, and where its list begins; the lists of edges.
# Cells are read at random for every sample, so they are kept small.
Small = npt.NDArray[np.int32]
Grids = tuple[FloatArray, IntArray, FloatArray, Small, Small]


@inlined
def nearest(x: float, y: float, edges: FloatArray, e: int) -> tuple[float, float]:
    """Return the squared distance to an edge and where along it, 0 to 1, the nearest point is."""
    ox, oy, dx, dy = x - edges[e, 0], y - edges[e, 1], edges[e, 2], edges[e, 3]
    along = min(1.0, max(0.0, (ox * dx + oy * dy) * edges[e, 6]))
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
def fill_grid(edges: FloatArray, frame: FloatArray, cells: IntArray, lists: IntArray) -> int:
    """Work out the cells of one grid; return how many entries were written to ``lists``.

    ``cells`` (c, 2) gets the least depth in each cell and where its list begins, row by row;
    ``lists`` the numbers of the edges near each cell. It must have room for every edge in every
    cell.
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
            distances[e] = nearest(x, y, edges, e)[0]
            least = min(least, distances[e])
        apart = math.sqrt(least)
        cells[cell, 0], cells[cell, 1] = 0, used
        if apart > half:
            cells[cell, 0] = int(apart - half) if is_inside_edges(x, y, edges) else FREE
        if cells[cell, 0] == FREE:
            continue
        reach = (apart + 2.0 * half) * (1.0 + 1e-9)
        for e in range(len(edges)):
            if distances[e] <= reach * reach:
                lists[used] = e
                used += 1
    return used


@inlined
def cell_at(frames: FloatArray, fixed: int, moving: int, dx: float, dy: float) -> int:
    """Return the cell in which the place (dx, dy) of the grid of two shapes lies.

    Beyond the grid it is the nearest cell: for boxes that overlap.
    """
    columns = frames[fixed, moving, 4]
    column = (dx - frames[fixed, moving, 0]) * frames[fixed, moving, 6]
    row = (dy - frames[fixed, moving, 1]) * frames[fixed, moving, 7]
    column = min(max(column, 0.0), columns - 1.0)
    row = np.floor(min(max(row, 0.0), frames[fixed, moving, 5] - 1.0))
    return int(frames[fixed, moving, 8] + row * columns + column)


@inlined
def depth_in_cell(
    cell: int, x: float, y: float, edges: FloatArray, cells: Small, lists: Small
) -> float:
    """Return how deep the place (x, y) lies inside the no-fit polygon, 0 if it does not."""
    least, best_along, best = np.inf, 0.0, 0
    for k in range(cells[cell, 1], cells[cell + 1, 1]):
        apart, along = nearest(x, y, edges, lists[k])
        if apart < least:
            least, best_along, best = apart, along, lists[k]
    inside = True
    if cells[cell, 0] == 0:
        if best_along <= 0.0:
            inside = edges[best, 4] > 0.0
        elif best_along >= 1.0:
            inside = edges[best, 5] > 0.0
        else:
            left = edges[best, 2] * (y - edges[best, 1]) - edges[best, 3] * (x - edges[best, 0])
            inside = left > 0.0
    return math.sqrt(least) if inside else 0.0


@kernel
def overlap_depth(fixed: int, moving: int, dx: float, dy: float, grids: Grids) -> float:
    """Return how deep ``moving`` at (dx, dy) from ``fixed`` overlaps it, 0 if it does not."""
    edges, _, frames, cells, lists = grids
    frame = frames[fixed, moving]
    dx, dy = frame[9] * dx, frame[9] * dy
    inside = frame[0] < dx < frame[2] and frame[1] < dy < frame[3]
    if not inside:
        return 0.0
    cell = cell_at(frames, fixed, moving, dx, dy)
    if cells[cell, 0] == FREE:
        return 0.0
    return depth_in_cell(cell, dx, dy, edges, cells, lists)
