"""Separation: moving overlapping pieces about on a strip that is a little too short.

Each pair that overlaps costs weight x scale x depth. The overlapping pieces are visited in random
order, and each goes to the place and pose of least cost among samples, refined by small steps.
After every pass the weights of pairs that still overlap grow and the others fade, so that no two
pieces can settle for overlapping (guided local search on pairs: Egeblad, Nielsen & Odgaard 2007,
"Fast neighborhood search for two- and three-dimensional nesting problems"; overlap minimisation by
depth: Imamichi, Yagiura & Nagamochi 2009, "An iterated local search algorithm based on nonlinear
programming for the irregular strip packing problem").

All lengths are units; an overlap no deeper than ``TOUCH`` counts as none.
"""

import numpy as np
import numpy.typing as npt

from nesting.kernels.bottom_left import TOUCH
from nesting.kernels.corners import cornered
from nesting.kernels.depth import overlap_depth
from nesting.kernels.held import held_x, held_y
from nesting.kernels.jit import FloatArray, IntArray, inlined, kernel
from nesting.kernels.place_cost import Board, Problem, cost_at, looked_at, meeting

NEAR_SAMPLES = 6
WIDE_SAMPLES = 8
SMALLEST_STEP = 16.0
PATIENCE = 100.0
STRIKES = 3.0

State = npt.NDArray[np.uint64]


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


@kernel
def put(copy: int, shape: int, x: float, y: float, board: Board) -> None:
    """Lay a copy in a pose at (x, y) and work out anew how deep it overlaps each other one."""
    (shapes, places, lying), _, _, _, _ = board
    shapes[copy], places[copy, 0], places[copy, 1] = shape, x, y
    rank = 0
    while lying[5, rank] != copy:
        rank += 1
    last = len(shapes) - 1
    while rank > 0 and lying[0, rank - 1] > x:
        lying[:, rank] = lying[:, rank - 1]
        rank -= 1
    while rank < last and lying[0, rank + 1] < x:
        lying[:, rank] = lying[:, rank + 1]
        rank += 1
    enter(copy, rank, board)
    measure_overlaps(copy, board)


@inlined
def enter(copy: int, rank: int, board: Board) -> None:
    """Write a copy, its shape and the sides of its box at a rank."""
    (shapes, places, lying), problem, _, _, _ = board
    sizes, shape = problem[3], shapes[copy]
    lying[0, rank], lying[1, rank] = places[copy, 0], places[copy, 1]
    lying[2, rank] = places[copy, 0] + sizes[shape, 0]
    lying[3, rank] = places[copy, 1] + sizes[shape, 1]
    lying[4, rank], lying[5, rank] = shape, copy


@kernel
def measure_overlaps(copy: int, board: Board) -> None:
    """Work out how deep a copy overlaps each other one, of which one may move."""
    (shapes, places, lying), problem, (depths, _), grids, met = board
    shape, x, y = shapes[copy], places[copy, 0], places[copy, 1]
    wide, high = problem[3][shape]
    still = len(problem[0])
    for other in range(len(shapes)):
        if depths[copy, other] > 0.0:
            depths[copy, other] = depths[other, copy] = 0.0
    for k in range(meeting(copy, (x, y, x + wide, y + high), problem[5], lying, met)):
        other = int(lying[5, int(met[k, 0])])
        if min(other, copy) < still:
            dx, dy = x - places[other, 0], y - places[other, 1]
            depth = overlap_depth(shapes[other], shape, dx, dy, grids)
            if depth > TOUCH:
                depths[copy, other] = depths[other, copy] = depth


@kernel
def sampled(
    copy: int, length: float, board: Board, state: State
) -> tuple[int, float, float, float]:
    """Return the row of the pose, x, y and cost of the best of random places, near and anywhere.

    The place where the copy lies now is one of them. The row is -1 if its pose is not known and
    nothing else is better.
    """
    seen = looked_at(board)
    (shapes, places, _), (item_of, pose_starts, poses, sizes, _, _), _, _, _ = board
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
        for sample in range(NEAR_SAMPLES + WIDE_SAMPLES):
            if sample < NEAR_SAMPLES:
                x = middle_x + (random(state) - 0.5) * wide
                y = middle_y + (random(state) - 0.5) * high
            else:
                x = random(state) * (length - wide)
                y = pose[1] + random(state) * (pose[2] - pose[1])
            x, y = held_x(x, length, pose, wide), held_y(y, pose)
            if np.isnan(x + y):
                break
            trial = cost_at(copy, shape, x, y, best, seen)
            if trial < best:
                best, best_pose, best_x, best_y = trial, p, x, y
    return best_pose, best_x, best_y, best


