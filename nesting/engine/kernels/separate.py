"""Separation: moving overlapping pieces about on a strip that is a little too short.

Each pair that overlaps costs weight x scale x depth. The overlapping pieces are visited in random
order, and each goes to the place and pose of least cost found for it (``place_search.py``).
After every pass the weights of pairs that still overlap grow and the others fade, so that no two
pieces can settle for overlapping (guided local search on pairs: Egeblad, Nielsen & Odgaard 2007,
"Fast neighborhood search for two- and three-dimensional nesting problems"; overlap minimisation by
depth: Imamichi, Yagiura & Nagamochi 2009, "An iterated local search algorithm based on nonlinear
programming for the irregular strip packing problem"). How weights grow and fade, and the strikes
after which an attempt is given up, follow Gardeyn, Vanden Berghe & Wauters 2025, "An open-source
heuristic to reboot 2D nesting research" (arXiv 2509.13329v1). Here the overlap is the exact depth
of the no-fit polygon, and places are refined at corners.

All lengths are units; an overlap no deeper than ``TOUCH`` counts as none.
"""

import numpy as np

from nesting.engine.kernels.bottom_left import TOUCH
from nesting.engine.kernels.box_index import mark_all, move_marks
from nesting.engine.kernels.combs import held_x, held_y
from nesting.engine.kernels.corners import cornered
from nesting.engine.kernels.jit import FloatArray, IntArray, inlined, kernel, uncounted
from nesting.engine.kernels.place_cost import (
    MET,
    RAISED,
    Board,
    Problem,
    depth_met,
    looked_at,
    meeting,
)
from nesting.engine.kernels.place_search import Span, State, chosen, deepest_overlap, random

PATIENCE = 100.0
STRIKES = 3.0


@uncounted
def put(copy: int, shape: int, x: float, y: float, board: Board) -> None:
    """Lay a copy in a pose at (x, y) and work out anew how deep it overlaps each other one."""
    shapes, places, sides = board[0]
    left, low, right, high = sides[copy]
    shapes[copy], places[copy, 0], places[copy, 1] = shape, x, y
    write_sides(copy, board)
    move_marks(copy, (left, low, right, high), sides[copy], board[5])
    measure_overlaps(copy, board)


@inlined
def write_sides(copy: int, board: Board) -> None:
    """Write the sides of the box of a copy as it lies."""
    (shapes, places, sides), sizes = board[0], board[1][3]
    x, y = places[copy]
    sides[copy, 0], sides[copy, 1] = x, y
    sides[copy, 2], sides[copy, 3] = x + sizes[shapes[copy], 0], y + sizes[shapes[copy], 1]


@uncounted
def measure_overlaps(copy: int, board: Board) -> None:
    """Work out how deep a copy overlaps each other one, of which one may move."""
    seen = looked_at(board)
    (shapes, places, _), problem, (depths, _, counts), _, (met, _, _), _ = board
    still = len(problem[0])
    for other in range(len(shapes)):
        if depths[copy, other] > 0.0:
            depths[copy, other] = depths[other, copy] = 0.0
            counts[other, MET] -= 1
    counts[copy, MET] = 0
    found, _ = meeting(copy, shapes[copy], places[copy, 0], places[copy, 1], seen)
    for k in range(found):
        other = met[k, 0]
        if min(other, copy) < still:
            depth = depth_met(k, shapes[copy], seen)
            if depth > TOUCH:
                depths[copy, other] = depths[other, copy] = depth
                counts[copy, MET] += 1
                counts[other, MET] += 1


@uncounted
def move_copy(copy: int, length: float, span: Span, board: Board, state: State) -> None:
    """Move one copy to the least costly place and pose found on a strip of ``length``."""
    best = chosen(copy, length, span, board, state)
    if best[0] >= 0:
        x, y = cornered(copy, best, length, board)
        put(copy, int(board[1][2][best[0], 0]), x, y, board)


@uncounted
def total_overlap(board: Board) -> float:
    """Return the sum over pairs of scale times depth."""
    scales, (depths, _, counts) = board[1][4], board[2]
    total = 0.0
    for i in range(len(depths)):
        if counts[i, MET] == 0:
            continue
        for j in range(i):
            if depths[i, j] > 0.0:
                total += depths[i, j] * scales[i, j]
    return total


@uncounted
def update_weights(board: Board) -> None:
    """Let the weights of overlapping pairs grow with depth, 1.2 to 2 times, and others fade.

    Copies that overlap none and whose weights are all at their least are passed over: in a long
    marker, most are.
    """
    scales, (depths, weights, counts) = board[1][4], board[2]
    deepest = 0.0
    n = len(depths)
    for i in range(n):
        if counts[i, MET] > 0:
            deepest = max(deepest, deepest_overlap(i, board))
    for i in range(n):
        if counts[i, MET] + counts[i, RAISED] == 0:
            continue
        counts[i, RAISED] = 0
        for j in range(i):
            if depths[i, j] > 0.0:
                weights[i, j] *= 1.2 + 0.8 * depths[i, j] / deepest
            elif weights[i, j] > scales[i, j]:
                weights[i, j] = max(scales[i, j], 0.95 * weights[i, j])
            else:
                continue
            weights[j, i] = weights[i, j]
            counts[i, RAISED] += 1


@uncounted
def one_pass(length: float, span: Span, board: Board, order: IntArray, state: State) -> int:
    """Move every overlapping copy once, in random order; return how many were moved."""
    n, counts = len(order), board[2][2]
    for k in range(n - 1, 0, -1):
        other = int(random(state) * (k + 1))
        order[k], order[other] = order[other], order[k]
    moves = 0
    for k in range(n):
        if counts[order[k], MET] > 0:
            move_copy(order[k], length, span, board, state)
            moves += 1
    return moves


@kernel
def lay_down(shapes: IntArray, places: FloatArray, board: Board) -> None:
    """Lay every copy as given and work out all depths."""
    board[0][0][:] = shapes
    board[0][1][:] = places
    for copy in range(len(shapes)):
        write_sides(copy, board)
    mark_all(board[0][2], board[5])
    for copy in range(len(shapes)):
        measure_overlaps(copy, board)


@kernel
def hold_all(length: float, shapes: IntArray, places: FloatArray, problem: Problem) -> bool:
    """Bring each copy that may move to the nearest place its pose allows; tell whether it could."""
    item_of, pose_starts, poses, sizes, _ = problem
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
    span: Span,
    movers: IntArray,
    board: Board,
    best: tuple[IntArray, FloatArray],
    progress: FloatArray,
    state: State,
) -> tuple[int, int]:
    """Go on with one attempt to separate; return (1 done, -1 given up, 0 unfinished) and moves.

    Only the ``movers`` move, and look for places anywhere within the ``span`` of the strip.
    ``progress`` holds the least total overlap seen, that at the last gain, passes since, and
    strikes; ``best`` the layout of least overlap. A hundred passes without two per cent of gain
    are a strike: back to the best layout, weights kept. Three strikes end the attempt.
    """
    shapes, places, _ = board[0]
    n, order = len(board[1][0]), movers.copy()
    moves = 0
    while moves < most_moves:
        moved = one_pass(length, span, board, order, state)
        moves += moved
        total = total_overlap(board)
        if total < progress[0]:
            progress[0] = total
            best[0][:] = shapes[:n]
            best[1][:] = places[:n]
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
            shapes[:n] = best[0]
            places[:n] = best[1]
            lay_down(shapes.copy(), places.copy(), board)
            progress[1], progress[2] = progress[0], 0.0
    return 0, moves
