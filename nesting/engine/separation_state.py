"""The board of the separation kernels: every copy and obstacle, and how deep they overlap."""

import numpy as np

from nesting.engine.kernels.box_index import BUCKETS, WORD
from nesting.engine.kernels.bundles import RAISED, Board, BoxIndex, Lying, Pairs, Problem, Room
from nesting.engine.kernels.corners import MOST_LINES
from nesting.engine.kernels.separate import lay_all, total_overlap
from nesting.engine.layout import Layout
from nesting.engine.no_fit import IntArray
from nesting.engine.prepared import PreparedStrip
from pieces.outline.polygon import FloatArray


def overlap_of(prepared: PreparedStrip, layout: Layout) -> float:
    """Return the total overlap of a layout, scale times depth; 0 if no two copies overlap."""
    board = new_board(prepared, layout.phases)
    lay_on_board(prepared, board, layout.shapes, layout.places)
    return float(total_overlap(board))


def is_valid(prepared: PreparedStrip, layout: Layout) -> bool:
    """Tell whether no two copies overlap by more than a touch."""
    return overlap_of(prepared, layout) == 0.0


def new_board(prepared: PreparedStrip, phases: FloatArray) -> Board:
    """Return a board with nothing laid yet: every copy at the origin, weights at their least.

    The obstacles stand behind the copies that may move.
    """
    numbers = np.concatenate((prepared.copies, np.zeros(len(prepared.obstacle_shapes), np.int64)))
    n = len(numbers)
    scales = prepared.overlap_scales[np.ix_(numbers, numbers)]
    counts = np.zeros((n, 2), np.int64)
    counts[:, RAISED] = n  # not known yet: all to be looked at once
    return Board(
        lying=Lying(shapes=np.zeros(n, np.int64), places=np.zeros((n, 2)), sides=np.zeros((n, 4))),
        problem=Problem(
            items=prepared.copies.astype(np.int64),
            pose_starts=prepared.pose_starts,
            poses=np.hstack((prepared.pose_rows, prepared.combs(phases))),
            sizes=prepared.sizes,
            scales=scales,
        ),
        pairs=Pairs(depths=np.zeros((n, n)), weights=scales.copy(), counts=counts),
        grids=prepared.grids.arrays,
        room=Room(
            met=np.zeros((n, 2), np.uint32),
            offsets=np.zeros((n, 2)),
            lines=np.zeros((MOST_LINES, 4)),
        ),
        box_index=new_box_index(n),
    )


def new_box_index(copies: int) -> BoxIndex:
    """Return an index of so many boxes in which none is marked yet."""
    marks = np.zeros((4, BUCKETS, -(-copies // WORD)), np.uint64)
    return BoxIndex(marks=marks, buckets_a_unit=np.ones(2))


def with_obstacles(
    prepared: PreparedStrip, shapes: IntArray, places: FloatArray
) -> tuple[IntArray, FloatArray]:
    """Return shapes and places of the copies, and of the obstacles after them."""
    return (
        np.concatenate((shapes, prepared.obstacle_shapes)),
        np.concatenate((places, prepared.obstacle_places)),
    )


def lay_on_board(
    prepared: PreparedStrip, board: Board, shapes: IntArray, places: FloatArray
) -> None:
    """Lay the copies and the obstacles on the board and work out all overlaps."""
    lay_all(*with_obstacles(prepared, shapes, places), board)
