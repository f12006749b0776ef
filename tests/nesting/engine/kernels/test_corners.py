"""Corners: a copy goes where it touches two others, and is never the worse for it."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from tests.nesting.engine.kernels.test_depth import OUTLINES

from nesting.engine import Axis, PhaseGroup, PhaseHold, Strip, StripItem
from nesting.engine.kernels.bottom_left import TOUCH
from nesting.engine.kernels.corners import cornered
from nesting.engine.kernels.place_cost import Board, cost_at, looked_at
from nesting.engine.prepared import Prepared, prepare
from nesting.engine.separation_state import new_board, put_down
from pieces.outline.polygon import FloatArray

SLANT = np.array([(0, 0), (6, 0), (0, 3)], dtype=float)
DIAMOND = np.array([(1, 0), (2, 1), (1, 2), (0, 1)], dtype=float)


def board_of(strip: Strip, places: FloatArray) -> tuple[Prepared, Board]:
    """Return a strip made ready, and a board with one copy of each item at a place."""
    prepared = prepare(strip)
    board = new_board(prepared, np.zeros(len(prepared.groups)))
    shapes = np.array([poses[0].shape for poses in prepared.poses])
    put_down(prepared, board, shapes, places * prepared.scale)
    return prepared, board


def cost_of_last(board: Board, x: float, y: float) -> float:
    """Return what the last copy would cost at (x, y)."""
    copy = len(board[0][0]) - 1
    return float(cost_at(copy, board[0][0][copy], x, y, np.inf, looked_at(board)))


def to_corner(board: Board, length: float) -> tuple[float, float, float, float]:
    """Return what the last copy costs where it lies, its corner, and what it costs there."""
    copy = len(board[0][0]) - 1
    x, y = board[0][1][copy]
    row = int(board[1][1][board[1][0][copy]])
    before = cost_of_last(board, x, y)
    to_x, to_y = cornered(copy, (row, x, y, before), length, board)
    return before, to_x, to_y, cost_of_last(board, to_x, to_y)


def test_a_slanting_corner_is_met_exactly() -> None:
    """A diamond in a notch of two slants slides down to where it touches both, at once.

    The slants x + 2 y = 6 and (9 - x) + 2 y = 6 cross at (4.5, 0.75); the diamond's lower sides are
    steeper, so its lower corner (1 to the right of its place) goes there.
    """
    items = (
        StripItem(name="left", outline=SLANT),
        StripItem(name="right", outline=SLANT * (-1, 1)),
        StripItem(name="diamond", outline=DIAMOND),
    )
    strip = Strip(width=4.0, items=items)
    prepared, board = board_of(strip, np.array([[0.0, 0.0], [3.0, 0.0], [3.5, 0.4]]))

    before, x, y, after = to_corner(board, 12.0 * prepared.scale)

    assert before > 0.0
    assert after == 0.0
    assert np.allclose(np.array([x, y]) / prepared.scale, (3.5, 0.75), atol=1e-6)


SHARES = st.tuples(st.floats(0.0, 1.0), st.floats(0.0, 1.0))


@given(
    first=OUTLINES,
    second=OUTLINES,
    third=OUTLINES,
    shares=st.lists(SHARES, min_size=3, max_size=3),
    every=st.sampled_from([0.0, 0.37]),
)
def test_a_corner_is_on_the_strip_and_costs_no_more(
    first: FloatArray,
    second: FloatArray,
    third: FloatArray,
    shares: list[tuple[float, float]],
    every: float,
) -> None:
    """Wherever three shapes lie, the last one's corner keeps to the strip and to its repeat."""
    outlines = [outline / np.ptp(outline, axis=0).max() for outline in (first, second, third)]
    groups = (PhaseGroup(axis=Axis.ALONG, every=every, phases=(0.0,)),) if every else ()
    holds = {(0.0, False): (PhaseHold(0, 0.0),)} if every else {}
    items = tuple(
        StripItem(name=str(number), outline=outline, holds=holds)
        for number, outline in enumerate(outlines)
    )
    strip = Strip(width=1.5, items=items, groups=groups)
    places = np.array(shares) * 0.5
    if every:
        places[:, 0] = every * np.rint(places[:, 0] / every)
    prepared, board = board_of(strip, places)
    length = 2.5 * prepared.scale
    pose = board[1][2][-1]

    before, x, y, after = to_corner(board, length)

    assert after <= before
    assert 0.0 <= x <= length - board[1][3][int(pose[0]), 0]
    assert pose[1] <= y <= pose[2]
    if every and after < before:
        teeth = (x - pose[3]) / pose[4]
        assert abs(teeth - np.rint(teeth)) * pose[4] <= TOUCH
