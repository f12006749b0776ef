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
from nesting.kernels.depth import FREE, Grids, cell_at, depth_in_cell, overlap_depth
from nesting.kernels.held import on_comb
from nesting.kernels.jit import FloatArray, IntArray, inlined, kernel

NEAR_SAMPLES = 6
WIDE_SAMPLES = 8
SMALLEST_STEP = 16.0
PATIENCE = 100.0
STRIKES = 3.0

State = npt.NDArray[np.uint64]
# shapes (n,) and places (n, 2) of the copies; the copies from left to right (n,), and the left,
# low, right and high sides of their boxes in that order (4, n)
Layout = tuple[IntArray, FloatArray, IntArray, FloatArray]
# item of each copy that may move (m,), pose_starts (items + 1,), poses (p, 7): shape, lowest y,
# highest y, combs along and across; sizes (s, 2), scales of pairs of copies (n, n), greatest extent
# of any shape along x. The copies from m on lie still.
Problem = tuple[IntArray, IntArray, FloatArray, FloatArray, FloatArray, float]
# depths (n, n) of every pair, and weights (n, n) of at least its scale
Pairs = tuple[FloatArray, FloatArray]
# for the copies met at one place: their cells (n,), and x, y and factor (n, 3)
Room = tuple[IntArray, FloatArray]
Board = tuple[Layout, Problem, Pairs, Grids, Room]


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


@inlined
def first_beyond(values: FloatArray, limit: float) -> int:
    """Return the index of the first of the rising ``values`` above ``limit``."""
    low, high = 0, len(values)
    while low < high:
        middle = (low + high) // 2
        if values[middle] > limit:
            high = middle
        else:
            low = middle + 1
    return low


@kernel
def cost_at(copy: int, shape: int, x: float, y: float, board: Board, bound: float) -> float:
    """Return the weighted overlap of a copy with all others if it lay there.

    Gives up and returns some number of at least ``bound`` once the cost is sure to reach it. The
    least depths of the cells tell that for most places without a look at any edge.
    """
    (shapes, _, ranked, boxes), problem, (_, weights), grids, room = board
    sizes = problem[3]
    cells, met = room
    floors = grids[4]
    right, top = x + sizes[shape, 0], y + sizes[shape, 1]
    total = sure = 0.0
    found = 0
    for rank in range(first_beyond(boxes[0], x - problem[5]), len(shapes)):
        if boxes[0, rank] >= right:
            break
        other = ranked[rank]
        apart = (x >= boxes[2, rank]) | (y >= boxes[3, rank]) | (top <= boxes[1, rank])
        if apart | (other == copy):
            continue
        cell, px, py = cell_at(shapes[other], shape, x - boxes[0, rank], y - boxes[1, rank], grids)
        if floors[cell, 2] == FREE:
            continue
        factor = weights[copy, other]
        sure += factor * floors[cell, 2]
        if sure >= bound:
            return float(sure)
        cells[found] = cell
        met[found, 0], met[found, 1], met[found, 2] = px, py, factor
        found += 1
    for k in range(found):
        depth = depth_in_cell(cells[k], met[k, 0], met[k, 1], grids)
        if depth > TOUCH:
            total += met[k, 2] * depth
            if total >= bound:
                break
    return total


@kernel
def put(copy: int, shape: int, x: float, y: float, board: Board) -> None:
    """Lay a copy in a pose at (x, y) and work out anew how deep it overlaps each other one."""
    (shapes, places, ranked, boxes), _, _, _, _ = board
    shapes[copy], places[copy, 0], places[copy, 1] = shape, x, y
    rank = 0
    while ranked[rank] != copy:
        rank += 1
    last = len(shapes) - 1
    while rank > 0 and boxes[0, rank - 1] > x:
        shift(rank - 1, rank, ranked, boxes)
        rank -= 1
    while rank < last and boxes[0, rank + 1] < x:
        shift(rank + 1, rank, ranked, boxes)
        rank += 1
    enter(copy, rank, board)
    measure_overlaps(copy, board)


@inlined
def shift(rank: int, to: int, ranked: IntArray, boxes: FloatArray) -> None:
    """Copy what is known of the copy at one rank to another rank."""
    ranked[to] = ranked[rank]
    for side in range(4):
        boxes[side, to] = boxes[side, rank]


