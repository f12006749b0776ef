"""Corners: a copy goes where it touches two others, and is never the worse for it."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from nesting.engine import Axis, PhaseGroup, PhaseHold, Strip, StripItem
from nesting.engine.kernels.bundles import EVERY_X, FIRST_X, HIGHEST_Y, LOWEST_Y, Board, Choice
from nesting.engine.kernels.corners import best_corner
from nesting.engine.kernels.place_cost import cost_at, tables_of
from nesting.engine.kernels.tolerances import TOUCH
from nesting.engine.prepared import PreparedStrip, prepare
from nesting.engine.separation_state import lay_on_board, new_board
from pieces.outline.polygon import FloatArray
from tests.nesting.engine.kernels.test_depth import OUTLINES

SLANT = np.array([(0, 0), (6, 0), (0, 3)], dtype=float)
DIAMOND = np.array([(1, 0), (2, 1), (1, 2), (0, 1)], dtype=float)


def board_of(strip: Strip, places: FloatArray) -> tuple[PreparedStrip, Board]:
    """Return a strip made ready, and a board with one copy of each item at a place."""
    prepared = prepare(strip)
    board = new_board(prepared, np.zeros(len(prepared.groups)))
    shapes = np.array([poses[0].shape for poses in prepared.poses])
    lay_on_board(prepared, board, shapes, places * prepared.scale)
    return prepared, board


def cost_of_last(board: Board, x: float, y: float) -> float:
    """Return what the last copy would cost at (x, y)."""
    shapes = board.lying.shapes
    copy = len(shapes) - 1
    return float(cost_at(copy, shapes[copy], x, y, np.inf, tables_of(board)))


def to_corner(board: Board, length: float) -> tuple[float, float, float, float]:
    """Return what the last copy costs where it lies, its corner, and what it costs there."""
    copy = len(board.lying.shapes) - 1
    x, y = board.lying.places[copy]
    pose = int(board.problem.pose_starts[board.problem.items[copy]])
    before = cost_of_last(board, x, y)
    to_x, to_y = best_corner(copy, Choice(pose, x, y, before), length, board)
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
    pose, (wide, _) = board.problem.poses[-1], board.problem.sizes[board.lying.shapes[-1]]

    before, x, y, after = to_corner(board, length)

    assert after <= before
    assert 0.0 <= x <= length - wide
    assert pose[LOWEST_Y] <= y <= pose[HIGHEST_Y]
    if every and after < before:
        teeth = (x - pose[FIRST_X]) / pose[EVERY_X]
        assert abs(teeth - np.rint(teeth)) * pose[EVERY_X] <= TOUCH
