"""Grids over the no-fit polygons, so that the depth of an overlap is known at a glance."""

from dataclasses import dataclass

import numpy as np

from nesting.engine.kernels.depth import CELLS, FREE, Grids, fill_grid
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
        The flat arrays in the order of :data:`nesting.engine.kernels.depth.Grids`.
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
            frame = np.array([*table.boxes[a, b], *_raster(table.boxes[a, b]), cells_used])
            lookups[a, b] = _lookup(frame, -1.0)
            lookups[b, a] = _lookup(frame, 1.0)
            of_pair, near = _cells(rows[-1], frame)
            of_pair[:, 1] += entries_used
            cells.append(of_pair)
            lists.append(near + edges_used)
            edge_starts.append((edges_used, edges_used + len(rows[-1])))
            edges_used += len(rows[-1])
            cells_used += len(of_pair)
            entries_used += len(near)
    cells.append(np.array([[FREE, entries_used]]))
    arrays = (
        np.vstack(rows),
        pairs,
        table.boxes,
        lookups,
        np.vstack(cells).astype(np.int32),
        np.concatenate(lists).astype(np.int32),
    )
    return DepthGrids(arrays, np.array(edge_starts, dtype=np.int64))


def _edges(table: NoFitTable, low: int, high: int) -> FloatArray:
    """Return the edges of one no-fit polygon in the form of the kernels, shape (e, 7)."""
    start, along = table.edges[low:high, :2], table.edges[low:high, 2:] - table.edges[low:high, :2]
    inverse = 1.0 / (along**2).sum(axis=1, keepdims=True)
    return np.hstack([start, along, table.reflex[low:high], inverse])


def _raster(box: FloatArray) -> tuple[float, float, float, float]:
    """Return columns, rows, columns over width and rows over height of nearly square cells."""
    width, height = box[2] - box[0], box[3] - box[1]
    wanted = int(np.sqrt(CELLS * width / height))
    columns = min(max(wanted, LEAST_COLUMNS), MOST_COLUMNS)
    rows = CELLS // columns
    return columns, rows, columns / width, rows / height


def _lookup(frame: FloatArray, flip: float) -> tuple[float, ...]:
    """Return how a place gives the cell of a grid, with a rim of one cell about it.

    ``flip`` is -1 for the opposite order, whose places are reflected in the origin.
    """
    columns, rows, along, across, first = frame[4:]
    return (
        flip * along,
        1.0 - frame[0] * along,
        flip * across,
        1.0 - frame[1] * across,
        columns + 1.0,
        rows + 1.0,
        columns + 2.0,
        first,
    )


def _cells(edges: FloatArray, frame: FloatArray) -> tuple[IntArray, IntArray]:
    """Return the cells of one grid, shape (c, 2), and all their lists end to end."""
    count = int((frame[4] + 2.0) * (frame[5] + 2.0))
    cells = np.empty((count, 2), np.int64)
    lists = np.empty(count * len(edges), np.int64)
    used = fill_grid(edges, frame, cells, lists)
    return cells, lists[:used].copy()
