"""Searching for the least costly place and pose of one copy, while all others lie still.

The copy looks around where it lies, and the best place seen is refined by small steps. Then it
looks anywhere, and the best place seen there is refined likewise, even if it costs several times
as much before: a place drawn at random is seldom as cheap as a refined one, but may become so
when it is refined too. The cheaper of the two is chosen.

All lengths are units.
"""

import numpy as np
import numpy.typing as npt

from nesting.engine.kernels.bundles import HIGHEST_Y, LOWEST_Y, POSE_SHAPE, Board, Choice, Range
from nesting.engine.kernels.combs import allowed_x, allowed_y
from nesting.engine.kernels.jit import inlined, uncounted
from nesting.engine.kernels.place_cost import cost_at, tables_of

NEAR_SAMPLES = 10
WIDE_SAMPLES = 16
PROMISING = 8.0
SMALLEST_STEP = 16.0

State = npt.NDArray[np.uint64]


@inlined
def random_share(state: State) -> float:
    """Return a random number in [0, 1) and advance ``state``, one uint64 (xorshift64*)."""
    word = state[0]
    word ^= word >> np.uint64(12)
    word ^= word << np.uint64(25)
    word ^= word >> np.uint64(27)
    state[0] = word
    drawn = (word * np.uint64(2685821657736338717)) >> np.uint64(11)
    return float(drawn) * (1.0 / 9007199254740992.0)


@uncounted(for_separation=True)
def best_choice(copy: int, length: float, span: Range, board: Board, state: State) -> Choice:
    """Return the least costly place and pose found for a copy on a strip of ``length``.

    The place where it lies is among them, as are random ones within ``span`` along the strip. The
    pose is -1 if that in which the copy lies is not known and nothing else is better.
    """
    best = best_near(copy, length, board, state)
    if best.pose >= 0:
        best = refined(copy, best, length, board, state)
    if best.cost > 0.0:
        other = best_anywhere(copy, PROMISING * best.cost, length, span, board, state)
        if other.pose >= 0:
            other = refined(copy, other, length, board, state)
            if other.cost < best.cost:
                best = other
    return best


@uncounted(for_separation=True)
def best_near(copy: int, length: float, board: Board, state: State) -> Choice:
    """Return the best of the place where a copy lies and random ones about it, in every pose."""
    tables = tables_of(board)
    items, pose_starts, poses, sizes, _ = board.problem
    now, item = board.lying.shapes[copy], items[copy]
    old_x, old_y = board.lying.places[copy]
    best_pose, best_x, best_y = -1, old_x, old_y
    best = cost_at(copy, now, best_x, best_y, np.inf, tables)
    for p in range(pose_starts[item], pose_starts[item + 1]):
        pose, shape = poses[p], int(poses[p, POSE_SHAPE])
        wide, high = sizes[shape]
        if wide > length:
            continue
        if best_pose < 0 and shape == now and pose[LOWEST_Y] <= best_y <= pose[HIGHEST_Y]:
            best_pose = p  # of the bands that this shape may lie in, the one it lies in
        middle_x = old_x + 0.5 * (sizes[now, 0] - wide)
        middle_y = old_y + 0.5 * (sizes[now, 1] - high)
        for _ in range(NEAR_SAMPLES):
            x = allowed_x(middle_x + (random_share(state) - 0.5) * wide, length, pose, wide)
            y = allowed_y(middle_y + (random_share(state) - 0.5) * high, pose)
            if np.isnan(x + y):
                break
            trial = cost_at(copy, shape, x, y, best, tables)
            if trial < best:
                best, best_pose, best_x, best_y = trial, p, x, y
    return Choice(best_pose, best_x, best_y, best)


@uncounted(for_separation=True)
def best_anywhere(
    copy: int,
    bound: float,
    length: float,
    span: Range,
    board: Board,
    state: State,
) -> Choice:
    """Return the best of random places within ``span``, in every pose, that cost below bound.

    The pose is -1 if none does.
    """
    tables = tables_of(board)
    items, pose_starts, poses, sizes, _ = board.problem
    item = items[copy]
    best_pose, best_x, best_y, best = -1, 0.0, 0.0, bound
    for p in range(pose_starts[item], pose_starts[item + 1]):
        pose, shape = poses[p], int(poses[p, POSE_SHAPE])
        wide, _ = sizes[shape]
        room_x, room_y = span.high - span.low - wide, pose[HIGHEST_Y] - pose[LOWEST_Y]
        if wide > length:
            continue
        for _ in range(WIDE_SAMPLES):
            x = allowed_x(span.low + random_share(state) * room_x, length, pose, wide)
            y = allowed_y(pose[LOWEST_Y] + random_share(state) * room_y, pose)
            if np.isnan(x + y):
                break
            trial = cost_at(copy, shape, x, y, best, tables)
            if trial < best:
                best, best_pose, best_x, best_y = trial, p, x, y
    return Choice(best_pose, best_x, best_y, best)


@uncounted(for_separation=True)
def refined(copy: int, start: Choice, length: float, board: Board, state: State) -> Choice:
    """Return ``start`` after small steps along x, y or a diagonal while they help.

    Steps begin at a tenth of the piece and end at a tenth of the overlap it had: the rest is for
    the corners.
    """
    tables = tables_of(board)
    row, x, y, cost = start
    pose = board.problem.poses[row]
    shape = int(pose[POSE_SHAPE])
    wide, high = board.problem.sizes[shape]
    step = 0.1 * min(wide, high)
    floor = max(SMALLEST_STEP, 0.1 * deepest_overlap(copy, board))
    while step > floor and cost > 0.0:
        axis = int(4.0 * random_share(state))
        step_x = 0.0 if axis == 1 else step
        step_y = 0.0 if axis == 0 else (-step if axis == 3 else step)
        better = False
        for sign in (1.0, -1.0):
            to_x = allowed_x(x + sign * step_x, length, pose, wide)
            to_y = allowed_y(y + sign * step_y, pose)
            trial = cost_at(copy, shape, to_x, to_y, cost, tables)
            if trial < cost:
                x, y, cost, better = to_x, to_y, trial, True
                break
        step *= 1.1 if better else 0.5
    return Choice(row, x, y, cost)


@inlined
def deepest_overlap(copy: int, board: Board) -> float:
    """Return the deepest overlap of one copy with another."""
    depths = board.pairs.depths
    deepest = 0.0
    for other in range(len(depths)):
        deepest = max(deepest, depths[copy, other])
    return deepest
