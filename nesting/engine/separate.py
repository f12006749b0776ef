"""Making a layout valid on a shorter strip, by moving overlapping copies about."""

import time
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from nesting.engine.kernels.bundles import LEAST, Range, Record
from nesting.engine.kernels.separate import move_to_allowed, run_passes, total_overlap
from nesting.engine.layout import Layout, layout_of
from nesting.engine.prepared import PreparedStrip
from nesting.engine.separation_state import lay_on_board, new_board
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
    now: Layout
    best: Layout
    weights: FloatArray
    counters: FloatArray
    random_state: npt.NDArray[np.uint64]
    moves: int = 0
    is_over: bool = False

    @property
    def overlap(self) -> float:
        """Total overlap of the best layout, scale times depth; 0 if it is valid."""
        return float(self.counters[LEAST])


def begin(
    prepared: PreparedStrip, start: Layout, length: float, window: Window, rng: np.random.Generator
) -> Attempt:
    """Return an attempt that begins from ``start``, which may overlap or reach too far.

    Copies are brought to the nearest places that the strip and their holds allow. Where a hold
    leaves a copy none on so short a strip, the attempt is over before it began.
    """
    board = new_board(prepared, start.phases)
    places = start.places.copy()
    possible = move_to_allowed(length, start.shapes, places, board.problem)
    if possible:
        lay_on_board(prepared, board, start.shapes, places)
    total = total_overlap(board) if possible else np.inf
    begun = layout_of(prepared, start.shapes, places, start.phases)
    return Attempt(
        length=length,
        window=window,
        now=begun,
        best=begun,
        weights=board.pairs.weights,
        counters=np.array([total, total, 0.0, 0.0]),
        random_state=rng.integers(1, 2**63, size=1, dtype=np.uint64),
        moves=0 if possible else 1,
        is_over=total in (0.0, np.inf),
    )


def go_on(prepared: PreparedStrip, begun: Attempt, *, moves: int, deadline: float) -> Attempt:
    """Go on with an attempt for about so many moves, or until the monotonic clock says stop."""
    n = len(prepared.copies)
    board = new_board(prepared, begun.now.phases)
    board.pairs.weights[:] = begun.weights
    lay_on_board(prepared, board, begun.now.shapes, begun.now.places)
    record = Record(
        shapes=begun.best.shapes.copy(),
        places=begun.best.places.copy(),
        counters=begun.counters.copy(),
    )
    state = begun.random_state.copy()
    span = Range(begun.window.start, min(begun.window.end, begun.length))
    made, ended = 0, int(begun.is_over)
    while ended == 0 and made < moves and time.monotonic() < deadline:
        ended, more = run_passes(
            min(MOVES_BETWEEN_LOOKS, moves - made),
            begun.length,
            span,
            begun.window.movers,
            board,
            record,
            state,
        )
        made += more
    lying = board.lying
    return replace(
        begun,
        now=layout_of(prepared, lying.shapes[:n].copy(), lying.places[:n].copy(), begun.now.phases),
        best=layout_of(prepared, record.shapes, record.places, begun.best.phases),
        weights=board.pairs.weights,
        counters=record.counters,
        random_state=state,
        moves=begun.moves + made,
        is_over=ended != 0,
    )
