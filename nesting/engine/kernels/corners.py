"""Corners: the places near a copy where it would touch two of its neighbours at once.

Near a place the cost is a sum of depths, each about linear, so the least of it lies where the
lines cross on which the copy just touches its neighbours or the edges of the strip. Small steps
along fixed directions are slow where that place lies in a narrow slanting gap; going to the
crossing is one step. Laying a piece where no-fit polygons cross is an old idea (from memory:
Adamowicz & Albano 1976, "Nesting two-dimensional shapes in rectangular modules").
"""

import numpy as np

from nesting.engine.kernels.bundles import (
    CELL,
    EDGE_X,
    EDGE_Y,
    HIGHEST_Y,
    INVERSE_SQUARE,
    LEVEL,
    LIST_START,
    LOWEST_Y,
    NORMAL_X,
    NORMAL_Y,
    OTHER,
    POSE_SHAPE,
    START_X,
    START_Y,
    WEIGHT,
    Board,
    Choice,
    CostTables,
    Place,
)
from nesting.engine.kernels.combs import allowed_x, allowed_y
from nesting.engine.kernels.depth import flip_of, nearest_on_edge
from nesting.engine.kernels.jit import FloatArray, inlined, uncounted
from nesting.engine.kernels.place_cost import cost_at, tables_of, write_met

MOST_LINES = 10
ROUNDS = 3
SIDES = 4
REACH = 0.25
CLEARANCE = 1.0
PARALLEL = 0.01


@inlined
def nearest_edge(cell: np.uint32, x: float, y: float, tables: CostTables) -> int:
    """Return the edge of a cell's list that is nearest to (x, y)."""
    cells, lists = tables.cells, tables.lists
    least, best = np.inf, 0
    for k in range(cells[cell, LIST_START], cells[cell + 1, LIST_START]):
        apart, _ = nearest_on_edge(x, y, tables.edges, lists[k])
        if apart < least:
            least, best = apart, lists[k]
    return best


@inlined
def write_touching_lines(copy: int, shape: int, x: float, y: float, tables: CostTables) -> int:
    """Write the lines on which a copy near (x, y) would touch its neighbours; return how many.

    The copy is clear of the neighbour where it lies in front of the line.
    """
    places, edges = tables.places, tables.edges
    met, offsets, lines = tables.room
    found, _ = write_met(copy, shape, x, y, tables)
    count = min(found, MOST_LINES - SIDES)
    for k in range(count):
        other = met[k, OTHER]
        flip = flip_of(tables.lookups, shape, tables.shapes[other])
        edge = nearest_edge(met[k, CELL], flip * offsets[k, 0], flip * offsets[k, 1], tables)
        inverse = np.sqrt(edges[edge, INVERSE_SQUARE])
        nx, ny = edges[edge, EDGE_Y] * inverse, -edges[edge, EDGE_X] * inverse
        level = nx * edges[edge, START_X] + ny * edges[edge, START_Y] + CLEARANCE
        lines[k, NORMAL_X], lines[k, NORMAL_Y] = flip * nx, flip * ny
        lines[k, LEVEL] = level + flip * (nx * places[other, 0] + ny * places[other, 1])
        lines[k, WEIGHT] = tables.weights[copy, other]
    return count


@inlined
def write_sides_of_strip(
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
            lines[count, NORMAL_X], lines[count, NORMAL_Y] = 1.0 - along_y, 1.0 * along_y
            lines[count, LEVEL], lines[count, WEIGHT] = sides[side], 0.0
            count += 1
    return count


@inlined
def crossing_of(first: int, second: int, x: float, y: float, lines: FloatArray) -> Place:
    """Return where two lines cross, or the foot of (x, y) on a line given twice.

    Infinity where they are all but parallel.
    """
    ax, ay, a = lines[first, NORMAL_X], lines[first, NORMAL_Y], lines[first, LEVEL]
    bx, by, b = lines[second, NORMAL_X], lines[second, NORMAL_Y], lines[second, LEVEL]
    if first == second:
        apart = a - ax * x - ay * y
        return Place(x + apart * ax, y + apart * ay)
    turn = ax * by - ay * bx
    if abs(turn) < PARALLEL:
        return Place(np.inf, np.inf)
    return Place((a * by - ay * b) / turn, (ax * b - a * bx) / turn)


@inlined
def guessed_cost(x: float, y: float, lines: FloatArray, count: int) -> float:
    """Return about what a place costs: weighted depths behind the lines, as if they had no end."""
    guess = 0.0
    for k in range(count):
        level = lines[k, LEVEL] - 2.0 * CLEARANCE
        behind = level - lines[k, NORMAL_X] * x - lines[k, NORMAL_Y] * y
        guess += lines[k, WEIGHT] * max(0.0, behind)
    return guess


@uncounted(for_separation=True)
def best_corner(copy: int, start: Choice, length: float, board: Board) -> Place:
    """Return the least costly place of ``start`` and the corners near it, round after round.

    The cost is worked out only for corners that seem cheaper.
    """
    tables = tables_of(board)
    lines = tables.room.lines
    row, x, y, cost = start
    pose = board.problem.poses[row]
    shape = int(pose[POSE_SHAPE])
    wide, high = board.problem.sizes[shape]
    reach = REACH * min(wide, high)
    sides = (0.0, length - wide, pose[LOWEST_Y], pose[HIGHEST_Y])
    for _ in range(ROUNDS):
        count = write_touching_lines(copy, shape, x, y, tables)
        count = write_sides_of_strip(x, y, sides, reach, lines, count)
        from_x, from_y, before = x, y, cost
        for first in range(count):
            for second in range(first + 1):
                to_x, to_y = crossing_of(first, second, from_x, from_y, lines)
                if abs(to_x - from_x) + abs(to_y - from_y) > reach:
                    continue
                to_x, to_y = allowed_x(to_x, length, pose, wide), allowed_y(to_y, pose)
                if guessed_cost(to_x, to_y, lines, count) < cost:
                    trial = cost_at(copy, shape, to_x, to_y, cost, tables)
                    if trial < cost:
                        x, y, cost = to_x, to_y, trial
        if cost <= 0.0 or cost == before:
            break
    return Place(x, y)
