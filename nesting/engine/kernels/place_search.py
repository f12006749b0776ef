"""Choosing: the least costly place and pose for one copy among all others where they lie.

The copy looks around where it lies, and the best place seen is refined by small steps. Then it
looks anywhere, and the best place seen there is refined likewise, even if it costs several times
as much before: a place drawn at random is seldom as cheap as one already refined, but may be made
so. The cheaper of the two is chosen.

All lengths are units.
"""

import numpy as np
import numpy.typing as npt

from nesting.engine.kernels.combs import held_x, held_y
from nesting.engine.kernels.jit import inlined, uncounted
from nesting.engine.kernels.place_cost import Board, cost_at, looked_at

NEAR_SAMPLES = 10
WIDE_SAMPLES = 16
PROMISING = 8.0
SMALLEST_STEP = 16.0

State = npt.NDArray[np.uint64]
# where the part of the strip begins and ends in which a copy looks for places anywhere
Span = tuple[float, float]
# row of a pose, -1 for none, x, y and cost
Choice = tuple[int, float, float, float]


@inlined
def random(state: State) -> float:
    """Return a random number in [0, 1) and advance ``state``, one uint64 (xorshift64*)."""
    word = state[0]
    word ^= word >> np.uint64(12)
    word ^= word << np.uint64(25)
    word ^= word >> np.uint64(27)
    state[0] = word
    drawn = (word * np.uint64(2685821657736338717)) >> np.uint64(11)
    return float(drawn) * (1.0 / 9007199254740992.0)


@uncounted
def chosen(copy: int, length: float, span: Span, board: Board, state: State) -> Choice:
    """Return the least costly place and pose found for a copy on a strip of ``length``.

    The place where it lies is among them. The row is -1 if its pose there is not known and nothing
    else is better.
    """
    best = best_near(copy, length, board, state)
    if best[0] >= 0:
        best = refined(copy, best, length, board, state)
    if best[3] > 0.0:
        other = best_anywhere(copy, PROMISING * best[3], length, span, board, state)
        if other[0] >= 0:
            other = refined(copy, other, length, board, state)
            if other[3] < best[3]:
                best = other
    return best


@uncounted
def best_near(copy: int, length: float, board: Board, state: State) -> Choice:
    """Return the best of the place where a copy lies and random ones about it, in every pose."""
    seen = looked_at(board)
    (shapes, places, _), (item_of, pose_starts, poses, sizes, _), _, _, _, _ = board
    now, item = shapes[copy], item_of[copy]
    old_x, old_y = places[copy, 0], places[copy, 1]
    best_pose, best_x, best_y = -1, old_x, old_y
    best = cost_at(copy, now, best_x, best_y, np.inf, seen)
    for p in range(pose_starts[item], pose_starts[item + 1]):
        pose, shape = poses[p], int(poses[p, 0])
        wide, high = sizes[shape, 0], sizes[shape, 1]
        if wide > length:
            continue
        if best_pose < 0 and shape == now and pose[1] <= best_y <= pose[2]:
            best_pose = p  # of the bands that this shape may lie in, the one it lies in
        middle_x = old_x + 0.5 * (sizes[now, 0] - wide)
        middle_y = old_y + 0.5 * (sizes[now, 1] - high)
        for _ in range(NEAR_SAMPLES):
            x = held_x(middle_x + (random(state) - 0.5) * wide, length, pose, wide)
            y = held_y(middle_y + (random(state) - 0.5) * high, pose)
            if np.isnan(x + y):
                break
            trial = cost_at(copy, shape, x, y, best, seen)
            if trial < best:
                best, best_pose, best_x, best_y = trial, p, x, y
    return best_pose, best_x, best_y, best


@uncounted
def best_anywhere(
    copy: int,
    bound: float,
    length: float,
    span: Span,
    board: Board,
    state: State,
) -> Choice:
    """Return the best of random places within ``span``, in every pose, that cost below bound.

    The row is -1 if none does.
    """
    seen = looked_at(board)
    item_of, pose_starts, poses, sizes, _ = board[1]
    item = item_of[copy]
    best_pose, best_x, best_y, best = -1, 0.0, 0.0, bound
    for p in range(pose_starts[item], pose_starts[item + 1]):
        pose, shape = poses[p], int(poses[p, 0])
        wide = sizes[shape, 0]
        if wide > length:
            continue
        for _ in range(WIDE_SAMPLES):
            x = held_x(span[0] + random(state) * (span[1] - span[0] - wide), length, pose, wide)
            y = held_y(pose[1] + random(state) * (pose[2] - pose[1]), pose)
            if np.isnan(x + y):
                break
            trial = cost_at(copy, shape, x, y, best, seen)
            if trial < best:
                best, best_pose, best_x, best_y = trial, p, x, y
    return best_pose, best_x, best_y, best


@uncounted
def refined(copy: int, start: Choice, length: float, board: Board, state: State) -> Choice:
    """Return ``start`` after small steps along x, y or a diagonal while they help.

    Steps begin at a tenth of the piece and end at a tenth of the overlap it had: the rest is for
    the corners.
    """
    seen = looked_at(board)
    row, x, y, cost = start
    pose = board[1][2][row]
    shape = int(pose[0])
    wide, high = board[1][3][shape]
    step = 0.1 * min(wide, high)
    floor = max(SMALLEST_STEP, 0.1 * deepest_overlap(copy, board))
    while step > floor and cost > 0.0:
        axis = int(4.0 * random(state))
        step_x = 0.0 if axis == 1 else step
        step_y = 0.0 if axis == 0 else (-step if axis == 3 else step)
        better = False
        for sign in (1.0, -1.0):
            to_x = held_x(x + sign * step_x, length, pose, wide)
            to_y = held_y(y + sign * step_y, pose)
            trial = cost_at(copy, shape, to_x, to_y, cost, seen)
            if trial < cost:
                x, y, cost, better = to_x, to_y, trial, True
                break
        step *= 1.1 if better else 0.5
    return row, x, y, cost


@inlined
def deepest_overlap(copy: int, board: Board) -> float:
    """Return the deepest overlap of one copy with another."""
    depths = board[2][0]
    deepest = 0.0
    for other in range(len(depths)):
        deepest = max(deepest, depths[copy, other])
    return deepest
