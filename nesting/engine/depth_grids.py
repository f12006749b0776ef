"""Grids over the no-fit polygons, from which the kernels look up the depth of an overlap."""

from dataclasses import dataclass

import numpy as np

from nesting.engine.kernels.bundles import (
    CELLS_IN_ROW,
    COLUMN_AT_0,
    COLUMNS_A_UNIT,
    FIRST_CELL,
    FREE,
    LAST_COLUMN,
    LAST_ROW,
    LIST_START,
    ROW_AT_0,
    ROWS_A_UNIT,
    Grids,
    Raster,
)
from nesting.engine.kernels.depth import CELLS, fill_grid
from nesting.engine.no_fit import IntArray, NoFitTable
from pieces.outline.polygon import FloatArray

MOST_COLUMNS = 128
LEAST_COLUMNS = 8


@dataclass(frozen=True)
class DepthGrids:
    """The grids of all unordered pairs of shapes.

    Parameters
    ----------
    arrays
        The grids as flat arrays.
    edge_starts
        First edge of each pair's no-fit polygon and one past its last, shape (p, 2).
    """

    arrays: Grids
    edge_starts: IntArray


def depth_grids(table: NoFitTable) -> DepthGrids:
    """Return a grid for each unordered pair of shapes; the other order is its point reflection."""
    count = len(table.starts)
    pairs = np.zeros((count, count), dtype=np.int64)
    lookups = np.empty((count, count, 8))
    rows: list[FloatArray] = []
    cells: list[IntArray] = []
    lists: list[IntArray] = []
    edge_starts = []
    edges_used = cells_used = entries_used = 0
    for a in range(count):
        for b in range(a, count):
            pairs[a, b] = pairs[b, a] = len(rows)
            low, high = table.starts[a, b]
            rows.append(_edges(table, low, high))
            raster = _raster(table.boxes[a, b])
            lookups[a, b] = _lookup(raster, cells_used, -1.0)
            lookups[b, a] = _lookup(raster, cells_used, 1.0)
            of_pair, near = _cells(rows[-1], raster)
            of_pair[:, LIST_START] += entries_used
            cells.append(of_pair)
            lists.append(near + edges_used)
            edge_starts.append((edges_used, edges_used + len(rows[-1])))
            edges_used += len(rows[-1])
            cells_used += len(of_pair)
            entries_used += len(near)
    cells.append(np.array([[FREE, entries_used]]))
    arrays = Grids(
        edges=np.vstack(rows),
        pairs=pairs,
        boxes=table.boxes,
        lookups=lookups,
        cells=np.vstack(cells).astype(np.int32),
        lists=np.concatenate(lists).astype(np.int32),
    )
    return DepthGrids(arrays, np.array(edge_starts, dtype=np.int64))


def _edges(table: NoFitTable, low: int, high: int) -> FloatArray:
    """Return the edges of one no-fit polygon in the form of the kernels, shape (e, 7)."""
    start, along = table.edges[low:high, :2], table.edges[low:high, 2:] - table.edges[low:high, :2]
    inverse = 1.0 / (along**2).sum(axis=1, keepdims=True)
    return np.hstack([start, along, table.reflex[low:high], inverse])


def _raster(box: FloatArray) -> Raster:
    """Return a raster of nearly square cells over a box (left, low, right, high)."""
    left, low, right, high = box.tolist()
    width, height = right - left, high - low
    wanted = int(np.sqrt(CELLS * width / height))
    columns = min(max(wanted, LEAST_COLUMNS), MOST_COLUMNS)
    rows = CELLS // columns
    return Raster(
        left=left,
        low=low,
        columns=float(columns),
        rows=float(rows),
        columns_a_unit=columns / width,
        rows_a_unit=rows / height,
    )


def _lookup(raster: Raster, first_cell: int, flip: float) -> FloatArray:
    """Return how a place gives the cell of a grid, with a rim of one cell about it.

    ``flip`` is -1 for the opposite order, whose places are reflected in the origin.
    """
    found = np.empty(8)
    found[COLUMNS_A_UNIT] = flip * raster.columns_a_unit
    found[COLUMN_AT_0] = 1.0 - raster.left * raster.columns_a_unit
    found[ROWS_A_UNIT] = flip * raster.rows_a_unit
    found[ROW_AT_0] = 1.0 - raster.low * raster.rows_a_unit
    found[LAST_COLUMN] = raster.columns + 1.0
    found[LAST_ROW] = raster.rows + 1.0
    found[CELLS_IN_ROW] = raster.columns + 2.0
    found[FIRST_CELL] = first_cell
    return found


def _cells(edges: FloatArray, raster: Raster) -> tuple[IntArray, IntArray]:
    """Return the cells of one grid, shape (c, 2), and all their lists end to end."""
    count = int((raster.columns + 2.0) * (raster.rows + 2.0))
    cells = np.empty((count, 2), np.int64)
    lists = np.empty(count * len(edges), np.int64)
    used = fill_grid(edges, raster, cells, lists)
    return cells, lists[:used].copy()
