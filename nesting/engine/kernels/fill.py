"""Laying pieces one after another, each at the leftmost free place of its best pose."""

import numpy as np

from nesting.engine.kernels.bottom_left import comes_before, lowest_left
from nesting.engine.kernels.bundles import (
    ACROSS,
    ALONG,
    GROUP,
    HIGHEST_Y,
    LOWEST_Y,
    OFFSET,
    POSE_SHAPE,
    SIGN,
    Comb,
    Combs,
    FillOrder,
    Groups,
    LaidSoFar,
    NoFit,
    Place,
    Poses,
    Range,
)
from nesting.engine.kernels.combs import held_place
from nesting.engine.kernels.jit import FloatArray, IntArray, kernel, uncounted


@uncounted()
def comb_of(hold: FloatArray, groups: Groups) -> Comb:
    """Return the comb that a hold (group, offset, sign) makes of its group's phase."""
    if hold[GROUP] < 0.0:
        return Comb(0.0, 0.0)
    group = int(hold[GROUP])
    every, phase = groups.every[group], groups.phases[group]
    if np.isnan(phase):
        return Comb(0.0, 0.0)
    return Comb((hold[SIGN] * phase - hold[OFFSET]) % every, every)


@uncounted()
def settle_phase(hold: FloatArray, place: float, groups: Groups) -> None:
    """Let a placement give its group the phase, if the group has none yet."""
    if hold[GROUP] >= 0.0:
        group = int(hold[GROUP])
        if np.isnan(groups.phases[group]):
            phase = (hold[SIGN] * (place + hold[OFFSET])) % groups.every[group]
            groups.phases[group] = phase


@kernel()
def place_of_pose(
    pose: int,
    poses: Poses,
    groups: Groups,
    laid: LaidSoFar,
    no_fit: NoFit,
    x_from: float,
    upwards: float,
) -> Place:
    """Return the leftmost free place of one pose, (inf, 0) if its combs leave it none.

    ``x_from`` is a place known not to be too far right. Of places on one x the lowest is taken, or
    the highest for ``upwards`` -1.
    """
    row, holds = poses.rows[pose], poses.holds[pose]
    combs = Combs(comb_of(holds[ALONG], groups), comb_of(holds[ACROSS], groups))
    shape, heights = int(row[POSE_SHAPE]), Range(row[LOWEST_Y], row[HIGHEST_Y])
    if combs.along.every == 0.0 and combs.across.every == 0.0:
        return lowest_left(shape, heights, laid, no_fit, x_from, upwards)
    return held_place(shape, heights, combs, laid, no_fit, x_from, upwards)


@kernel()
def fill_in_order(
    order: FillOrder,
    poses: Poses,
    groups: Groups,
    already: LaidSoFar,
    no_fit: NoFit,
    by_right_edge: bool,
) -> tuple[IntArray, FloatArray]:
    """Lay the items of ``order`` one after another; return the pose and place of each.

    What is ``already`` laid stays. Among the poses of an item the one furthest left wins: by its
    left edge, or by its right edge if ``by_right_edge``. The pose is -1, and all after it, for a
    copy whose combs leave it no place. Phases not yet known are settled by the first copy laid.
    """
    items, upwards = order
    before, n = already.copies, len(items)
    shapes = np.concatenate((already.shapes, np.empty(n, np.int64)))
    places = np.concatenate((already.places, np.empty((n, 2), np.float64)))
    chosen = np.full(n, -1, np.int64)
    reached = np.zeros(len(poses.rows), np.float64)
    for k in range(n):
        best_key, best_y, best_x = np.inf, 0.0, 0.0
        laid = LaidSoFar(before + k, shapes, places)
        for p in range(poses.starts[items[k]], poses.starts[items[k] + 1]):
            x, y = place_of_pose(p, poses, groups, laid, no_fit, reached[p], upwards[k])
            if x == np.inf:
                continue
            reached[p] = x
            key = x + poses.extents[int(poses.rows[p, POSE_SHAPE])] if by_right_edge else x
            if comes_before(key, y * upwards[k], best_key, best_y * upwards[k]):
                best_key, best_y, best_x = key, y, x
                chosen[k] = p
        if chosen[k] < 0:
            break
        shapes[before + k] = int(poses.rows[chosen[k], POSE_SHAPE])
        places[before + k, 0], places[before + k, 1] = best_x, best_y
        settle_phase(poses.holds[chosen[k], ALONG], best_x, groups)
        settle_phase(poses.holds[chosen[k], ACROSS], best_y, groups)
    return chosen, places[before:]
