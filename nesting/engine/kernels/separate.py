"""Separation: moving overlapping pieces about on a strip that is a little too short.

Each pair that overlaps costs weight x depth. The overlapping pieces are visited in random order,
and each goes to the place and pose of least cost that is found for it (``place_search.py``). After
every pass the weights of pairs that still overlap grow, the deepest most, and the others fade, down
to the scale of the pair. So no two pieces stay overlapped for long.

Weights on pairs are those of guided local search (Egeblad, Nielsen & Odgaard 2007, "Fast
neighborhood search for two- and three-dimensional nesting problems"); to minimise overlap by depth
is from Imamichi, Yagiura & Nagamochi 2009, "An iterated local search algorithm based on nonlinear
programming for the irregular strip packing problem". How weights grow and fade, and how strikes are
counted, is the scheme of Gardeyn, Vanden Berghe & Wauters 2025 (arXiv 2509.13329v1, "An open-source
heuristic to reboot 2D nesting research"), with its values for growth, fading, gain and number of
strikes (from memory). What differs here: depths are measured on no-fit polygons, where that work
estimates them from circles inside the shapes (from memory); a strike comes after 100 passes without
a gain, there after 200 (from memory); and a piece goes to corners as well.

All lengths are units; an overlap no deeper than ``TOUCH`` counts as none.
"""

import numpy as np

from nesting.engine.kernels.box_index import mark_all, move_marks
from nesting.engine.kernels.bundles import (
    AT_LAST_GAIN,
    HIGH,
    LEAST,
    LEFT,
    LOW,
    OTHER,
    OVERLAPS,
    PASSES,
    POSE_SHAPE,
    RAISED,
    RIGHT,
    STRIKES,
    Board,
    Problem,
    Range,
    Record,
)
from nesting.engine.kernels.combs import allowed_x, allowed_y
from nesting.engine.kernels.corners import best_corner
from nesting.engine.kernels.jit import FloatArray, IntArray, inlined, kernel, uncounted
from nesting.engine.kernels.place_cost import depth_of_met, tables_of, write_met
from nesting.engine.kernels.place_search import (
    State,
    best_choice,
    deepest_overlap,
    random_share,
)
from nesting.engine.kernels.tolerances import TOUCH

LEAST_GROWTH, MORE_GROWTH = 1.2, 0.8
"""What a weight is multiplied by after a pass, and how much more for the deepest overlap."""

FADING = 0.95
"""What the weight of a pair that does not overlap is multiplied by after a pass."""

GAIN = 0.98
"""A total overlap below this share of the last one noted is a gain."""

MOST_PASSES, MOST_STRIKES = 100.0, 3.0
"""Passes without a gain that are a strike, and strikes that end an attempt."""


@uncounted(for_separation=True)
def lay_copy(copy: int, shape: int, x: float, y: float, board: Board) -> None:
    """Lay a copy in a pose at (x, y) and measure how deep it overlaps each other one there."""
    shapes, places, sides = board.lying
    left, low, right, high = sides[copy]
    shapes[copy], places[copy, 0], places[copy, 1] = shape, x, y
    write_sides(copy, board)
    move_marks(copy, (left, low, right, high), sides[copy], board.box_index)
    measure_overlaps(copy, board)


@inlined
def write_sides(copy: int, board: Board) -> None:
    """Write the sides of the box of a copy as it lies."""
    shapes, places, sides = board.lying
    x, y = places[copy]
    wide, high = board.problem.sizes[shapes[copy]]
    sides[copy, LEFT], sides[copy, LOW] = x, y
    sides[copy, RIGHT], sides[copy, HIGH] = x + wide, y + high


@uncounted(for_separation=True)
def measure_overlaps(copy: int, board: Board) -> None:
    """Work out how deep a copy overlaps each other one, of which one may move."""
    tables, met = tables_of(board), board.room.met
    shapes, places, _ = board.lying
    depths, _, counts = board.pairs
    moving = len(board.problem.items)
    for other in range(len(shapes)):
        if depths[copy, other] > 0.0:
            depths[copy, other] = depths[other, copy] = 0.0
            counts[other, OVERLAPS] -= 1
    counts[copy, OVERLAPS] = 0
    found, _ = write_met(copy, shapes[copy], places[copy, 0], places[copy, 1], tables)
    for k in range(found):
        other = met[k, OTHER]
        if min(other, copy) < moving:
            depth = depth_of_met(k, shapes[copy], tables)
            if depth > TOUCH:
                depths[copy, other] = depths[other, copy] = depth
                counts[copy, OVERLAPS] += 1
                counts[other, OVERLAPS] += 1


@uncounted(for_separation=True)
def move_copy(copy: int, length: float, span: Range, board: Board, state: State) -> None:
    """Move one copy to the least costly place and pose found on a strip of ``length``."""
    best = best_choice(copy, length, span, board, state)
    if best.pose >= 0:
        x, y = best_corner(copy, best, length, board)
        lay_copy(copy, int(board.problem.poses[best.pose, POSE_SHAPE]), x, y, board)


