"""What a copy would cost at a place: the weighted depth of its overlaps with all others.

This is asked some fifty times for every move of a copy, so what it reads lies close together and
its loops have as few branches as can be.
All lengths are units; an overlap no deeper than ``TOUCH`` counts as none.
"""

from nesting.kernels.bottom_left import TOUCH
from nesting.kernels.depth import FREE, Grids, Small, cell_at, depth_in_cell
from nesting.kernels.jit import FloatArray, IntArray, inlined

# shapes (n,) and places (n, 2) of the copies, and what lies there from left to right (6, n): left,
# low, right and high sides of each box, its shape and its copy
Layout = tuple[IntArray, FloatArray, FloatArray]
# item of each copy that may move (m,), pose_starts (items + 1,), poses (p, 7): shape, lowest y,
# highest y, combs along and across; sizes (s, 2), scales of pairs of copies (n, n), greatest extent
# of any shape along x. The copies from m on lie still.
Problem = tuple[IntArray, IntArray, FloatArray, FloatArray, FloatArray, float]
# depths (n, n) of every pair, and weights (n, n) of at least its scale
Pairs = tuple[FloatArray, FloatArray]
MOST_LINES = 10
# (n + MOST_LINES, 4): for the copies met at one place rank or cell, x and y in the grid, factor;
# in the last rows the lines of its corners
Room = FloatArray
Board = tuple[Layout, Problem, Pairs, Grids, Room]
# sizes, greatest extent, what lies there, weights, four arrays of the grids, and room
Seen = tuple[
    FloatArray, float, FloatArray, FloatArray, FloatArray, FloatArray, Small, Small, FloatArray
]


@inlined
def first_from(values: FloatArray, limit: float) -> int:
    """Return the index of the first of the rising ``values`` that is at least ``limit``."""
    low, high = 0, len(values)
    while low < high:
        middle = (low + high) // 2
        if values[middle] >= limit:
            high = middle
        else:
            low = middle + 1
    return low


@inlined
def meeting(
    copy: int,
    box: tuple[float, float, float, float],
    reach: float,
    lying: FloatArray,
    met: FloatArray,
) -> int:
    """Write the ranks of the copies whose boxes overlap ``box`` to ``met``; return how many.

    Each rank is written and kept if it is one: a branch here, or an early end, which the machine
    cannot foresee, takes longer than all the rest.
    """
    found = 0
    for rank in range(first_from(lying[0], box[0] - reach), first_from(lying[0], box[2])):
        met[found, 0] = rank
        across = (box[1] < lying[3, rank]) & (box[3] > lying[1, rank])
        found += int((box[0] < lying[2, rank]) & across & (lying[5, rank] != copy))
    return found


@inlined
def looked_at(board: Board) -> Seen:
    """Return what the cost of a place is reckoned from.

    Taken out of the board once for many places: to take it out for each costs as much as its sum.
    """
    _, _, lying = board[0]
    edges, _, frames, cells, lists = board[3]
    return board[1][3], board[1][5], lying, board[2][1], edges, frames, cells, lists, board[4]


@inlined
def cost_at(copy: int, shape: int, x: float, y: float, bound: float, seen: Seen) -> float:
    """Return the weighted overlap of a copy with all others if it lay there.

    Gives up and returns some number of at least ``bound`` once the cost is sure to reach it. The
    least depths of the cells tell that for most places without a look at any edge.
    """
    sizes, reach, lying, weights, edges, frames, cells, lists, met = seen
    box = (x, y, x + sizes[shape, 0], y + sizes[shape, 1])
    sure = 0.0
    count = 0
    for k in range(meeting(copy, box, reach, lying, met)):
        rank = int(met[k, 0])
        fixed, other = int(lying[4, rank]), int(lying[5, rank])
        flip, factor = frames[fixed, shape, 9], weights[copy, other]
        dx, dy = flip * (x - lying[0, rank]), flip * (y - lying[1, rank])
        cell = cell_at(frames, fixed, shape, dx, dy)
        least = cells[cell, 0]
        met[count, 0], met[count, 1], met[count, 2], met[count, 3] = cell, dx, dy, factor
        sure += factor * max(least, 0)
        count += int(least != FREE)
    if sure >= bound:
        return float(sure)
    total = 0.0
    for k in range(count):
        depth = depth_in_cell(int(met[k, 0]), met[k, 1], met[k, 2], edges, cells, lists)
        if depth > TOUCH:
            total += met[k, 3] * depth
            if total >= bound:
                break
    return total
