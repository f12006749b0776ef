"""Grids over the no-fit polygons, so that the depth of an overlap is known at a glance."""

from dataclasses import dataclass

import numpy as np

from nesting.engine.no_fit import IntArray, NoFitTable
from nesting.kernels.depth import CELLS, Grids, fill_grid
from pieces.polygon import FloatArray

MOST_COLUMNS = 128
LEAST_COLUMNS = 8


@dataclass(frozen=True)
class DepthGrids:
    """The grids of all unordered pairs of shapes.

    Parameters
    ----------
    arrays
        The flat arrays in the order of :data:`nesting.kernels.depth.Grids`.
    edge_starts
        First edge of each pair's no-fit polygon and one past its last, shape (p, 2).
    """

    arrays: Grids
    edge_starts: IntArray


def depth_grids(table: NoFitTable) -> DepthGrids:
    """Return a grid for each unordered pair of shapes; the other order is its point reflection."""
    count = len(table.starts)
    pairs = np.full((count, count), -1, dtype=np.int64)
    rows, cells, edge_starts = [], [], []
    boxes: list[FloatArray] = []
    frames: list[FloatArray] = []
    edges_used = 0
    for a in range(count):
        for b in range(a, count):
            pairs[a, b] = len(boxes)
            low, high = table.starts[a, b]
            along = table.edges[low:high, 2:] - table.edges[low:high, :2]
            of_pair = np.hstack([table.edges[low:high, :2], along, table.reflex[low:high]])
            rows.append(of_pair)
            boxes.append(table.boxes[a, b])
            frames.append(_frame(table.boxes[a, b]))
            cells.append(_cells(of_pair, edges_used, boxes[-1], frames[-1]))
            edge_starts.append((edges_used, edges_used + len(of_pair)))
            edges_used += len(of_pair)
    kinds, counts, lists = (np.concatenate(column) for column in zip(*cells, strict=True))
    cell_counts = np.array([len(kinds_of_pair) for kinds_of_pair, _, _ in cells])
    arrays = (
        np.vstack(rows),
        pairs,
        np.array(boxes),
        np.array(frames),
        np.cumsum(cell_counts) - cell_counts,
        kinds,
        np.concatenate(([0], np.cumsum(counts))),
        lists,
    )
    return DepthGrids(arrays, np.array(edge_starts, dtype=np.int64))


def _frame(box: FloatArray) -> FloatArray:
    """Return columns, rows, columns over width and rows over height of nearly square cells."""
    width, height = box[2] - box[0], box[3] - box[1]
    wanted = int(np.sqrt(CELLS * width / height))
    columns = min(max(wanted, LEAST_COLUMNS), MOST_COLUMNS)
    rows = CELLS // columns
    return np.array([columns, rows, columns / width, rows / height])


def _cells(
    edges: FloatArray, first_edge: int, box: FloatArray, frame: FloatArray
) -> tuple[IntArray, IntArray, IntArray]:
    """Return kind and number of near edges of each cell, and all their lists end to end."""
    count = int(frame[0] * frame[1])
    kinds, counts = np.empty(count, np.int64), np.empty(count, np.int64)
    lists = np.empty(count * len(edges), np.int64)
    used = fill_grid(edges, first_edge, box, frame, kinds, counts, lists)
    return kinds, counts, lists[:used].copy()
