"""The board of the separation kernels: every copy and obstacle, and how deep they overlap."""

import numpy as np

from nesting.engine.kernels.box_index import BUCKETS, WORD, Register
from nesting.engine.kernels.place_cost import MOST_LINES, RAISED, Board
from nesting.engine.kernels.separate import lay_down, total_overlap
from nesting.engine.layout import Laid
from nesting.engine.no_fit import IntArray
from nesting.engine.prepared import Prepared
from pieces.outline.polygon import FloatArray


def overlap_of(prepared: Prepared, layout: Laid) -> float:
    """Return the total overlap of a layout, scale times depth; 0 if no two copies overlap."""
    board = new_board(prepared, layout.phases)
    put_down(prepared, board, layout.shapes, layout.places)
    return float(total_overlap(board))


def is_valid(prepared: Prepared, layout: Laid) -> bool:
    """Tell whether no two copies overlap by more than a touch."""
    return overlap_of(prepared, layout) == 0.0


def new_board(prepared: Prepared, phases: FloatArray) -> Board:
    """Return a board with nothing laid yet: every copy at the origin, weights at their least.

    The obstacles stand behind the copies that may move.
    """
    numbers = np.concatenate((prepared.copies, np.zeros(len(prepared.obstacle_shapes), np.int64)))
    n = len(numbers)
    scales = prepared.overlap_scales[np.ix_(numbers, numbers)]
    layout = (np.zeros(n, np.int64), np.zeros((n, 2)), np.zeros((n, 4)))
    problem = (
        prepared.copies.astype(np.int64),
        prepared.pose_starts,
        np.hstack((prepared.pose_rows, prepared.combs(phases))),
        prepared.sizes,
        scales,
    )
    counts = np.zeros((n, 2), np.int64)
    counts[:, RAISED] = n  # not known yet: all to be looked at once
    pairs = (np.zeros((n, n)), scales.copy(), counts)
    room = (np.zeros((n, 2), np.uint32), np.zeros((n, 2)), np.zeros((MOST_LINES, 4)))
    return layout, problem, pairs, prepared.grids.arrays, room, new_register(n)


def new_register(copies: int) -> Register:
    """Return a register of so many boxes in which none is marked yet."""
    return np.zeros((4, BUCKETS, -(-copies // WORD)), np.uint64), np.ones(2)


def with_obstacles(
    prepared: Prepared, shapes: IntArray, places: FloatArray
) -> tuple[IntArray, FloatArray]:
    """Return shapes and places of the copies, and of the obstacles after them."""
    return (
        np.concatenate((shapes, prepared.obstacle_shapes)),
        np.concatenate((places, prepared.obstacle_places)),
    )


def put_down(prepared: Prepared, board: Board, shapes: IntArray, places: FloatArray) -> None:
    """Lay the copies and the obstacles on the board and work out all overlaps."""
    lay_down(*with_obstacles(prepared, shapes, places), board)
