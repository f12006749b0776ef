"""Quick work on outlines of very many vertices is bounded by counts."""

import numpy as np
import pytest

from nesting.engine import Strip, StripItem, StripPlacement, pack
from nesting.engine.lighter import MOST_TURNED_VERTICES, prepare_for_quick, without_leaning
from nesting.engine.stop import EDGES_AT_FULL_EFFORT, EFFORTS, LEAST_FILLS
from pieces.outline.polygon import FloatArray

TURNS = (0.0, 180.0, 357.0, 177.0, 3.0, 183.0)
FLIPPED = (180.0, 0.0, 177.0, 3.0)


def wavy(points: int, *, wide: float = 100.0) -> FloatArray:
    """Return an outline of so many vertices, about ``wide`` across."""
    angle = 2.0 * np.pi * np.arange(points) / points
    radius = wide / 2.5 * (1.0 + 0.25 * np.sin(7.0 * angle))
    return np.column_stack((radius * np.cos(angle), radius * np.sin(angle)))


def strip_of(points: int, **more: object) -> Strip:
    """Return two items that may lean."""
    items = tuple(
        StripItem(name=name, outline=wavy(points), turns_deg=TURNS, flipped_turns_deg=FLIPPED)
        for name in "ab"
    )
    return Strip(width=260.0, items=items, **more)  # type: ignore[arg-type]


def test_items_of_few_vertices_lean_as_they_may() -> None:
    """The strip is the same, not merely an equal one."""
    strip = strip_of(MOST_TURNED_VERTICES // (2 * 10))

    assert without_leaning(strip) is strip


def test_items_of_many_vertices_keep_the_quarters_of_their_first_turn() -> None:
    """Upright and head down stay, flipped as well; quantities and outlines too."""
    lighter = without_leaning(strip_of(300))

    assert {item.turns_deg for item in lighter.items} == {(0.0, 180.0)}
    assert {item.flipped_turns_deg for item in lighter.items} == {(180.0, 0.0)}
    assert [item.name for item in lighter.items] == ["a", "b"]


def test_what_fits_only_if_it_leans_leans() -> None:
    """A long bar on a narrow strip, among outlines of many vertices."""
    bar = np.array([(0.0, 0.0), (10.0, 0.0), (10.0, 260.0), (0.0, 260.0)])
    items = (StripItem(name="bar", outline=bar, turns_deg=(0.0, 45.0)), *strip_of(400).items)
    strip = Strip(width=200.0, items=items)

    prepared = prepare_for_quick(strip)

    assert [pose.turn_deg for pose in prepared.poses[0]] == [45.0]


def test_fixed_copies_keep_their_lean() -> None:
    """A copy that lies there leaning is no fault of the strip."""
    at = StripPlacement(item="a", copy=0, x=50.0, y=60.0, turn_deg=3.0, flipped=False)
    strip = strip_of(300, fixed=(at,))

    assert without_leaning(strip) is strip


def test_quick_makes_fewer_fills_on_many_edges_and_others_do_not() -> None:
    """The same up to the limit; in proportion beyond it; never none."""
    quick, standard = EFFORTS["quick"], EFFORTS["standard"]

    assert quick.for_edges(EDGES_AT_FULL_EFFORT) == quick
    assert quick.for_edges(2 * EDGES_AT_FULL_EFFORT).fills == quick.fills // 2
    assert quick.for_edges(10**9).fills == LEAST_FILLS
    assert standard.for_edges(10**9) == standard


@pytest.mark.slow
def test_a_quick_lay_of_many_vertices_lies_upright() -> None:
    """Without a start; a start that leans is taken as it is."""
    packing = pack(strip_of(300), effort="quick", workers=1)

    assert {one.turn_deg % 90.0 for one in packing.placements} == {0.0}
