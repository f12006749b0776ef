"""Copies of one phase group, and those beyond a window, shift together.

How linear programming is told so.
"""

import numpy as np
from scipy.sparse import csr_matrix

from nesting.engine.laid import Laid
from nesting.engine.no_fit import IntArray
from nesting.engine.prepared import Prepared
from nesting.engine.window import Window, beyond
from pieces.polygon import FloatArray

ALONE, STILL = -1, -2


def tied(
    prepared: Prepared, start: Laid, window: Window, bounds: FloatArray
) -> tuple[csr_matrix, FloatArray]:
    """Return how shifts follow from fewer unknowns, and the bounds of those.

    Parameters
    ----------
    prepared, start
        The problem, and the layout to shift.
    window
        The part of the strip whose copies shift. What lies beyond it shifts along x as one, what
        lies before it not at all.
    bounds
        Least and greatest shift of each copy and obstacle along x, then along y, and the length
        last, shape (2n + 1, 2).

    Returns
    -------
    csr_matrix, FloatArray
        Shape (2n + 1, m) and (m, 2). The unknowns are the shifts of what no group holds, then the
        shift of each group's phase, that of what lies beyond the window, and the length. A group of
        given phases does not shift.
    """
    every, groups = len(bounds) - 1, len(prepared.groups) + 1
    group, sign = _members(prepared, start, window, every)
    alone = np.flatnonzero(group == ALONE)
    held = np.flatnonzero(group >= 0)
    last = len(alone) + groups
    rows = np.concatenate((alone, held, [every]))
    columns = np.concatenate((np.arange(len(alone)), len(alone) + group[held], [last]))
    values = np.concatenate((np.ones(len(alone)), sign[held], [1.0]))
    ties = csr_matrix((values, (rows, columns)), shape=(every + 1, last + 1))
    is_free = np.append(prepared.free_groups, True)
    together = np.where(is_free[:, None], [-np.inf, np.inf], 0.0)
    for shift in held:
        low, high = bounds[shift] if sign[shift] > 0 else -bounds[shift][::-1]
        limits = together[group[shift]]
        limits[:] = max(limits[0], low), min(limits[1], high)
    together[~np.isfinite(together)] = 0.0
    return ties, np.vstack((bounds[alone], together, bounds[-1:]))


def _members(
    prepared: Prepared, start: Laid, window: Window, shifts: int
) -> tuple[IntArray, FloatArray]:
    """Return group and sign of each shift, shapes (shifts,)."""
    group, sign = np.full(shifts, ALONE, dtype=np.int64), np.ones(shifts)
    n = len(start.shapes)
    rows = prepared.poses_lying(start.shapes, start.places, start.phases)
    for axis, first in ((0, 0), (1, shifts // 2)):
        holds = prepared.pose_holds[rows][:, 3 * axis : 3 * axis + 3]
        group[first : first + n] = holds[:, 0]
        sign[first : first + n] = np.where(holds[:, 0] >= 0, holds[:, 2], 1.0)
    lie_still = np.setdiff1d(np.arange(n), window.movers)
    group[lie_still] = group[lie_still + shifts // 2] = STILL
    group[beyond(prepared, start, window)] = len(prepared.groups)
    return group, sign
