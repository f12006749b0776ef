"""Corners: the places near a copy where it would touch two of its neighbours at once.

Near a place the cost is a sum of depths, each about linear, so the least of it lies where the
lines cross on which the copy just touches its neighbours or the edges of the strip. Steps along
fixed directions creep along a slanting valley and never quite end in a narrow slot; a crossing is
in the slot at once (to lay a piece where no-fit polygons cross is old; from memory: Adamowicz &
Albano 1976, "Nesting two-dimensional shapes in rectangular modules").
"""

import numpy as np

from nesting.engine.kernels.combs import held_x, held_y
from nesting.engine.kernels.depth import flip_of, nearest
from nesting.engine.kernels.jit import FloatArray, inlined, uncounted
from nesting.engine.kernels.place_cost import MOST_LINES, Board, Seen, cost_at, looked_at, meeting

ROUNDS = 3
SIDES = 4
REACH = 0.25
CLEARANCE = 1.0
PARALLEL = 0.01


@inlined
def nearest_edge(cell: np.uint32, x: float, y: float, seen: Seen) -> int:
    """Return the edge of a cell's list that is nearest to (x, y)."""
    edges, lists, cells = seen[4], seen[7], seen[6]
    least, best = np.inf, 0
    for k in range(cells[cell, 1], cells[cell + 1, 1]):
        apart = nearest(x, y, edges, lists[k])[0]
        if apart < least:
            least, best = apart, lists[k]
    return best


@inlined
def touching_lines(copy: int, shape: int, x: float, y: float, seen: Seen, lines: FloatArray) -> int:
    """Write the lines on which a copy near (x, y) would touch its neighbours; return how many.

    A line is nx, ny, offset and weight: the copy is clear of the neighbour where nx x + ny y is
    at least the offset.
    """
    _, shapes, places, weights, edges, lookups, _, _, (met, offsets, _), _ = seen
    found, _ = meeting(copy, shape, x, y, seen)
    count = min(found, MOST_LINES - SIDES)
    for k in range(count):
        other = met[k, 0]
        flip = flip_of(lookups, shape, shapes[other])
        edge = nearest_edge(met[k, 1], flip * offsets[k, 0], flip * offsets[k, 1], seen)
        size = np.sqrt(edges[edge, 6])
        nx, ny = edges[edge, 3] * size, -edges[edge, 2] * size
        offset = nx * edges[edge, 0] + ny * edges[edge, 1] + CLEARANCE
        lines[k, 0], lines[k, 1] = flip * nx, flip * ny
        lines[k, 2] = offset + flip * (nx * places[other, 0] + ny * places[other, 1])
        lines[k, 3] = weights[copy, other]
    return count


@inlined
def add_sides(
    x: float,
    y: float,
    sides: tuple[float, float, float, float],
    reach: float,
    lines: FloatArray,
    count: int,
) -> int:
    """Write the ends and edges of the strip within reach behind the lines; return how many now.

    ``sides`` is least and greatest x, then y; no place costs more for lying there.
    """
    for side in range(SIDES):
        along_y = side // 2
        if abs((y if along_y else x) - sides[side]) < reach:
            lines[count, 0], lines[count, 1] = 1.0 - along_y, 1.0 * along_y
            lines[count, 2], lines[count, 3] = sides[side], 0.0
            count += 1
    return count


@inlined
def crossing(first: int, second: int, x: float, y: float, lines: FloatArray) -> tuple[float, float]:
    """Return where two lines cross, or the foot of (x, y) on a line given twice.

    Infinity where they are all but parallel.
    """
    ax, ay, a = lines[first, 0], lines[first, 1], lines[first, 2]
    bx, by, b = lines[second, 0], lines[second, 1], lines[second, 2]
    if first == second:
        apart = a - ax * x - ay * y
        return x + apart * ax, y + apart * ay
    turn = ax * by - ay * bx
    if abs(turn) < PARALLEL:
        return np.inf, np.inf
    return (a * by - ay * b) / turn, (ax * b - a * bx) / turn


@inlined
def guessed_cost(x: float, y: float, lines: FloatArray, count: int) -> float:
    """Return about what a place costs: weighted depths behind the lines, as if they had no end."""
    guess = 0.0
    for k in range(count):
        behind = lines[k, 2] - 2.0 * CLEARANCE - lines[k, 0] * x - lines[k, 1] * y
        guess += lines[k, 3] * max(0.0, behind)
    return guess


@uncounted
def cornered(
    copy: int, start: tuple[int, float, float, float], length: float, board: Board
) -> tuple[float, float]:
    """Return the least costly (x, y) of ``start`` and the corners near it, round after round.

    ``start`` is the row of a pose, x, y and cost. Only corners that seem cheaper are reckoned out.
    """
    seen = looked_at(board)
    lines = seen[8][2]
    row, x, y, cost = start
    pose = board[1][2][row]
    shape = int(pose[0])
    wide, high = board[1][3][shape]
    reach, sides = REACH * min(wide, high), (0.0, length - wide, pose[1], pose[2])
    for _ in range(ROUNDS):
        count = touching_lines(copy, shape, x, y, seen, lines)
        count = add_sides(x, y, sides, reach, lines, count)
        from_x, from_y, before = x, y, cost
        for first in range(count):
            for second in range(first + 1):
                to_x, to_y = crossing(first, second, from_x, from_y, lines)
                if abs(to_x - from_x) + abs(to_y - from_y) > reach:
                    continue
                to_x, to_y = held_x(to_x, length, pose, wide), held_y(to_y, pose)
                if guessed_cost(to_x, to_y, lines, count) < cost:
                    trial = cost_at(copy, shape, to_x, to_y, cost, seen)
                    if trial < cost:
                        x, y, cost = to_x, to_y, trial
        if cost <= 0.0 or cost == before:
            break
    return x, y
