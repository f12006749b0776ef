"""Windows: what moves on a long strip, what lies still, and what follows as one."""

from dataclasses import replace
from unittest import mock

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.engine import Axis, PhaseGroup, Strip, StripItem, pack, window
from nesting.engine.compaction import compacted
from nesting.engine.explore import shrunk
from nesting.engine.fill import fill
from nesting.engine.layout import Layout, layout_of, layout_of_fill
from nesting.engine.orders import sensible_orders
from nesting.engine.prepared import PreparedStrip, prepare
from nesting.engine.separate import begin, go_on
from nesting.engine.separation_state import is_valid
from nesting.engine.window import (
    PIECES_IN_WINDOW,
    Window,
    beyond,
    moved_on,
    share_of_window,
    whole_strip,
    window_about,
)
from tests.packing_checks import faults

KITE = np.array([(0, 0), (5, 0), (5, 3), (2, 4)], dtype=float)
LONG = 3 * PIECES_IN_WINDOW


def kites(count: int) -> Strip:
    """Return a strip of so many kites of two sizes, free to turn half round."""
    items = tuple(
        StripItem(name=str(size), outline=size * KITE, quantity=count // 2, turns_deg=(0.0, 180.0))
        for size in (1.0, 0.7)
    )
    return Strip(width=19.0, items=items)


def filled(strip: Strip) -> tuple[PreparedStrip, Layout]:
    """Return a strip made ready, and what its first sensible order lays."""
    prepared = prepare(strip)
    return prepared, layout_of_fill(prepared, fill(prepared, sensible_orders(prepared)[0]))


def still(layout: Layout, chosen: Window) -> np.ndarray:
    """Return the numbers of the copies that are not in a window."""
    return np.setdiff1d(np.arange(len(layout.shapes)), chosen.movers)


def test_a_strip_of_few_pieces_is_one_window() -> None:
    """Wherever it is cut, every copy may move."""
    prepared, start = filled(kites(40))

    chosen = window_about(prepared, start, 0.3 * start.length)

    assert share_of_window(prepared) == 1.0
    assert list(chosen.movers) == list(range(40))


def test_a_repeat_or_a_region_makes_any_strip_one_window() -> None:
    """What lies beyond could not be moved on by any amount."""
    plain = kites(LONG)
    repeat = replace(plain, groups=(PhaseGroup(Axis.ALONG, 2.0),))
    region = replace(plain, regions=(KITE,))

    assert share_of_window(prepare(plain)) == pytest.approx(1 / 3)
    assert share_of_window(prepare(repeat)) == 1.0
    assert share_of_window(prepare(region)) == 1.0


@pytest.mark.parametrize("at", [0.0, 0.1, 0.5, 0.9, 1.0])
def test_copies_lie_before_in_or_beyond_a_window(at: float) -> None:
    """Those beyond begin after all that lies before has ended, so they cannot meet."""
    prepared, start = filled(kites(LONG))
    x = at * start.length

    chosen = window_about(prepared, start, x)

    after = beyond(prepared, start, chosen)
    before = np.setdiff1d(still(start, chosen), after)
    assert len(before) == 0 or start.places[before, 0].max() < chosen.start
    rights = start.places[:, 0] + prepared.sizes[start.shapes, 0]
    assert chosen.start <= x <= chosen.end * (1.0 + 1e-12)
    assert len(chosen.movers) + len(before) + len(after) == LONG
    assert PIECES_IN_WINDOW / 2 < len(chosen.movers) < 2 * PIECES_IN_WINDOW
    assert rights[before].max(initial=0.0) <= start.places[after, 0].min(initial=start.length)


def test_a_short_copy_beside_a_long_one_that_reaches_in_lies_before() -> None:
    """The long one begins first and may move; the short one has ended where the window begins."""
    bar, box = (np.array([(0, 0), (w, 0), (w, 2), (0, 2)], dtype=float) for w in (10.0, 1.0))
    items = (
        StripItem(name="bar", outline=bar),
        StripItem(name="box", outline=box, quantity=4),
    )
    prepared = prepare(Strip(width=4.0, items=items))
    spots = np.array([[0, 0], [5, 2], [9, 2], [16, 0], [19, 0]]) * prepared.scale
    start = layout_of(prepared, prepared.copies.copy(), spots, np.empty(0))

    with mock.patch.object(window, "PIECES_IN_WINDOW", 2):
        chosen = window_about(prepared, start, 12.0 * prepared.scale)

    assert list(chosen.movers) == [0, 2, 3]
    assert list(beyond(prepared, start, chosen)) == [4]


def test_an_attempt_moves_none_but_the_copies_of_its_window() -> None:
    """After thousands of moves the others lie where shortening put them, to the last bit."""
    prepared, start = filled(kites(LONG))
    rng = np.random.default_rng(4)
    length = 0.995 * start.length
    shorter, chosen = shrunk(prepared, start, length, rng)

    ended = go_on(
        prepared,
        begin(prepared, shorter, length, chosen, rng),
        moves=3000,
        deadline=float("inf"),
    )

    others = still(start, chosen)
    assert ended.moves > 0
    assert (ended.now.places[others] == shorter.places[others]).all()
    assert (ended.now.shapes[others] == shorter.shapes[others]).all()
    assert (ended.now.places[chosen.movers] != shorter.places[chosen.movers]).any()


def test_moving_on_takes_along_what_lies_beyond_alone() -> None:
    """A hundred units on, they lie a hundred units farther, and the window is as much longer."""
    prepared, start = filled(kites(LONG))
    chosen = window_about(prepared, start, 0.4 * start.length)

    moved, longer = moved_on(prepared, start, chosen, 100.0)

    after = beyond(prepared, start, chosen)
    expected = np.zeros((LONG, 2))
    expected[after, 0] = 100.0
    assert len(after) > 0
    assert (moved.places == start.places + expected).all()
    assert longer.end == chosen.end + 100.0
    assert moved.length == start.length + 100.0


def test_compaction_of_a_window_pulls_in_what_lies_beyond_as_one() -> None:
    """Of eight boxes in a row with gaps, two shift: those before stay, those beyond follow."""
    box = np.array([(0, 0), (2, 0), (2, 6), (0, 6)], dtype=float)
    prepared = prepare(Strip(width=6.0, items=(StripItem(name="box", outline=box, quantity=8),)))
    lefts = 2.1 * np.arange(8) * prepared.scale
    start = layout_of(
        prepared, np.zeros(8, np.int64), np.stack((lefts, np.zeros(8)), 1), np.empty(0)
    )
    chosen = Window(float(lefts[3]), float(lefts[5]), np.array([3, 4]))

    result = compacted(prepared, start, chosen)

    shifts = (start.places - result.places)[:, 0] / prepared.scale
    assert shifts[:3] == pytest.approx(np.zeros(3), abs=1e-12)
    assert shifts[3:5] == pytest.approx([0.1, 0.2], abs=1e-6)
    assert shifts[5:] == pytest.approx(np.full(3, 0.3), abs=1e-6)
    assert is_valid(prepared, result)
    assert compacted(prepared, start, whole_strip(start)).length < result.length


@pytest.mark.slow
@settings(max_examples=10)
@given(seed=st.integers(0, 1000), pieces=st.integers(2, 8))
def test_a_search_in_small_windows_is_valid_and_no_longer_than_fill(seed: int, pieces: int) -> None:
    """Windows of a few pieces on a strip of thirty: Shapely finds no fault."""
    strip = kites(30)

    with mock.patch.object(window, "PIECES_IN_WINDOW", pieces):
        packing = pack(strip, effort="standard", seed=seed, workers=1)

    assert faults(strip, packing) == []
    assert packing.moves > 0
    assert packing.length <= pack(strip, effort="quick", seed=seed, workers=1).length
