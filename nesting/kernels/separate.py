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
from nesting.kernels.depth import Grids, overlap_depth
from nesting.kernels.jit import FloatArray, IntArray, kernel

NEAR_SAMPLES = 6
WIDE_SAMPLES = 8
SMALLEST_STEP = 16.0
PATIENCE = 100.0
STRIKES = 3.0

State = npt.NDArray[np.uint64]
# shapes (n,), places (n, 2), boxes (4, n) of the copies
Layout = tuple[IntArray, FloatArray, FloatArray]
# item of each copy (n,), pose_starts (items + 1,), poses (p, 3), sizes (s, 2), scales (items,
# items)
Problem = tuple[IntArray, IntArray, FloatArray, FloatArray, FloatArray]
# depths (n, n) and weights (n, n) of every pair
Pairs = tuple[FloatArray, FloatArray]
Board = tuple[Layout, Problem, Pairs, Grids]


@kernel
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
def cost_at(copy: int, shape: int, x: float, y: float, board: Board, bound: float) -> float:
    """Return the weighted overlap of a copy with all others if it lay there.

    Stops adding once the sum reaches ``bound``.
    """
    (shapes, places, boxes), (item_of, _, _, sizes, scales), (_, weights), grids = board
    item = item_of[copy]
    right, top = x + sizes[shape, 0], y + sizes[shape, 1]
    total = 0.0
    for other in range(len(shapes)):
        if x >= boxes[2, other] or right <= boxes[0, other]:
            continue
        if y >= boxes[3, other] or top <= boxes[1, other] or other == copy:
            continue
        dx, dy = x - places[other, 0], y - places[other, 1]
        depth = overlap_depth(shapes[other], shape, dx, dy, grids)
        if depth > TOUCH:
            total += float(weights[copy, other] * scales[item, item_of[other]] * depth)
            if total >= bound:
                break
    return total


@kernel
def put(copy: int, shape: int, x: float, y: float, board: Board) -> None:
    """Lay a copy in a pose at (x, y) and work out anew how deep it overlaps each other one."""
    (shapes, places, boxes), (_, _, _, sizes, _), (depths, _), grids = board
    shapes[copy], places[copy, 0], places[copy, 1] = shape, x, y
    boxes[0, copy], boxes[1, copy] = x, y
    boxes[2, copy], boxes[3, copy] = x + sizes[shape, 0], y + sizes[shape, 1]
    for other in range(len(shapes)):
        depth = 0.0
        apart = boxes[0, copy] >= boxes[2, other] or boxes[2, copy] <= boxes[0, other]
        if other != copy and not apart:
            dx, dy = x - places[other, 0], y - places[other, 1]
            depth = overlap_depth(shapes[other], shape, dx, dy, grids)
        depths[copy, other] = depth if depth > TOUCH else 0.0
        depths[other, copy] = depths[copy, other]


@kernel
def refined(
    copy: int,
    shape: int,
    start: tuple[float, float, float],
    limits: tuple[float, float, float],
    board: Board,
    state: State,
) -> tuple[float, float, float]:
    """Return (x, y, cost) after small steps along x, y or a diagonal while they help.

    ``start`` is (x, y, cost), ``limits`` (greatest x, lowest y, highest y). Steps begin at a tenth
    of the piece and end at a fiftieth of the overlap it had, for finer ones are lost on it.
    """
    x, y, cost = start
    right, low, high = limits
    sizes = board[1][3]
    step = 0.1 * min(sizes[shape, 0], sizes[shape, 1])
    floor = max(SMALLEST_STEP, 0.02 * deepest_overlap(copy, board))
    while step > floor and cost > 0.0:
        axis = int(4.0 * random(state))
        step_x = 0.0 if axis == 1 else step
        step_y = 0.0 if axis == 0 else (-step if axis == 3 else step)
        better = False
        for sign in (1.0, -1.0):
            to_x = min(max(x + sign * step_x, 0.0), right)
            to_y = min(max(y + sign * step_y, low), high)
            trial = cost_at(copy, shape, to_x, to_y, board, cost)
            if trial < cost:
                x, y, cost, better = to_x, to_y, trial, True
                break
        step *= 1.1 if better else 0.5
    return x, y, cost


@kernel
def move_copy(copy: int, length: float, board: Board, state: State) -> None:
    """Move one copy to the least costly place and pose found on a strip of ``length``."""
    (shapes, places, _), (item_of, pose_starts, poses, sizes, _), _, _ = board
    item, now = item_of[copy], shapes[copy]
    best_shape, best_x, best_y = now, places[copy, 0], places[copy, 1]
    best = cost_at(copy, now, best_x, best_y, board, np.inf)
    best_limits = (length - sizes[now, 0], best_y, best_y)
    for p in range(pose_starts[item], pose_starts[item + 1]):
        shape = int(poses[p, 0])
        right, low, high = length - sizes[shape, 0], poses[p, 1], poses[p, 2]
        if right < 0.0:
            continue
        if shape == best_shape:
            best_limits = (right, low, high)
        middle_x = places[copy, 0] + 0.5 * (sizes[now, 0] - sizes[shape, 0])
        middle_y = places[copy, 1] + 0.5 * (sizes[now, 1] - sizes[shape, 1])
        for sample in range(NEAR_SAMPLES + WIDE_SAMPLES):
            if sample < NEAR_SAMPLES:
                x = middle_x + (random(state) - 0.5) * sizes[shape, 0]
                y = middle_y + (random(state) - 0.5) * sizes[shape, 1]
                x, y = min(max(x, 0.0), right), min(max(y, low), high)
            else:
                x, y = random(state) * right, low + random(state) * (high - low)
            trial = cost_at(copy, shape, x, y, board, best)
            if trial < best:
                best, best_shape, best_x, best_y = trial, shape, x, y
                best_limits = (right, low, high)
    best_x, best_y, best = refined(
        copy, best_shape, (best_x, best_y, best), best_limits, board, state
    )
    put(copy, best_shape, best_x, best_y, board)


@kernel
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
    _, (item_of, _, _, _, scales), (depths, _), _ = board
    total = 0.0
    for i in range(len(depths)):
        for j in range(i):
            if depths[i, j] > 0.0:
                total += depths[i, j] * scales[item_of[i], item_of[j]]
    return total


@kernel
def update_weights(board: Board) -> None:
    """Let the weights of overlapping pairs grow with depth, 1.2 to 2 times, and others fade."""
    depths, weights = board[2]
    deepest = 0.0
    n = len(depths)
    for i in range(n):
        for j in range(i):
            deepest = max(deepest, depths[i, j])
    for i in range(n):
        for j in range(i):
            if depths[i, j] > 0.0:
                weights[i, j] *= 1.2 + 0.8 * depths[i, j] / deepest
            elif weights[i, j] > 1.0:
                weights[i, j] = max(1.0, 0.95 * weights[i, j])
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
    for _ in range(2):  # the second round sees all the places of the first
        for copy in range(len(shapes)):
            put(copy, shapes[copy], places[copy, 0], places[copy, 1], board)


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
    order = np.arange(len(shapes))
    moves = 0
    while moves < most_moves:
        moved = one_pass(length, board, order, state)
        moves += moved
        total = total_overlap(board)
        if total < progress[0]:
            progress[0] = total
            best[0][:] = shapes
            best[1][:] = places
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
            lay_down(best[0], best[1], board)
            progress[1], progress[2] = progress[0], 0.0
    return 0, moves
