"""What a place costs, against plain sums over all other copies."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from tests.nesting.engine.kernels.test_depth import OUTLINES

from nesting.engine import Strip, StripItem
from nesting.engine.kernels.bottom_left import TOUCH
from nesting.engine.kernels.depth import overlap_depth
from nesting.engine.kernels.place_cost import Board, cost_at, looked_at, meeting
from nesting.engine.prepared import prepare
from nesting.engine.separation_state import new_board, put_down
from pieces.outline.polygon import FloatArray

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
    put_down(prepared, board, np.array(shapes), places)
    board[2][1][:] *= rng.uniform(1.0, 5.0, board[2][1].shape)
    return board


def depths_at(copy: int, x: float, y: float, board: Board) -> FloatArray:
    """Return how deep a copy would overlap each other one at a place, one by one."""
    shapes, places, _ = board[0]
    return np.array(
        [
            overlap_depth(shapes[other], shapes[copy], *((x, y) - places[other]), board[3])
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
    copy, (x, y) = seed % copies, np.array(share) * board[0][1].max()
    seen = looked_at(board)
    depths = depths_at(copy, x, y, board)
    expected = float((board[2][1][copy] * depths)[depths > TOUCH].sum())

    cost = cost_at(copy, board[0][0][copy], x, y, np.inf, seen)

    assert np.isclose(cost, expected, rtol=EXACTLY)
    for bound in (0.5 * expected, expected * (1.0 - EXACTLY), expected * (1.0 + EXACTLY) + 1.0):
        stopped = cost_at(copy, board[0][0][copy], x, y, bound, seen)
        assert (stopped >= bound) == (expected >= bound)


@given(OUTLINES, OUTLINES, st.integers(1, 140), st.integers(0, 2**32), SHARES)
def test_a_copy_meets_all_that_overlap_it_and_none_twice(
    first: FloatArray, second: FloatArray, copies: int, seed: int, share: tuple[float, float]
) -> None:
    """Nor itself, nor any whose box is elsewhere; what is sure is no more than they cost."""
    board = heap(first, second, copies, seed)
    (shapes, places, sides), sizes, room = board[0], board[1][3], board[4]
    copy, (x, y) = seed % copies, np.array(share) * places.max()
    depths = depths_at(copy, x, y, board)
    low, high = np.array([x, y]) - TOUCH, np.array([x, y]) + sizes[shapes[copy]] + TOUCH
    within = (sides[:, :2] < high).all(axis=1) & (sides[:, 2:] > low).all(axis=1)

    found, sure = meeting(copy, shapes[copy], x, y, looked_at(board))

    met = room[0][:found, 0].tolist()
    assert len(met) == len(set(met))
    assert copy not in met
    assert set(np.flatnonzero(depths > 0.0)) <= set(met) <= set(np.flatnonzero(within))
    assert sure <= float((board[2][1][copy] * depths).sum()) * (1.0 + EXACTLY)
