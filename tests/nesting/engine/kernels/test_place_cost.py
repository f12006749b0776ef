"""What a place costs, against plain sums over all other copies."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from nesting.engine import Strip, StripItem
from nesting.engine.kernels.bundles import LOW, OTHER, RIGHT, Board
from nesting.engine.kernels.depth import overlap_depth
from nesting.engine.kernels.place_cost import cost_at, tables_of, write_met
from nesting.engine.kernels.tolerances import TOUCH
from nesting.engine.prepared import prepare
from nesting.engine.separation_state import lay_on_board, new_board
from pieces.outline.polygon import FloatArray
from tests.nesting.engine.kernels.test_depth import OUTLINES

SHARES = st.tuples(st.floats(-0.4, 1.4), st.floats(-0.4, 1.4))
EXACTLY = 1e-9


def heap(first: FloatArray, second: FloatArray, copies: int, seed: int) -> Board:
    """Return a board with so many copies of two outlines, turned and laid at random."""
    items = tuple(
        StripItem(
            name=str(k),
            outline=outline / np.ptp(outline, axis=0).max(),
            quantity=(copies + k) // 2,
            turns_deg=(0.0, 180.0),
        )
        for k, outline in enumerate((first, second))
        if (copies + k) // 2
    )
    rng = np.random.default_rng(seed)
    prepared = prepare(Strip(width=4.0, items=items))
    shapes = [int(rng.choice([pose.shape for pose in prepared.poses[k]])) for k in prepared.copies]
    places = rng.uniform(0.0, 3.0, (len(shapes), 2)) * prepared.scale
    board = new_board(prepared, np.empty(0))
    lay_on_board(prepared, board, np.array(shapes), places)
    board.pairs.weights[:] *= rng.uniform(1.0, 5.0, board.pairs.weights.shape)
    return board


def depths_at(copy: int, x: float, y: float, board: Board) -> FloatArray:
    """Return how deep a copy would overlap each other one at a place, one by one."""
    shapes, places, _ = board.lying
    return np.array(
        [
            overlap_depth(shapes[other], shapes[copy], *((x, y) - places[other]), board.grids)
            if other != copy
            else 0.0
            for other in range(len(shapes))
        ]
    )


@given(OUTLINES, OUTLINES, st.integers(1, 140), st.integers(0, 2**32), SHARES)
def test_a_place_costs_the_weighted_depths_of_all_that_overlap_there(
    first: FloatArray, second: FloatArray, copies: int, seed: int, share: tuple[float, float]
) -> None:
    """Within the heap and beyond it, with more copies than one word of bits holds and with one."""
    board = heap(first, second, copies, seed)
    copy, (x, y) = seed % copies, np.array(share) * board.lying.places.max()
    shape, tables = board.lying.shapes[copy], tables_of(board)
    depths = depths_at(copy, x, y, board)
    expected = float((board.pairs.weights[copy] * depths)[depths > TOUCH].sum())

    cost = cost_at(copy, shape, x, y, np.inf, tables)

    assert np.isclose(cost, expected, rtol=EXACTLY)
    for bound in (0.5 * expected, expected * (1.0 - EXACTLY), expected * (1.0 + EXACTLY) + 1.0):
        stopped = cost_at(copy, shape, x, y, bound, tables)
        assert (stopped >= bound) == (expected >= bound)


@given(OUTLINES, OUTLINES, st.integers(1, 140), st.integers(0, 2**32), SHARES)
def test_a_copy_meets_all_that_overlap_it_and_none_twice(
    first: FloatArray, second: FloatArray, copies: int, seed: int, share: tuple[float, float]
) -> None:
    """Nor itself, nor any whose box is elsewhere; what is sure is no more than they cost."""
    board = heap(first, second, copies, seed)
    (shapes, places, sides), sizes = board.lying, board.problem.sizes
    copy, (x, y) = seed % copies, np.array(share) * places.max()
    depths = depths_at(copy, x, y, board)
    low, high = np.array([x, y]) - TOUCH, np.array([x, y]) + sizes[shapes[copy]] + TOUCH
    within = (sides[:, : LOW + 1] < high).all(axis=1) & (sides[:, RIGHT:] > low).all(axis=1)

    found, sure = write_met(copy, shapes[copy], x, y, tables_of(board))

    met = board.room.met[:found, OTHER].tolist()
    assert len(met) == len(set(met))
    assert copy not in met
    assert set(np.flatnonzero(depths > 0.0)) <= set(met) <= set(np.flatnonzero(within))
    assert sure <= float((board.pairs.weights[copy] * depths).sum()) * (1.0 + EXACTLY)
