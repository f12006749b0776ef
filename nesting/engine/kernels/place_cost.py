"""What a copy would cost at a place: the weighted depth of its overlaps with all others.

A move of a copy asks for some eighty such costs. So what is read lies close together in memory, the
loops have few branches, and numbers of copies and cells are unsigned.
All lengths are units; an overlap no deeper than ``TOUCH`` counts as none.
"""

import numpy as np

from nesting.engine.kernels.box_index import NONE, ONE, WORD, bucket, lowest_bit
from nesting.engine.kernels.bundles import (
    ACROSS,
    ALONG,
    CELL,
    FREE,
    HIGH,
    LEAST_DEPTH,
    LEFT,
    LOW,
    OTHER,
    RIGHT,
    Board,
    CostTables,
)
from nesting.engine.kernels.depth import cell_at, depth_in_cell, flip_of
from nesting.engine.kernels.jit import inlined
from nesting.engine.kernels.tolerances import TOUCH


@inlined
def tables_of(board: Board) -> CostTables:
    """Return what the cost of a place is worked out from, for uncounted kernels."""
    lying, grids = board.lying, board.grids
    return CostTables(
        sizes=board.problem.sizes,
        shapes=lying.shapes,
        places=lying.places,
        weights=board.pairs.weights,
        edges=grids.edges,
        lookups=grids.lookups,
        cells=grids.cells,
        lists=grids.lists,
        room=board.room,
        box_index=board.box_index,
    )


@inlined
def write_met(copy: int, shape: int, x: float, y: float, tables: CostTables) -> tuple[int, float]:
    """Write the others that a copy at (x, y) may overlap to the room; return how many, and a cost.

    The cost is the least that they can cost, by the least depths of their cells. Each candidate is
    written, and kept if its cell is not free: a branch here, which the processor cannot predict,
    takes longer than all the rest.
    """
    sizes, places, lookups = tables.sizes, tables.places, tables.lookups
    met, offsets, _ = tables.room
    marks, a_unit = tables.box_index
    left, low = bucket(x, a_unit[ALONG]), bucket(y, a_unit[ACROSS])
    right = bucket(x + sizes[shape, ALONG], a_unit[ALONG])
    high = bucket(y + sizes[shape, ACROSS], a_unit[ACROSS])
    found, sure = 0, 0.0
    for word in range(marks.shape[2]):
        near = marks[LEFT, right, word] & marks[RIGHT, left, word]
        near &= marks[LOW, high, word] & marks[HIGH, low, word]
        if word == copy // WORD:
            near &= ~(ONE << np.uint64(copy % WORD))
        while near != NONE:
            other = np.uint32(WORD * word + lowest_bit(near))
            near &= near - ONE
            dx, dy = x - places[other, 0], y - places[other, 1]
            cell = cell_at(lookups, shape, tables.shapes[other], dx, dy)
            least = tables.cells[cell, LEAST_DEPTH]
            met[found, OTHER], met[found, CELL] = other, cell
            offsets[found, 0], offsets[found, 1] = dx, dy
            sure += tables.weights[copy, other] * max(least, 0)
            found += int(least != FREE)
    return found, sure


@inlined
def depth_of_met(k: int, shape: int, tables: CostTables) -> float:
    """Return how deep a copy would overlap the k-th of those met at its place."""
    met, offsets, _ = tables.room
    flip = flip_of(tables.lookups, shape, tables.shapes[met[k, OTHER]])
    dx, dy = flip * offsets[k, 0], flip * offsets[k, 1]
    depth: float = depth_in_cell(met[k, CELL], dx, dy, tables.edges, tables.cells, tables.lists)
    return depth


@inlined
def cost_at(copy: int, shape: int, x: float, y: float, bound: float, tables: CostTables) -> float:
    """Return the weighted overlap of a copy with all others if it lay there.

    Stops and returns some number of at least ``bound`` once the cost is sure to reach it. For most
    places the least depths of the cells suffice for that, and no edge is read.
    """
    weights, met = tables.weights, tables.room.met
    found, sure = write_met(copy, shape, x, y, tables)
    if sure >= bound:
        return float(sure)
    total = 0.0
    for k in range(found):
        depth = depth_of_met(k, shape, tables)
        if depth > TOUCH:
            total += weights[copy, met[k, OTHER]] * depth
            if total >= bound:
                break
    return total
