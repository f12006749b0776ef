"""Making a layout valid on a shorter strip, by moving overlapping copies about."""

import time
from dataclasses import dataclass

import numpy as np

from nesting.engine.laid import Laid, laid
from nesting.engine.prepared import Prepared
from nesting.kernels.separate import Board, attempt, lay_down, total_overlap

MOVES_BETWEEN_LOOKS = 2_000


@dataclass(frozen=True, eq=False)
class Separation:
    """How an attempt ended.

    Parameters
    ----------
    laid
        The layout of least overlap.
    overlap
        Its total overlap, scale times depth; 0 if it is valid.
    moves
        Moves made.
    """

    laid: Laid
    overlap: float
    moves: int


def separate(
    prepared: Prepared,
    start: Laid,
    length: float,
    *,
    rng: np.random.Generator,
    deadline: float = float("inf"),
) -> Separation:
    """Try to lay the copies within ``length`` units, beginning from ``start``.

    Parameters
    ----------
    prepared, start
        The problem, and a layout that may overlap or reach too far.
    length
        Length of strip to keep to, units.
    rng
        Source of the attempt's own random numbers.
    deadline
        Time on the monotonic clock at which to stop.
    """
    places = start.places.copy()
    places[:, 0] = np.minimum(places[:, 0], length - prepared.sizes[start.shapes, 0])
    board = new_board(prepared)
    lay_down(start.shapes, places, board)
    best = (start.shapes.copy(), places.copy())
    total = total_overlap(board)
    progress = np.array([total, total, 0.0, 0.0])
    state = rng.integers(1, 2**63, size=1, dtype=np.uint64)
    moves, ended = 0, 1 if total == 0.0 else 0
    while ended == 0 and time.monotonic() < deadline:
        ended, more = attempt(MOVES_BETWEEN_LOOKS, length, board, best, progress, state)
        moves += more
    return Separation(laid(prepared, *best), float(progress[0]), moves)


def new_board(prepared: Prepared) -> Board:
    """Return a board with nothing laid yet: every copy at the origin, all weights 1."""
    n = len(prepared.copies)
    layout = (np.zeros(n, np.int64), np.zeros((n, 2)), np.zeros((4, n)))
    problem = (
        prepared.copies.astype(np.int64),
        prepared.pose_starts,
        prepared.pose_rows,
        prepared.sizes,
        prepared.overlap_scales,
    )
    return layout, problem, (np.zeros((n, n)), np.ones((n, n))), prepared.grids.arrays
