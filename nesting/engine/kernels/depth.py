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

from nesting.engine.kernels.jit import FloatArray, IntArray, inlined, kernel, uncounted

FREE = -1
CELLS = 400

# edges (e, 7): x0, y0, dx, dy, reflex at start, reflex at end, 1 / (dx dx + dy dy); pairs (s, s):
# the number of the grid; boxes (s, s, 4) of the no-fit polygons of fixed and moving shape; lookups
# (s, s, 8) of moving and fixed shape: columns a unit along x and what to add, rows a unit along y
# and what to add, last column, last row, cells in a row, first cell, with columns and rows a unit
# below zero where the grid is that of the opposite order; cells (c + 1, 2): the least depth in
# each, whole units, FREE if it is free altogether, and where its list begins; the lists of edges.
# About every grid runs a rim of free cells. Cells are read at random for every sample, so they are
# kept small.
Small = npt.NDArray[np.int32]
Grids = tuple[FloatArray, IntArray, FloatArray, FloatArray, Small, Small]


@inlined
def nearest(x: float, y: float, edges: FloatArray, e: int) -> tuple[float, float]:
    """Return the squared distance to an edge and where along it, 0 to 1, the nearest point is."""
    ox, oy, dx, dy = x - edges[e, 0], y - edges[e, 1], edges[e, 2], edges[e, 3]
    along = min(1.0, max(0.0, (ox * dx + oy * dy) * edges[e, 6]))
    ox -= along * dx
    oy -= along * dy
    return ox * ox + oy * oy, along


@uncounted
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

    ``frame`` is the box of the no-fit polygon, columns and rows, and how many of them a unit takes.
    ``cells`` (c, 2) gets the least depth in each cell and where its list begins, row by row, the
    rim among them; ``lists`` the numbers of the edges near each cell. It must have room for every
    edge in every cell.
    """
    columns, rows = int(frame[4]), int(frame[5])
    wide, high = 1.0 / frame[6], 1.0 / frame[7]
    half = 0.5 * math.sqrt(wide * wide + high * high)
    distances = np.empty(len(edges), np.float64)
    used = 0
    for cell in range((rows + 2) * (columns + 2)):
        column, row = cell % (columns + 2) - 1, cell // (columns + 2) - 1
        cells[cell, 0], cells[cell, 1] = FREE, used
        if not (0 <= column < columns and 0 <= row < rows):
            continue
        x = frame[0] + (column + 0.5) * wide
        y = frame[1] + (row + 0.5) * high
        least = np.inf
        for e in range(len(edges)):
            distances[e] = nearest(x, y, edges, e)[0]
            least = min(least, distances[e])
        apart = math.sqrt(least)
        if apart > half and not is_inside_edges(x, y, edges):
            continue
        cells[cell, 0] = int(max(0.0, apart - half))
        reach = (apart + 2.0 * half) * (1.0 + 1e-9)
        for e in range(len(edges)):
            if distances[e] <= reach * reach:
                lists[used] = e
                used += 1
    return used


@inlined
def cell_at(lookups: FloatArray, moving: int, fixed: int, dx: float, dy: float) -> np.uint32:
    """Return the cell in which the place (dx, dy) of one shape from another lies.

    Beyond the grid it is a cell of the rim. The number has no sign: numba looks at every signed one
    whether it counts from the end.
    """
    column = lookups[moving, fixed, 0] * dx + lookups[moving, fixed, 1]
    row = lookups[moving, fixed, 2] * dy + lookups[moving, fixed, 3]
    column = min(max(column, 0.0), lookups[moving, fixed, 4])
    row = np.floor(min(max(row, 0.0), lookups[moving, fixed, 5]))
    return np.uint32(lookups[moving, fixed, 7] + row * lookups[moving, fixed, 6] + column)


@inlined
def flip_of(lookups: FloatArray, moving: int, fixed: int) -> float:
    """Return -1 if the grid of two shapes is that of the opposite order, else 1."""
    return math.copysign(1.0, lookups[moving, fixed, 0])


@inlined
def depth_in_cell(
    cell: np.uint32, x: float, y: float, edges: FloatArray, cells: Small, lists: Small
) -> float:
    """Return how deep the place (x, y) of a grid lies inside the no-fit polygon, 0 if outside."""
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


@uncounted
def overlap_depth(fixed: int, moving: int, dx: float, dy: float, grids: Grids) -> float:
    """Return how deep ``moving`` at (dx, dy) from ``fixed`` overlaps it, 0 if it does not."""
    edges, _, _, lookups, cells, lists = grids
    cell = cell_at(lookups, moving, fixed, dx, dy)
    if cells[cell, 0] == FREE:
        return 0.0
    flip = flip_of(lookups, moving, fixed)
    return depth_in_cell(cell, flip * dx, flip * dy, edges, cells, lists)
