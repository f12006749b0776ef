"""Which way a piece may lie, by grain, nap, one-way and turning over."""

import pytest

from nesting.cloth.bolt import Bolt
from nesting.cloth.lay_rules import LayRules, arrow_directions_deg, turns_deg
from nesting.cloth.repeat import Repeat
from nesting.errors import LayError
from pieces.grainline import Grain

PLAIN, NAPPED = Bolt(width_mm=1000.0), Bolt(width_mm=1000.0, nap=True)


@pytest.mark.parametrize(
    ("grain", "plain", "napped"),
    [
        (Grain.LENGTHWISE, {0.0, 180.0}, {0.0}),
        (Grain.CROSSWISE, {90.0, 270.0}, {90.0}),
        (Grain.BIAS, {45.0, 135.0, 225.0, 315.0}, {45.0}),
        (Grain.FREE, {0.0, 90.0, 180.0, 270.0}, {0.0}),
    ],
)
def test_nap_and_one_way_leave_one_direction(
    grain: Grain, plain: set[float], napped: set[float]
) -> None:
    """Plain cloth lets a piece turn top to bottom; nap and the one-way flag do not."""
    assert set(arrow_directions_deg(grain, PLAIN, one_way=False)) == plain
    assert set(arrow_directions_deg(grain, NAPPED, one_way=False)) == napped
    assert set(arrow_directions_deg(grain, PLAIN, one_way=True)) == napped


def test_an_uneven_repeat_leaves_one_direction_and_an_even_one_does_not() -> None:
    """Even stripes look the same upside down."""
    even, uneven = (
        Bolt(width_mm=1000.0, repeat=Repeat(along_mm=100.0, even=is_even))
        for is_even in (True, False)
    )

    assert set(arrow_directions_deg(Grain.LENGTHWISE, even, one_way=False)) == {0.0, 180.0}
    assert set(arrow_directions_deg(Grain.LENGTHWISE, uneven, one_way=False)) == {0.0}


def test_a_piece_turned_over_mirrors_its_directions_across_the_warp() -> None:
    """Lengthwise stays lengthwise; a bias at 45 degrees becomes one at 315."""
    assert arrow_directions_deg(Grain.LENGTHWISE, NAPPED, one_way=False, turned_over=True) == (0.0,)
    assert arrow_directions_deg(Grain.BIAS, NAPPED, one_way=False, turned_over=True) == (315.0,)


def test_turns_bring_the_arrow_into_its_direction() -> None:
    """As drawn the arrow starts at 0; flipped it starts at 180, so a half turn brings it back."""
    rules = LayRules()

    assert turns_deg(Grain.LENGTHWISE, NAPPED, rules, one_way=False) == (0.0,)
    assert turns_deg(Grain.LENGTHWISE, NAPPED, rules, one_way=False, turned_over=True) == (180.0,)
    assert turns_deg(Grain.BIAS, NAPPED, rules, one_way=False, turned_over=True) == (135.0,)


def test_tilt_adds_a_turn_to_either_side() -> None:
    """Two degrees allowed: straight first, then two less and two more."""
    assert turns_deg(Grain.LENGTHWISE, NAPPED, LayRules(tilt_deg=2.0), one_way=False) == (
        0.0,
        358.0,
        2.0,
    )


@pytest.mark.parametrize("tilt_deg", [-1.0, 10.5, float("nan")])
def test_a_tilt_no_cloth_forgives_is_refused(tilt_deg: float) -> None:
    """Between 0 and 10 degrees, or a refusal that says so."""
    with pytest.raises(LayError, match="from 0 to 10"):
        LayRules(tilt_deg=tilt_deg)
