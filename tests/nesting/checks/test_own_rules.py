"""The judge's own rules, each against a figure worked out by hand or printed."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.checks import own_places, own_rules
from nesting.cloth.bolt import Bolt
from nesting.cloth.repeat import Axis, Repeat
from nesting.cloth.spread import Spread, Stretch
from nesting.marker.placement import Placement
from pieces.grainline import Grain
from pieces.measures.units import MM_PER_YARD
from pieces.outline.transform import place
from tests.small_patterns import TRIANGLE, box


@pytest.mark.parametrize(
    ("grain", "on_grain", "top"),
    [
        (Grain.LENGTHWISE, {0, 180}, 0),
        (Grain.CROSSWISE, {90, 270}, 90),
        (Grain.BIAS, {45, 135, 225, 315}, 45),
        (Grain.FREE, {0, 90, 180, 270}, 0),
    ],
)
def test_directions_of_the_arrow(grain: Grain, on_grain: set[int], top: int) -> None:
    """As the table of the conventions has them; a piece turned over has the mirrored one."""
    steps = range(0, 360, 15)

    assert {
        deg for deg in steps if own_rules.off_grain_deg(deg, grain, turned_over=False) == 0
    } == on_grain
    assert [deg for deg in steps if own_rules.off_top_deg(deg, grain, turned_over=False) == 0] == [
        top
    ]
    assert [deg for deg in steps if own_rules.off_top_deg(deg, grain, turned_over=True) == 0] == [
        -top % 360
    ]


def test_how_far_off() -> None:
    """Seven degrees either way of 0 and of 180; a half turn is 180 off the top."""
    for deg in (7.0, -7.0, 187.0, 173.0):
        assert own_rules.off_grain_deg(deg, Grain.LENGTHWISE, turned_over=False) == pytest.approx(7)
    assert own_rules.off_top_deg(180.0, Grain.LENGTHWISE, turned_over=False) == 180.0


def test_widths() -> None:
    """Of 1000 mm less two selvages of 20, a twentieth is lost: 912 mm, folded 456."""
    bolt = Bolt(width_mm=1000.0, selvage_mm=20.0, shrink_across=0.05)

    assert own_rules.cloth_width_mm(bolt) == pytest.approx(912.0)
    halved = {way: own_rules.table_width_mm(bolt, way) for way in Spread}
    assert {way for way, mm in halved.items() if mm == pytest.approx(456.0)} == {
        Spread.LENGTHWISE,
        Spread.DOUBLE,
    }
    lengths = {
        way: own_rules.table_length_mm(Stretch(way, 100.0, 900.0))
        for way in Spread
        if way is not Spread.BEST
    }
    assert {way for way, mm in lengths.items() if mm == 450.0} == {
        Spread.CROSSWISE,
        Spread.TURNED,
    }


def test_three_yards_at_five_per_cent_are_asked_for_as_three_and_a_quarter() -> None:
    """3 / 0.95 = 3.158 yd, by the definition of AATCC TM135; the next eighth is 3 1/4."""
    bolt = Bolt(width_mm=1000.0, shrink_along=0.05)

    taken_mm = own_rules.taken_mm(bolt, 3 * MM_PER_YARD)

    assert taken_mm / MM_PER_YARD == pytest.approx(3.158, abs=5e-4)
    assert own_rules.asked_for_mm(bolt, taken_mm) == pytest.approx(3.25 * MM_PER_YARD)


@pytest.mark.parametrize(
    ("step_mm", "left_mm", "length_mm", "expected"),
    [
        (500.0, None, 3200.0, 3500.0),  # akindcloth.co.uk: 3.2 m are sold as 3.5 m
        (100.0, None, 1400.0, 1400.0),
        (100.0, None, 1400.0000001, 1400.0),
        (100.0, None, 1400.01, 1500.0),
        (None, None, 1234.5, 1234.5),
        (500.0, 3300.0, 3200.0, 3300.0),  # the last step reaches beyond what is left
        (500.0, 3000.0, 3200.0, 3500.0),  # and where there is too little, the step is told
        (1e-9, None, 3200.0, None),
    ],
)
def test_what_to_ask_for(
    step_mm: float | None, left_mm: float | None, length_mm: float, expected: float | None
) -> None:
    """Rounded up, never down."""
    bolt = Bolt(width_mm=1000.0, shop_step_mm=step_mm, length_left_mm=left_mm)

    assert own_rules.asked_for_mm(bolt, length_mm) == expected


def test_the_repeat_is_washed_and_bought_unwashed() -> None:
    """100 mm along lose a tenth on the table, and are bought whole."""
    repeat = Repeat(along_mm=100.0, across_mm=50.0)
    bolt = Bolt(width_mm=1000.0, repeat=repeat, shrink_along=0.1)

    assert own_rules.washed_repeat_mm(bolt, Axis.ALONG) == pytest.approx(90.0)
    assert own_rules.washed_repeat_mm(bolt, Axis.ACROSS) == 50.0
    assert own_rules.taken_mm(bolt, 900.0) == pytest.approx(1100.0)
    assert own_rules.off_repeat_mm(203.0, 100.0) == pytest.approx(3.0)
    assert own_rules.off_repeat_mm(-198.0, 100.0) == pytest.approx(2.0)


@given(
    turn_deg=st.one_of(st.sampled_from([0.0, 90.0, 180.0, 270.0, -90.0]), st.floats(-1e4, 1e4)),
    flipped=st.booleans(),
    x=st.floats(-1e4, 1e4),
    y=st.floats(-1e4, 1e4),
)
def test_places_agree_with_the_makers(turn_deg: float, flipped: bool, x: float, y: float) -> None:
    """Complex numbers and sines give one place; both were written from the same sentence."""
    at = Placement("a", 1, 0, turn_deg, flipped, x, y)

    ours = own_places.moved(TRIANGLE.outline_mm, at)

    theirs = place(TRIANGLE.outline_mm, turn_deg=turn_deg, flipped=flipped, x=x, y=y)
    assert np.abs(ours - theirs).max() < 1e-8


def test_mirror_images() -> None:
    """A box is its own, a triangle is not."""
    assert own_places.is_own_mirror_image(box(30, 50))
    assert not own_places.is_own_mirror_image(TRIANGLE)


@pytest.mark.parametrize(("by_mm", "same"), [(0.0, True), (0.04, True), (0.2, False)])
def test_one_outline_or_two(by_mm: float, same: bool) -> None:
    """Moved, with another corner on an edge, and a hair wider: one; two tenths wider: two."""
    first = np.array([(0.0, 0.0), (60.0, 0.0), (60.0, 100.0), (0.0, 100.0)])
    second = np.array([(7, 7), (37, 7), (67 + by_mm, 7), (67 + by_mm, 107), (7, 107.0)])

    assert own_places.same_outline(first, second) is same
