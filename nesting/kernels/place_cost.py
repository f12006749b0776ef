"""What a copy would cost at a place: the weighted depth of its overlaps with all others.

This is asked some fifty times for every move of a copy, so what it reads lies close together and
its loops have as few branches as can be.
All lengths are units; an overlap no deeper than ``TOUCH`` counts as none.
"""

from nesting.kernels.bottom_left import TOUCH
from nesting.kernels.depth import FREE, Grids, Small, cell_at, depth_in_cell
from nesting.kernels.jit import FloatArray, IntArray, inlined
from nesting.kernels.register import NONE, ONE, WORD, Register, bucket, lowest_bit

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
# (n + MOST_LINES, 4): for the copies met at one place its number or cell, x and y in the grid,
# factor; in the last rows the lines of its corners
Room = FloatArray
Board = tuple[Layout, Problem, Pairs, Grids, Room, Register]
# sizes, sides of boxes, shapes, weights, four arrays of the grids, room and register
Seen = tuple[
    FloatArray,
    FloatArray,
    IntArray,
    FloatArray,
    FloatArray,
    FloatArray,
    Small,
    Small,
    FloatArray,
    Register,
]


@inlined
def meeting(copy: int, box: tuple[float, float, float, float], seen: Seen) -> int:
    """Write the copies whose boxes overlap ``box`` to the room; return how many.

    Each candidate is written, and kept if its box overlaps: a branch here, which the machine cannot
    foresee, takes longer than all the rest.
    """
    sides, met, (marks, per_bucket) = seen[1], seen[8], seen[9]
    left, low = bucket(box[0], per_bucket[0]), bucket(box[1], per_bucket[1])
    right, high = bucket(box[2], per_bucket[0]), bucket(box[3], per_bucket[1])
    found = 0
    for word in range(marks.shape[2]):
        near = marks[0, right, word] & marks[2, left, word]
        near &= marks[1, high, word] & marks[3, low, word]
        while near != NONE:
            other = WORD * word + lowest_bit(near)
            near &= near - ONE
            met[found, 0] = other
            along = (box[0] < sides[other, 2]) & (box[2] > sides[other, 0])
            across = (box[1] < sides[other, 3]) & (box[3] > sides[other, 1])
            found += int(along & across & (other != copy))
    return found


@inlined
def looked_at(board: Board) -> Seen:
    """Return what the cost of a place is reckoned from.

    Taken out of the board once for many places: to take it out for each costs as much as its sum.
    """
    shapes, _, sides = board[0]
    edges, _, frames, cells, lists = board[3]
    weights, room, register = board[2][1], board[4], board[5]
    return board[1][3], sides, shapes, weights, edges, frames, cells, lists, room, register


@inlined
def cost_at(copy: int, shape: int, x: float, y: float, bound: float, seen: Seen) -> float:
    """Return the weighted overlap of a copy with all others if it lay there.

    Gives up and returns some number of at least ``bound`` once the cost is sure to reach it. The
    least depths of the cells tell that for most places without a look at any edge.
    """
    sizes, sides, shapes, weights, edges, frames, cells, lists, met, _ = seen
    box = (x, y, x + sizes[shape, 0], y + sizes[shape, 1])
    sure = 0.0
    count = 0
    for k in range(meeting(copy, box, seen)):
        other = int(met[k, 0])
        fixed = shapes[other]
        flip, factor = frames[fixed, shape, 9], weights[copy, other]
        dx, dy = flip * (x - sides[other, 0]), flip * (y - sides[other, 1])
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