@inlined
def enter(copy: int, rank: int, board: Board) -> None:
    """Write a copy and the sides of its box at a rank."""
    (shapes, places, ranked, boxes), problem, _, _, _ = board
    sizes, shape = problem[3], shapes[copy]
    ranked[rank] = copy
    boxes[0, rank], boxes[1, rank] = places[copy, 0], places[copy, 1]
    boxes[2, rank] = places[copy, 0] + sizes[shape, 0]
    boxes[3, rank] = places[copy, 1] + sizes[shape, 1]


@kernel
def measure_overlaps(copy: int, board: Board) -> None:
    """Work out how deep a copy overlaps each other one, of which one may move."""
    (shapes, places, ranked, boxes), problem, (depths, _), grids, _ = board
    shape, x, y = shapes[copy], places[copy, 0], places[copy, 1]
    right, still = x + problem[3][shape, 0], len(problem[0])
    for other in range(len(shapes)):
        depths[copy, other] = depths[other, copy] = 0.0
    for rank in range(first_beyond(boxes[0], x - problem[5]), len(shapes)):
        if boxes[0, rank] >= right:
            break
        other = ranked[rank]
        if other != copy and min(other, copy) < still:
            dx, dy = x - places[other, 0], y - places[other, 1]
            depth = overlap_depth(shapes[other], shape, dx, dy, grids)
            if depth > TOUCH:
                depths[copy, other] = depths[other, copy] = depth


@inlined
def held_x(x: float, length: float, pose: FloatArray, width: float) -> float:
    """Return the allowed x nearest to ``x`` for a pose of a shape so wide, NaN if there is none."""
    held: float = on_comb(x, 0.0, length - width, pose[3], pose[4])
    return held


@inlined
def held_y(y: float, pose: FloatArray) -> float:
    """Return the allowed y nearest to ``y`` for a pose, NaN if there is none."""
    held: float = on_comb(y, pose[1], pose[2], pose[5], pose[6])
    return held


@kernel
def refined(
    copy: int,
    pose: FloatArray,
    start: tuple[float, float, float],
    length: float,
    board: Board,
    state: State,
) -> tuple[float, float, float]:
    """Return (x, y, cost) after small steps along x, y or a diagonal while they help.

    ``start`` is (x, y, cost). Steps begin at a tenth of the piece and end at a fiftieth of the
    overlap it had, for finer ones are lost on it.
    """
    x, y, cost = start
    shape = int(pose[0])
    wide, high = board[1][3][shape]
    step = 0.1 * min(wide, high)
    floor = max(SMALLEST_STEP, 0.02 * deepest_overlap(copy, board))
    while step > floor and cost > 0.0:
        axis = int(4.0 * random(state))
        step_x = 0.0 if axis == 1 else step
        step_y = 0.0 if axis == 0 else (-step if axis == 3 else step)
        better = False
        for sign in (1.0, -1.0):
            to_x = held_x(x + sign * step_x, length, pose, wide)
            to_y = held_y(y + sign * step_y, pose)
            trial = cost_at(copy, shape, to_x, to_y, board, cost)
            if trial < cost:
                x, y, cost, better = to_x, to_y, trial, True
                break
        step *= 1.1 if better else 0.5
    return x, y, cost


@kernel
def move_copy(copy: int, length: float, board: Board, state: State) -> None:
    """Move one copy to the least costly place and pose found on a strip of ``length``."""
    (shapes, places, _, _), (item_of, pose_starts, poses, sizes, _, _), _, _, _ = board
    now, item = shapes[copy], item_of[copy]
    best_pose, best_x, best_y = -1, places[copy, 0], places[copy, 1]
    best = cost_at(copy, now, best_x, best_y, board, np.inf)
    for p in range(pose_starts[item], pose_starts[item + 1]):
        pose, shape = poses[p], int(poses[p, 0])
        wide, high = sizes[shape]
        if wide > length:
            continue
        if best_pose < 0 and shape == now and pose[1] <= best_y <= pose[2]:
            best_pose = p  # of the bands that this shape may lie in, the one it lies in
        middle_x = places[copy, 0] + 0.5 * (sizes[now, 0] - wide)
        middle_y = places[copy, 1] + 0.5 * (sizes[now, 1] - high)
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
            trial = cost_at(copy, shape, x, y, board, best)
            if trial < best:
                best, best_pose, best_x, best_y = trial, p, x, y
    if best_pose >= 0:
        pose = poses[best_pose]
        best_x, best_y, best = refined(copy, pose, (best_x, best_y, best), length, board, state)
        put(copy, int(pose[0]), best_x, best_y, board)


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
    shapes, places, _, _ = board[0]
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