@kernel
def refined(
    copy: int, start: tuple[int, float, float, float], length: float, board: Board, state: State
) -> tuple[int, float, float, float]:
    """Return ``start`` after small steps along x, y or a diagonal while they help.

    It is the row of a pose, x, y and cost. Steps begin at a tenth of the piece and end at a tenth
    of the overlap it had: the rest is for the corners.
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


@kernel
def move_copy(copy: int, length: float, board: Board, state: State) -> None:
    """Move one copy to the least costly place and pose found on a strip of ``length``."""
    best = sampled(copy, length, board, state)
    if best[0] >= 0:
        x, y = cornered(copy, refined(copy, best, length, board, state), length, board)
        put(copy, int(board[1][2][best[0], 0]), x, y, board)


@inlined
def deepest_overlap(copy: int, board: Board) -> float:
    """Return the deepest overlap of one copy with another."""
    depths = board[2][0]
    deepest = 0.0
    for other in range(len(depths)):
        deepest = max(deepest, depths[copy, other])
    return deepest


@kernel
def total_overlap(board: Board) -> float:
    """Return the sum over pairs of scale times depth."""
    scales, depths = board[1][4], board[2][0]
    total = 0.0
    for i in range(len(depths)):
        for j in range(i):
            if depths[i, j] > 0.0:
                total += depths[i, j] * scales[i, j]
    return total


@kernel
def update_weights(board: Board) -> None:
    """Let the weights of overlapping pairs grow with depth, 1.2 to 2 times, and others fade."""
    scales, (depths, weights) = board[1][4], board[2]
    deepest = 0.0
    n = len(depths)
    for i in range(n):
        for j in range(i):
            deepest = max(deepest, depths[i, j])
    for i in range(n):
        for j in range(i):
            if depths[i, j] > 0.0:
                weights[i, j] *= 1.2 + 0.8 * depths[i, j] / deepest
            elif weights[i, j] > scales[i, j]:
                weights[i, j] = max(scales[i, j], 0.95 * weights[i, j])
            else:
                continue
            weights[j, i] = weights[i, j]


@kernel
def one_pass(length: float, board: Board, order: IntArray, state: State) -> int:
    """Move every overlapping copy once, in random order; return how many were moved."""
    n = len(order)
    for k in range(n - 1, 0, -1):
        other = int(random(state) * (k + 1))
        order[k], order[other] = order[other], order[k]
    moves = 0
    for k in range(n):
        if deepest_overlap(order[k], board) > 0.0:
            move_copy(order[k], length, board, state)
            moves += 1
    return moves


@kernel
def lay_down(shapes: IntArray, places: FloatArray, board: Board) -> None:
    """Lay every copy as given and work out all depths."""
    board[0][0][:] = shapes
    board[0][1][:] = places
    order = np.argsort(places[:, 0], kind="mergesort")
    for rank in range(len(order)):
        enter(order[rank], rank, board)
    for copy in range(len(order)):
        measure_overlaps(copy, board)


@kernel
def hold_all(length: float, shapes: IntArray, places: FloatArray, problem: Problem) -> bool:
    """Bring each copy that may move to the nearest place its pose allows; tell whether it could."""
    item_of, pose_starts, poses, sizes, _, _ = problem
    for copy in range(len(item_of)):
        shape = shapes[copy]
        nearest = np.inf
        x, y = places[copy]
        for p in range(pose_starts[item_of[copy]], pose_starts[item_of[copy] + 1]):
            if int(poses[p, 0]) == shape:
                to_x = held_x(x, length, poses[p], sizes[shape, 0])
                to_y = held_y(y, poses[p])
                if abs(to_x - x) + abs(to_y - y) < nearest:
                    nearest = abs(to_x - x) + abs(to_y - y)
                    places[copy, 0], places[copy, 1] = to_x, to_y
        if nearest == np.inf:
            return False
    return True


@kernel
def attempt(
    most_moves: int,
    length: float,
    board: Board,
    best: tuple[IntArray, FloatArray],
    progress: FloatArray,
    state: State,
) -> tuple[int, int]:
    """Go on with one attempt to separate; return (1 done, -1 given up, 0 unfinished) and moves.

    ``progress`` holds the least total overlap seen, that at the last gain, passes since, and
    strikes; ``best`` the layout of least overlap. A hundred passes without two per cent of gain
    are a strike: back to the best layout, weights kept. Three strikes end the attempt.
    """
    shapes, places, _ = board[0]
    order = np.arange(len(board[1][0]))
    moves = 0
    while moves < most_moves:
        moved = one_pass(length, board, order, state)
        moves += moved
        total = total_overlap(board)
        if total < progress[0]:
            progress[0] = total
            best[0][:] = shapes[: len(order)]
            best[1][:] = places[: len(order)]
        if total == 0.0:
            return 1, moves
        update_weights(board)
        progress[2] += 1.0
        if total < 0.98 * progress[1]:
            progress[1], progress[2] = total, 0.0
        if progress[2] >= PATIENCE:
            progress[3] += 1.0
            if progress[3] >= STRIKES:
                return -1, moves
            shapes[: len(order)] = best[0]
            places[: len(order)] = best[1]
            lay_down(shapes.copy(), places.copy(), board)
            progress[1], progress[2] = progress[0], 0.0
    return 0, moves
