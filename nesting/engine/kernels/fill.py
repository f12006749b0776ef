"""Laying pieces one after another, each at the leftmost free place of its best pose."""

import numpy as np

from nesting.engine.kernels.bottom_left import Laid, Place, Tables, comes_before, lowest_left
from nesting.engine.kernels.combs import Comb, held_place
from nesting.engine.kernels.jit import FloatArray, IntArray, kernel, uncounted

# pose_starts (items + 1,); poses (p, 3): shape, lowest y, highest y; pose holds (p, 6): group,
# offset and sign along, then across, group -1 for none; extent of each shape along x (s,)
Poses = tuple[IntArray, FloatArray, FloatArray, FloatArray]
# repeat of each group (g,), and its phase (g,), NaN while any will do
Groups = tuple[FloatArray, FloatArray]


@uncounted
def comb_of(hold: FloatArray, groups: Groups) -> Comb:
    """Return the comb that a hold (group, offset, sign) makes of its group's phase."""
    if hold[0] < 0.0:
        return 0.0, 0.0
    group = int(hold[0])
    every, phase = groups[0][group], groups[1][group]
    if np.isnan(phase):
        return 0.0, 0.0
    return (hold[2] * phase - hold[1]) % every, every


@uncounted
def settle_phase(hold: FloatArray, place: float, groups: Groups) -> None:
    """Let a placement give its group the phase, if the group has none yet."""
    if hold[0] >= 0.0:
        group = int(hold[0])
        if np.isnan(groups[1][group]):
            groups[1][group] = (hold[2] * (place + hold[1])) % groups[0][group]


@kernel
def place_of_pose(
    pose: int, poses: Poses, groups: Groups, laid: Laid, tables: Tables, seek: tuple[float, float]
) -> Place:
    """Return the leftmost free place of one pose, (inf, 0) if its combs leave it none.

    ``seek`` is (x known not to be too far right, 1 to seek from below or -1 from above).
    """
    row, holds = poses[1][pose], poses[2][pose]
    along, across = comb_of(holds[:3], groups), comb_of(holds[3:], groups)
    shape = int(row[0])
    if along[1] == 0.0 and across[1] == 0.0:
        return lowest_left(shape, (row[1], row[2]), laid, tables, seek[0], seek[1])
    return held_place(shape, (row[1], row[2], across), (seek[0], along), laid, tables, seek[1])


@kernel
def fill_in_order(
    order: tuple[IntArray, FloatArray],
    poses: Poses,
    groups: Groups,
    already: Laid,
    tables: Tables,
    by_right_edge: bool,
) -> tuple[IntArray, FloatArray]:
    """Lay the items of ``order`` one after another; return the pose and place of each.

    ``order`` is items (n,), and (n,) 1 to seek a copy's place from below, -1 from above. What is
    ``already`` laid stays. Among the poses of an item the one furthest left wins: by its left
    edge, or by its right edge if ``by_right_edge``. The pose is -1, and all after it, for a copy
    whose combs leave it no place. Phases not yet known are settled by the first copy laid.
    """
    items, upwards = order
    before, n = already[0], len(items)
    shapes = np.concatenate((already[1], np.empty(n, np.int64)))
    places = np.concatenate((already[2], np.empty((n, 2), np.float64)))
    chosen = np.full(n, -1, np.int64)
    reached = np.zeros(len(poses[1]), np.float64)
    for k in range(n):
        best_key, best_y, best_x = np.inf, 0.0, 0.0
        laid = (before + k, shapes, places)
        for p in range(poses[0][items[k]], poses[0][items[k] + 1]):
            x, y = place_of_pose(p, poses, groups, laid, tables, (reached[p], upwards[k]))
            if x == np.inf:
                continue
            reached[p] = x
            key = x + poses[3][int(poses[1][p, 0])] if by_right_edge else x
            if comes_before(key, y * upwards[k], best_key, best_y * upwards[k]):
                best_key, best_y, best_x = key, y, x
                chosen[k] = p
        if chosen[k] < 0:
            break
        shapes[before + k] = int(poses[1][chosen[k], 0])
        places[before + k, 0], places[before + k, 1] = best_x, best_y
        settle_phase(poses[2][chosen[k], :3], best_x, groups)
        settle_phase(poses[2][chosen[k], 3:], best_y, groups)
    return chosen, places[before:]
