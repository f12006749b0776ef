"""Compaction: shifting all copies at once by linear programming, so that the strip gets shorter.

Each near pair stays within a convex region of free places around where it lies now, which bounds
the shifts by half-planes; the length is what is made least (Li & Milenkovic 1995, "Compaction and
separation algorithms for non-convex polygons and their applications").
"""

import numpy as np
from scipy.optimize import linprog
from scipy.sparse import csr_matrix

from nesting.engine.laid import Laid, laid
from nesting.engine.no_fit import IntArray
from nesting.engine.prepared import Prepared
from nesting.engine.separate import new_board
from nesting.kernels.near_pairs import separating_planes
from nesting.kernels.separate import lay_down, total_overlap
from pieces.polygon import FloatArray

FARTHEST_SHIFT = 0.03
MOST_ROUNDS = 8
LEAST_GAIN = 1e-4
_TOLERANCE = {"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10}


def compacted(prepared: Prepared, start: Laid) -> Laid:
    """Return a valid layout at most as long as the valid layout ``start``.

    Rounds of shifts go on until one gains less than a ten-thousandth. A result that is not valid,
    as rounding in the solver may cause, is thrown away.
    """
    best = start
    for _ in range(MOST_ROUNDS):
        shifted = _shifted(prepared, best)
        if shifted is None or shifted.length >= best.length or not is_valid(prepared, shifted):
            break
        gained, best = best.length - shifted.length, shifted
        if gained < LEAST_GAIN * best.length:
            break
    return best


def is_valid(prepared: Prepared, layout: Laid) -> bool:
    """Tell whether no two copies overlap by more than a touch."""
    board = new_board(prepared)
    lay_down(layout.shapes, layout.places, board)
    return bool(total_overlap(board) == 0.0)


def _shifted(prepared: Prepared, start: Laid) -> Laid | None:
    """Return the copies shifted to the least length found, or None if the solver finds none.

    Unknowns are the shifts along x, those along y, and the length, all in widths of the strip.
    """
    n, unit = len(start.shapes), prepared.width
    farthest = FARTHEST_SHIFT * unit
    near, planes = separating_planes(
        start.shapes,
        start.places,
        3.0 * farthest,
        prepared.grids.arrays,
        prepared.grids.edge_starts,
    )
    matrix, limits = _rows(prepared, start, near, planes)
    goal = np.zeros(2 * n + 1)
    goal[:n], goal[-1] = 1e-4 / n, 1.0
    bounds = _bounds(prepared, start)
    solved = linprog(
        goal, A_ub=matrix, b_ub=limits, bounds=bounds, method="highs", options=_TOLERANCE
    )
    if solved.status != 0:
        return None
    shifts = np.clip(solved.x, bounds[:, 0], bounds[:, 1])[: 2 * n].reshape(2, n).T * unit
    places = start.places + shifts
    heights = prepared.heights_of(start.shapes)
    places[:, 0] = np.maximum(places[:, 0], 0.0)
    places[:, 1] = np.clip(places[:, 1], heights[:, 0], heights[:, 1])
    return laid(prepared, start.shapes, places)


def _rows(
    prepared: Prepared, start: Laid, near: IntArray, planes: FloatArray
) -> tuple[csr_matrix, FloatArray]:
    """Return the inequalities: near pairs stay apart, and every copy ends within the length."""
    n, k = len(start.shapes), len(near)
    pair, copy = np.arange(k), np.arange(n)
    first, second = near[:, 0], near[:, 1]
    rows = np.concatenate([pair, pair, pair, pair, k + copy, k + copy])
    columns = np.concatenate([second, first, second + n, first + n, copy, np.full(n, 2 * n)])
    values = np.concatenate(
        [-planes[:, 0], planes[:, 0], -planes[:, 1], planes[:, 1], np.ones(n), -np.ones(n)]
    )
    ends = start.places[:, 0] + prepared.sizes[start.shapes, 0]
    limits = np.concatenate([planes[:, 2], -ends]) / prepared.width
    return csr_matrix((values, (rows, columns)), shape=(k + n, 2 * n + 1)), limits


def _bounds(prepared: Prepared, start: Laid) -> FloatArray:
    """Return least and greatest value of each unknown, shape (2n + 1, 2)."""
    n, unit = len(start.shapes), prepared.width
    heights = prepared.heights_of(start.shapes)
    bounds = np.full((2 * n + 1, 2), FARTHEST_SHIFT)
    bounds[:, 0] = -FARTHEST_SHIFT
    bounds[:n, 0] = np.maximum(bounds[:n, 0], -start.places[:, 0] / unit)
    y = start.places[:, 1]
    bounds[n : 2 * n, 0] = np.maximum(-FARTHEST_SHIFT, (heights[:, 0] - y) / unit)
    bounds[n : 2 * n, 1] = np.minimum(FARTHEST_SHIFT, (heights[:, 1] - y) / unit)
    bounds[2 * n] = 0.0, np.inf
    return bounds
