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

from nesting.engine.kernels.bundles import (
    CELLS_IN_ROW,
    COLUMN_AT_0,
    COLUMNS_A_UNIT,
    EDGE_X,
    EDGE_Y,
    FIRST_CELL,
    FREE,
    INVERSE_SQUARE,
    LAST_COLUMN,
    LAST_ROW,
    LEAST_DEPTH,
    LIST_START,
    REFLEX_AT_END,
    REFLEX_AT_START,
    ROW_AT_0,
    ROWS_A_UNIT,
    START_X,
    START_Y,
    Grids,
    Raster,
    SmallIntArray,
)
from nesting.engine.kernels.jit import FloatArray, IntArray, inlined, kernel, uncounted

CELLS = 400


@inlined
def nearest_on_edge(x: float, y: float, edges: FloatArray, e: int) -> tuple[float, float]:
    """Return the squared distance to an edge and where along it, 0 to 1, the nearest point is."""
    ox, oy = x - edges[e, START_X], y - edges[e, START_Y]
    dx, dy = edges[e, EDGE_X], edges[e, EDGE_Y]
    along = min(1.0, max(0.0, (ox * dx + oy * dy) * edges[e, INVERSE_SQUARE]))
    ox -= along * dx
    oy -= along * dy
    return ox * ox + oy * oy, along


@uncounted(for_separation=True)
def is_inside_edges(x: float, y: float, edges: FloatArray) -> bool:
    """Tell whether a ray from (x, y) crosses an odd number of edges."""
    odd = False
    for e in range(len(edges)):
        x0, y0 = edges[e, START_X], edges[e, START_Y]
        dx, dy = edges[e, EDGE_X], edges[e, EDGE_Y]
        if (y0 > y) != (y0 + dy > y) and x0 + dx * (y - y0) / dy > x:
            odd = not odd
    return odd


@kernel(for_separation=True)
def fill_grid(edges: FloatArray, raster: Raster, cells: IntArray, lists: IntArray) -> int:
    """Work out the cells of one grid; return how many entries were written to ``lists``.

    ``cells`` (c, 2) gets the least depth in each cell and where its list begins, row by row, the
    rim among them; ``lists`` the numbers of the edges near each cell. It must have room for every
    edge in every cell.
    """
    columns, rows = int(raster.columns), int(raster.rows)
    wide, high = 1.0 / raster.columns_a_unit, 1.0 / raster.rows_a_unit
    half = 0.5 * math.sqrt(wide * wide + high * high)
    distances = np.empty(len(edges), np.float64)
    used = 0
    for cell in range((rows + 2) * (columns + 2)):
        column, row = cell % (columns + 2) - 1, cell // (columns + 2) - 1
        cells[cell, LEAST_DEPTH], cells[cell, LIST_START] = FREE, used
        if not (0 <= column < columns and 0 <= row < rows):
            continue
        x = raster.left + (column + 0.5) * wide
        y = raster.low + (row + 0.5) * high
        least = np.inf
        for e in range(len(edges)):
            distances[e], _ = nearest_on_edge(x, y, edges, e)
            least = min(least, distances[e])
        apart = math.sqrt(least)
        if apart > half and not is_inside_edges(x, y, edges):
            continue
        cells[cell, LEAST_DEPTH] = int(max(0.0, apart - half))
        reach = (apart + 2.0 * half) * (1.0 + 1e-9)
        for e in range(len(edges)):
            if distances[e] <= reach * reach:
                lists[used] = e
                used += 1
    return used


@inlined
def cell_at(lookups: FloatArray, moving: int, fixed: int, dx: float, dy: float) -> np.uint32:
    """Return the cell in which the place (dx, dy) of one shape from another lies.

    Beyond the grid it is a cell of the rim. The number is unsigned: for a signed one, numba
    would check each time whether it counts from the end.
    """
    column = lookups[moving, fixed, COLUMNS_A_UNIT] * dx + lookups[moving, fixed, COLUMN_AT_0]
    row = lookups[moving, fixed, ROWS_A_UNIT] * dy + lookups[moving, fixed, ROW_AT_0]
    column = min(max(column, 0.0), lookups[moving, fixed, LAST_COLUMN])
    row = np.floor(min(max(row, 0.0), lookups[moving, fixed, LAST_ROW]))
    first, in_row = lookups[moving, fixed, FIRST_CELL], lookups[moving, fixed, CELLS_IN_ROW]
    return np.uint32(first + row * in_row + column)


@inlined
def flip_of(lookups: FloatArray, moving: int, fixed: int) -> float:
    """Return -1 if the grid of two shapes is that of the opposite order, else 1."""
    return math.copysign(1.0, lookups[moving, fixed, COLUMNS_A_UNIT])


@inlined
def depth_in_cell(
    cell: np.uint32,
    x: float,
    y: float,
    edges: FloatArray,
    cells: SmallIntArray,
    lists: SmallIntArray,
) -> float:
    """Return how deep the place (x, y) of a grid lies inside the no-fit polygon, 0 if outside."""
    least, best_along, best = np.inf, 0.0, 0
    for k in range(cells[cell, LIST_START], cells[cell + 1, LIST_START]):
        apart, along = nearest_on_edge(x, y, edges, lists[k])
        if apart < least:
            least, best_along, best = apart, along, lists[k]
    inside = True
    if cells[cell, LEAST_DEPTH] == 0:
        if best_along <= 0.0:
            inside = edges[best, REFLEX_AT_START] > 0.0
        elif best_along >= 1.0:
            inside = edges[best, REFLEX_AT_END] > 0.0
        else:
            ox, oy = x - edges[best, START_X], y - edges[best, START_Y]
            inside = edges[best, EDGE_X] * oy - edges[best, EDGE_Y] * ox > 0.0
    return math.sqrt(least) if inside else 0.0


@uncounted(for_separation=True)
def overlap_depth(fixed: int, moving: int, dx: float, dy: float, grids: Grids) -> float:
    """Return how deep ``moving`` at (dx, dy) from ``fixed`` overlaps it, 0 if it does not."""
    cell = cell_at(grids.lookups, moving, fixed, dx, dy)
    if grids.cells[cell, LEAST_DEPTH] == FREE:
        return 0.0
    flip = flip_of(grids.lookups, moving, fixed)
    return depth_in_cell(cell, flip * dx, flip * dy, grids.edges, grids.cells, grids.lists)
