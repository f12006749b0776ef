"""Shifting all copies at once by linear programming.

Each near pair is kept within a convex region of free places around where it lies now, or around
the nearest free place if it overlaps: half-planes that bound the shifts (Li & Milenkovic 1995,
"Compaction and separation algorithms for non-convex polygons and their applications"; Imamichi,
Yagiura & Nagamochi 2009 shift all copies at once to separate them). Copies of one phase group, and
those beyond a window, share one unknown, so that they shift together.
"""

import numpy as np
from scipy.optimize import linprog
from scipy.sparse import csr_matrix

from nesting.engine.kernels.bundles import ACROSS, ALONG, GROUP, NORMAL_X, NORMAL_Y, SIGN
from nesting.engine.kernels.near_pairs import SLACK, separating_planes
from nesting.engine.layout import Layout, layout_of
from nesting.engine.no_fit import IntArray
from nesting.engine.prepared import PreparedStrip
from nesting.engine.separation_state import with_obstacles
from nesting.engine.window import Window, beyond
from pieces.outline.polygon import FloatArray

FARTHEST_SHIFT = 0.03
ALONE, STILL = -1, -2
"""In place of a group: the shift is tied to no other one, or it is always zero."""

_TOLERANCE = {"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10}


def shortest(prepared: PreparedStrip, start: Layout, window: Window) -> Layout | None:
    """Return the copies shifted apart to the least length found, or None if the solver finds none.

    Unknowns are the shifts of the copies of the window along x, those along y, and the length, in
    widths of the strip. Copies of one phase group shift together, as do those beyond the window.
    """
    near, planes = _near(prepared, start, window)
    matrix, limits = _rows(prepared, start, near, planes)
    ties, bounds = tied(prepared, start, window, _bounds(prepared, start))
    goal = np.zeros(matrix.shape[1])
    goal[: matrix.shape[1] // 2], goal[-1] = 2e-4 / matrix.shape[1], 1.0
    return _solved(prepared, start, ties, (ties.T @ goal, matrix @ ties, limits, bounds))


def _near(prepared: PreparedStrip, start: Layout, window: Window) -> tuple[IntArray, FloatArray]:
    """Return the near pairs (k, 2) of which one may move, and a half-plane for each (k, 3)."""
    reach = 3.0 * FARTHEST_SHIFT * prepared.width
    shapes, places = with_obstacles(prepared, start.shapes, start.places)
    lefts, rights = places[:, 0], places[:, 0] + prepared.sizes[shapes, 0]
    first, last = lefts[window.movers].min() - reach, rights[window.movers].max() + reach
    some = np.flatnonzero((rights > first) & (lefts < last))
    near, planes = separating_planes(
        shapes[some], places[some], reach, prepared.grids.arrays, prepared.grids.edge_starts
    )
    near = some[near]
    may_move = np.isin(near, window.movers).any(axis=1)
    return near[may_move], planes[may_move]


def _solved(
    prepared: PreparedStrip,
    start: Layout,
    ties: csr_matrix,
    problem: tuple[FloatArray, csr_matrix, FloatArray, FloatArray],
) -> Layout | None:
    """Return the copies moved as the solution of (goal, matrix, limits, bounds) says, or None."""
    goal, matrix, limits, bounds = problem
    solved = linprog(
        goal, A_ub=matrix, b_ub=limits, bounds=bounds, method="highs", options=_TOLERANCE
    )
    if solved.status != 0:
        return None
    unknowns = np.clip(solved.x, bounds[:, 0], bounds[:, 1])[: ties.shape[1]]
    shifts = (ties @ unknowns)[:-1].reshape(2, -1).T * prepared.width
    return _moved(prepared, start, shifts, unknowns)


def _moved(
    prepared: PreparedStrip, start: Layout, shifts: FloatArray, unknowns: FloatArray
) -> Layout:
    """Return the copies moved by their shifts (n, 2), and the phases by those of their groups."""
    n, groups = len(start.shapes), len(prepared.groups)
    places = start.places + shifts[:n]
    heights = prepared.heights_of(start.shapes, start.places)
    places[:, 0] = np.maximum(places[:, 0], 0.0)
    places[:, 1] = np.clip(places[:, 1], heights[:, 0], heights[:, 1])
    moved = unknowns[len(unknowns) - 2 - groups : -2] * prepared.width
    phases = (start.phases + moved) % prepared.every
    return layout_of(prepared, start.shapes, places, phases)


def _rows(
    prepared: PreparedStrip, start: Layout, near: IntArray, planes: FloatArray
) -> tuple[csr_matrix, FloatArray]:
    """Return the inequalities: near pairs stay apart, and every copy ends within the length."""
    n, k, moving = len(start.shapes) + len(prepared.obstacle_shapes), len(near), len(start.shapes)
    pair, copy = np.arange(k), np.arange(moving)
    first, second = near[:, 0], near[:, 1]
    rows = np.concatenate([pair, pair, pair, pair, k + copy, k + copy])
    columns = np.concatenate([second, first, second + n, first + n, copy, np.full(moving, 2 * n)])
    alone = np.ones(moving)
    normals_x, normals_y = planes[:, NORMAL_X], planes[:, NORMAL_Y]
    values = np.concatenate([-normals_x, normals_x, -normals_y, normals_y, alone, -alone])
    ends = start.places[:, 0] + prepared.sizes[start.shapes, 0]
    limits = np.concatenate([planes[:, SLACK], -ends]) / prepared.width
    return csr_matrix((values, (rows, columns)), shape=(k + moving, 2 * n + 1)), limits


def _bounds(prepared: PreparedStrip, start: Layout) -> FloatArray:
    """Return least and greatest value of each unknown, shape (2n + 1, 2); obstacles lie still."""
    moving, unit = len(start.shapes), prepared.width
    n = moving + len(prepared.obstacle_shapes)
    heights = prepared.heights_of(start.shapes, start.places)
    bounds = np.zeros((2 * n + 1, 2))
    bounds[:moving, 0] = np.maximum(-FARTHEST_SHIFT, -start.places[:, 0] / unit)
    bounds[:moving, 1] = FARTHEST_SHIFT
    y = start.places[:, 1]
    bounds[n : n + moving, 0] = np.maximum(-FARTHEST_SHIFT, (heights[:, 0] - y) / unit)
    bounds[n : n + moving, 1] = np.minimum(FARTHEST_SHIFT, (heights[:, 1] - y) / unit)
    bounds[2 * n] = 0.0, np.inf
    return bounds


def tied(
    prepared: PreparedStrip, start: Layout, window: Window, bounds: FloatArray
) -> tuple[csr_matrix, FloatArray]:
    """Return how shifts follow from fewer unknowns, and the bounds of those.

    Parameters
    ----------
    prepared, start
        The problem, and the layout to shift.
    window
        The part of the strip whose copies shift. What lies beyond it shifts along x as one, what
        lies before it does not shift.
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
    prepared: PreparedStrip, start: Layout, window: Window, shifts: int
) -> tuple[IntArray, FloatArray]:
    """Return group and sign of each shift, shapes (shifts,)."""
    group, sign = np.full(shifts, ALONE, dtype=np.int64), np.ones(shifts)
    n = len(start.shapes)
    rows = prepared.poses_lying(start.shapes, start.places, start.phases)
    for axis, first in ((ALONG, 0), (ACROSS, shifts // 2)):
        holds = prepared.pose_holds[rows, axis]
        group[first : first + n] = holds[:, GROUP]
        sign[first : first + n] = np.where(holds[:, GROUP] >= 0, holds[:, SIGN], 1.0)
    lie_still = np.setdiff1d(np.arange(n), window.movers)
    group[lie_still] = group[lie_still + shifts // 2] = STILL
    group[beyond(prepared, start, window)] = len(prepared.groups)
    return group, sign
