"""Making a layout valid on a shorter strip, by moving overlapping copies about."""

import time
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from nesting.engine.kernels.separate import attempt, hold_all, total_overlap
from nesting.engine.layout import Laid, laid
from nesting.engine.prepared import Prepared
from nesting.engine.separation_state import new_board, put_down
from nesting.engine.window import Window
from pieces.outline.polygon import FloatArray

MOVES_BETWEEN_LOOKS = 2_000


@dataclass(frozen=True, eq=False)
class Attempt:
    """An attempt to lay the copies within a length: begun, given up, or done.

    Parameters
    ----------
    length
        Length of strip to keep to, units.
    window
        The part of the strip whose copies move.
    now
        The layout as it stands.
    best
        The layout of least overlap so far.
    weights
        What each pair's overlap costs, shape (n, n).
    counters
        Least overlap so far, overlap at the last gain, passes since, and strikes.
    random_state
        State of the attempt's own random numbers.
    moves
        Moves made so far.
    is_over
        Whether it is done or given up.
    """

    length: float
    window: Window
    now: Laid
    best: Laid
    weights: FloatArray
    counters: FloatArray
    random_state: npt.NDArray[np.uint64]
    moves: int = 0
    is_over: bool = False

    @property
    def overlap(self) -> float:
        """Total overlap of the best layout, scale times depth; 0 if it is valid."""
        return float(self.counters[0])


def begin(
    prepared: Prepared, start: Laid, length: float, window: Window, rng: np.random.Generator
) -> Attempt:
    """Return an attempt that begins from ``start``, which may overlap or reach too far.

    Copies are brought to the nearest places that the strip and their holds allow. Where a hold
    leaves a copy none on so short a strip, the attempt is over before it began.
    """
    board = new_board(prepared, start.phases)
    places = start.places.copy()
    possible = hold_all(length, start.shapes, places, board[1])
    if possible:
        put_down(prepared, board, start.shapes, places)
    total = total_overlap(board) if possible else np.inf
    begun = laid(prepared, start.shapes, places, start.phases)
    return Attempt(
        length=length,
        window=window,
        now=begun,
        best=begun,
        weights=board[2][1],
        counters=np.array([total, total, 0.0, 0.0]),
        random_state=rng.integers(1, 2**63, size=1, dtype=np.uint64),
        moves=0 if possible else 1,
        is_over=total in (0.0, np.inf),
    )


def go_on(prepared: Prepared, begun: Attempt, *, moves: int, deadline: float) -> Attempt:
    """Go on with an attempt for about so many moves, or until the monotonic clock says stop."""
    n = len(prepared.copies)
    board = new_board(prepared, begun.now.phases)
    board[2][1][:] = begun.weights
    put_down(prepared, board, begun.now.shapes, begun.now.places)
    best = begun.best.shapes.copy(), begun.best.places.copy()
    counters, state = begun.counters.copy(), begun.random_state.copy()
    span = begun.window.start, min(begun.window.end, begun.length)
    made, ended = 0, int(begun.is_over)
    while ended == 0 and made < moves and time.monotonic() < deadline:
        ended, more = attempt(
            min(MOVES_BETWEEN_LOOKS, moves - made),
            begun.length,
            span,
            begun.window.movers,
            board,
            best,
            counters,
            state,
        )
        made += more
    return replace(
        begun,
        now=laid(prepared, board[0][0][:n].copy(), board[0][1][:n].copy(), begun.now.phases),
        best=laid(prepared, *best, begun.best.phases),
        weights=board[2][1],
        counters=counters,
        random_state=state,
        moves=begun.moves + made,
        is_over=ended != 0,
    )
