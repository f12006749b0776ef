"""What a copy would cost at a place: the weighted depth of its overlaps with all others.

This is asked some eighty times for every move of a copy, so what it reads lies close together, its
loops have as few branches as can be, and the numbers of copies and cells have no sign.
All lengths are units; an overlap no deeper than ``TOUCH`` counts as none.
"""

import numpy as np
import numpy.typing as npt

from nesting.engine.kernels.bottom_left import TOUCH
from nesting.engine.kernels.box_index import NONE, ONE, WORD, Register, bucket, lowest_bit
from nesting.engine.kernels.depth import FREE, Grids, Small, cell_at, depth_in_cell, flip_of
from nesting.engine.kernels.jit import FloatArray, IntArray, inlined

# shapes (n,) and places (n, 2) of the copies, and the sides of their boxes (n, 4): left, low, right
# and high
Layout = tuple[IntArray, FloatArray, FloatArray]
# item of each copy that may move (m,), pose_starts (items + 1,), poses (p, 7): shape, lowest y,
# highest y, combs along and across; sizes (s, 2), scales of pairs of copies (n, n). The copies from
# m on lie still.
Problem = tuple[IntArray, IntArray, FloatArray, FloatArray, FloatArray]
# depths (n, n) of every pair, weights (n, n) of at least its scale, and counts (n, 2): how many
# others each copy overlaps, and to how many before it its weight may be above the scale
Pairs = tuple[FloatArray, FloatArray, IntArray]
MET, RAISED = 0, 1
MOST_LINES = 10
# for each copy met at one place its number and the cell (n, 2), and the place from it (n, 2); the
# lines of the corners there (MOST_LINES, 4)
Room = tuple[npt.NDArray[np.uint32], FloatArray, FloatArray]
Board = tuple[Layout, Problem, Pairs, Grids, Room, Register]
# sizes, shapes, places, weights, four arrays of the grids, room and register
Seen = tuple[
    FloatArray,
    IntArray,
    FloatArray,
    FloatArray,
    FloatArray,
    FloatArray,
    Small,
    Small,
    Room,
    Register,
]


@inlined
def looked_at(board: Board) -> Seen:
    """Return what the cost of a place is reckoned from, for uncounted kernels."""
    shapes, places, _ = board[0]
    edges, _, _, lookups, cells, lists = board[3]
    weights, room, register = board[2][1], board[4], board[5]
    return board[1][3], shapes, places, weights, edges, lookups, cells, lists, room, register


@inlined
def meeting(copy: int, shape: int, x: float, y: float, seen: Seen) -> tuple[int, float]:
    """Write the others that a copy at (x, y) may overlap to the room; return how many, and a cost.

    The cost is what they are sure to cost by the least depths of their cells. Each candidate is
    written, and kept if its cell is not free: a branch here, which the machine cannot foresee,
    takes longer than all the rest.
    """
    sizes, shapes, places, weights, _, lookups, cells, _, (met, offsets, _), register = seen
    marks, per_bucket = register
    left, low = bucket(x, per_bucket[0]), bucket(y, per_bucket[1])
    right = bucket(x + sizes[shape, 0], per_bucket[0])
    high = bucket(y + sizes[shape, 1], per_bucket[1])
    found, sure = 0, 0.0
    for word in range(marks.shape[2]):
        near = marks[0, right, word] & marks[2, left, word]
        near &= marks[1, high, word] & marks[3, low, word]
        if word == copy // WORD:
            near &= ~(ONE << np.uint64(copy % WORD))
        while near != NONE:
            other = np.uint32(WORD * word + lowest_bit(near))
            near &= near - ONE
            dx, dy = x - places[other, 0], y - places[other, 1]
            cell = cell_at(lookups, shape, shapes[other], dx, dy)
            least = cells[cell, 0]
            met[found, 0], met[found, 1] = other, cell
            offsets[found, 0], offsets[found, 1] = dx, dy
            sure += weights[copy, other] * max(least, 0)
            found += int(least != FREE)
    return found, sure


@inlined
def depth_met(k: int, shape: int, seen: Seen) -> float:
    """Return how deep a copy would overlap the k-th of those met at its place."""
    _, shapes, _, _, edges, lookups, cells, lists, (met, offsets, _), _ = seen
    flip = flip_of(lookups, shape, shapes[met[k, 0]])
    dx, dy = flip * offsets[k, 0], flip * offsets[k, 1]
    depth: float = depth_in_cell(met[k, 1], dx, dy, edges, cells, lists)
    return depth


@inlined
def cost_at(copy: int, shape: int, x: float, y: float, bound: float, seen: Seen) -> float:
    """Return the weighted overlap of a copy with all others if it lay there.

    Gives up and returns some number of at least ``bound`` once the cost is sure to reach it. The
    least depths of the cells tell that for most places without a look at any edge.
    """
    weights, met = seen[3], seen[8][0]
    found, sure = meeting(copy, shape, x, y, seen)
    if sure >= bound:
        return float(sure)
    total = 0.0
    for k in range(found):
        depth = depth_met(k, shape, seen)
        if depth > TOUCH:
            total += weights[copy, met[k, 0]] * depth
            if total >= bound:
                break
    return total