@uncounted(for_separation=True)
def total_overlap(board: Board) -> float:
    """Return the sum over pairs of scale times depth."""
    scales, (depths, _, counts) = board.problem.scales, board.pairs
    total = 0.0
    for i in range(len(depths)):
        if counts[i, OVERLAPS] == 0:
            continue
        for j in range(i):
            if depths[i, j] > 0.0:
                total += depths[i, j] * scales[i, j]
    return total


@uncounted(for_separation=True)
def update_weights(board: Board) -> None:
    """Let the weights of overlapping pairs grow with depth, 1.2 to 2 times, and others fade.

    Copies that overlap none and whose weights are all at their least are skipped: in a long
    marker, those are most.
    """
    scales, (depths, weights, counts) = board.problem.scales, board.pairs
    deepest = 0.0
    n = len(depths)
    for i in range(n):
        if counts[i, OVERLAPS] > 0:
            deepest = max(deepest, deepest_overlap(i, board))
    for i in range(n):
        if counts[i, OVERLAPS] + counts[i, RAISED] == 0:
            continue
        counts[i, RAISED] = 0
        for j in range(i):
            if depths[i, j] > 0.0:
                weights[i, j] *= LEAST_GROWTH + MORE_GROWTH * depths[i, j] / deepest
            elif weights[i, j] > scales[i, j]:
                weights[i, j] = max(scales[i, j], FADING * weights[i, j])
            else:
                continue
            weights[j, i] = weights[i, j]
            counts[i, RAISED] += 1


@uncounted(for_separation=True)
def one_pass(length: float, span: Range, board: Board, order: IntArray, state: State) -> int:
    """Move every overlapping copy once, in random order; return how many were moved."""
    n, counts = len(order), board.pairs.counts
    for k in range(n - 1, 0, -1):
        other = int(random_share(state) * (k + 1))
        order[k], order[other] = order[other], order[k]
    moves = 0
    for k in range(n):
        if counts[order[k], OVERLAPS] > 0:
            move_copy(order[k], length, span, board, state)
            moves += 1
    return moves


@kernel(for_separation=True)
def lay_all(shapes: IntArray, places: FloatArray, board: Board) -> None:
    """Lay every copy as given and work out all depths."""
    board.lying.shapes[:] = shapes
    board.lying.places[:] = places
    for copy in range(len(shapes)):
        write_sides(copy, board)
    mark_all(board.lying.sides, board.box_index)
    for copy in range(len(shapes)):
        measure_overlaps(copy, board)


@kernel(for_separation=True)
def move_to_allowed(length: float, shapes: IntArray, places: FloatArray, problem: Problem) -> bool:
    """Bring each copy that may move to the nearest place its pose allows; tell whether it could."""
    items, pose_starts, poses, sizes, _ = problem
    for copy in range(len(items)):
        shape, item = shapes[copy], items[copy]
        nearest = np.inf
        x, y = places[copy]
        for p in range(pose_starts[item], pose_starts[item + 1]):
            if int(poses[p, POSE_SHAPE]) == shape:
                to_x = allowed_x(x, length, poses[p], sizes[shape, 0])
                to_y = allowed_y(y, poses[p])
                if abs(to_x - x) + abs(to_y - y) < nearest:
                    nearest = abs(to_x - x) + abs(to_y - y)
                    places[copy, 0], places[copy, 1] = to_x, to_y
        if nearest == np.inf:
            return False
    return True


@kernel(for_separation=True)
def run_passes(
    most_moves: int,
    length: float,
    span: Range,
    movers: IntArray,
    board: Board,
    record: Record,
    state: State,
) -> tuple[int, int]:
    """Go on with one attempt to separate; return (1 done, -1 given up, 0 unfinished) and moves.

    Only the ``movers`` move, and look for places anywhere within the ``span`` of the strip. A
    hundred passes without two per cent of gain are a strike: back to the layout of least overlap,
    weights kept. Three strikes end the attempt.
    """
    shapes, places, _ = board.lying
    counters = record.counters
    n, order = len(board.problem.items), movers.copy()
    moves = 0
    while moves < most_moves:
        moved = one_pass(length, span, board, order, state)
        moves += moved
        total = total_overlap(board)
        if total < counters[LEAST]:
            counters[LEAST] = total
            record.shapes[:] = shapes[:n]
            record.places[:] = places[:n]
        if total == 0.0:
            return 1, moves
        update_weights(board)
        counters[PASSES] += 1.0
        if total < GAIN * counters[AT_LAST_GAIN]:
            counters[AT_LAST_GAIN], counters[PASSES] = total, 0.0
        if counters[PASSES] >= MOST_PASSES:
            counters[STRIKES] += 1.0
            if counters[STRIKES] >= MOST_STRIKES:
                return -1, moves
            shapes[:n] = record.shapes
            places[:n] = record.places
            lay_all(shapes.copy(), places.copy(), board)
            counters[AT_LAST_GAIN], counters[PASSES] = counters[LEAST], 0.0
    return 0, moves
