"""Turning, flipping and placing."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pieces.errors import OutlineError
from pieces.outline.polygon import FloatArray, as_outline, signed_area_mm2
from pieces.outline.transform import flip, place, place_outline, turn
from tests.gallery import L_SHAPE
from tests.strategies import angles_deg, coordinates_mm, outlines


@given(outlines, angles_deg, st.booleans(), coordinates_mm, coordinates_mm)
def test_placing_keeps_area_and_distances(
    outline: FloatArray, deg: float, flipped: bool, x: float, y: float
) -> None:
    """However an outline is placed, its area and the distances of its vertices stay."""
    placed = place_outline(outline, turn_deg=deg, flipped=flipped, x=x, y=y)
    same_order = place(outline, turn_deg=deg, flipped=flipped, x=x, y=y)

    before = np.linalg.norm(outline - outline[0], axis=1)
    after = np.linalg.norm(same_order - same_order[0], axis=1)
    assert signed_area_mm2(placed) == pytest.approx(signed_area_mm2(outline), rel=1e-9)
    assert after == pytest.approx(before, abs=1e-9)


@given(outlines, st.integers(-4, 4))
def test_a_full_turn_is_the_identity(outline: FloatArray, turns: int) -> None:
    """Turning by any multiple of 360 degrees moves no bit."""
    assert np.array_equal(turn(outline, 360.0 * turns), outline)


@given(outlines, angles_deg)
def test_turning_back_undoes_a_turn(outline: FloatArray, deg: float) -> None:
    """A turn and the turn by the opposite angle cancel."""
    assert turn(turn(outline, deg), -deg) == pytest.approx(outline, abs=1e-9)


@given(outlines, st.integers(-8, 8))
def test_quarter_turns_only_swap_and_negate(outline: FloatArray, quarters: int) -> None:
    """A multiple of 90 degrees is exact: no dust such as 6e-17 appears."""
    turned = turn(outline, 90.0 * quarters)

    expected = {
        0: outline,
        1: np.column_stack((-outline[:, 1], outline[:, 0])),
        2: -outline,
        3: np.column_stack((outline[:, 1], -outline[:, 0])),
    }[quarters % 4]
    assert np.array_equal(turned, expected)


def test_a_turn_is_anticlockwise() -> None:
    """Turned by 30 degrees, a point 2 mm along x comes to (sqrt 3, 1)."""
    assert turn(np.array([[2.0, 0.0]]), 30.0)[0] == pytest.approx([math.sqrt(3.0), 1.0])


@given(outlines)
def test_flipping_twice_is_the_identity(outline: FloatArray) -> None:
    """Both flips undo themselves bit for bit."""
    assert np.array_equal(flip(flip(outline)), outline)


@given(outlines, angles_deg)
def test_a_placed_outline_is_in_the_agreed_form(outline: FloatArray, deg: float) -> None:
    """A flipped and turned outline is anticlockwise already, its first vertex first."""
    placed = place_outline(outline, turn_deg=deg, flipped=True, x=10.0)

    assert np.array_equal(as_outline(placed), placed)
    assert np.array_equal(placed[0], place(outline, turn_deg=deg, flipped=True, x=10.0)[0])


def test_the_flip_comes_before_the_turn_and_the_move_last() -> None:
    """(3, 1) flips to (-3, 1), turns by 90 to (-1, -3), and moves by (10, 20) to (9, 17)."""
    placed = place(np.array([[3.0, 1.0]]), turn_deg=90.0, flipped=True, x=10.0, y=20.0)

    assert placed.tolist() == [[9.0, 17.0]]


def test_placing_leaves_its_argument_alone() -> None:
    """The outline given is not changed in place."""
    outline = np.array(L_SHAPE.outline)
    place_outline(outline, turn_deg=90.0, flipped=True, x=5.0)

    assert np.array_equal(outline, L_SHAPE.outline)


@pytest.mark.parametrize("deg", [math.nan, math.inf])
def test_an_angle_without_direction_is_refused(deg: float) -> None:
    """Not-a-number and infinity are no angles."""
    with pytest.raises(OutlineError, match="finite number"):
        turn(L_SHAPE.outline, deg)


def test_a_tiny_negative_angle_is_no_full_turn_astray() -> None:
    """An angle just below zero, which rounds to 360, still turns nothing."""
    assert turn(np.array([[3.0, 1.0]]), -1e-20)[0] == pytest.approx([3.0, 1.0], abs=1e-12)
