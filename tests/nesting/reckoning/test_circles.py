"""Circle skirts by geometry."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.errors import ReckoningError
from nesting.reckoning.circles import (
    CirclePart,
    cloth_in_one_piece_mm,
    outer_radius_mm,
    waist_radius_mm,
)

parts = st.sampled_from(list(CirclePart))


@given(st.floats(100.0, 3000.0), parts)
def test_the_arc_at_the_waist_radius_is_the_waist(waist_mm: float, part: CirclePart) -> None:
    """Radius times angle gives back the waist."""
    angle = 2.0 * math.pi * part.share

    assert waist_radius_mm(waist_mm, part) * angle == pytest.approx(waist_mm)


def test_smaller_shares_of_the_circle_have_larger_radii() -> None:
    """Full, half, third and quarter: once, twice, three and four times the radius."""
    radii = [waist_radius_mm(700.0, part) for part in CirclePart]

    assert [radius / radii[0] for radius in radii] == pytest.approx([1, 2, 3, 4])


@given(st.floats(10.0, 2000.0), parts)
def test_the_cloth_holds_the_sector_and_is_no_larger(outer_mm: float, part: CirclePart) -> None:
    """Points of the arc from the straight edge on: their spread is the box, within 0.1 %."""
    angles = [2.0 * math.pi * part.share * i / 7200 for i in range(7201)]
    xs = [0.0, *(outer_mm * math.cos(angle) for angle in angles)]
    ys = [0.0, *(outer_mm * math.sin(angle) for angle in angles)]

    assert cloth_in_one_piece_mm(outer_mm, part) == pytest.approx(
        (max(xs) - min(xs), max(ys) - min(ys)), rel=1e-3
    )


def test_a_hem_is_added_outside() -> None:
    """160 to the waist, 600 of skirt and 20 of hem."""
    assert outer_radius_mm(160, 600, hem_mm=20) == 780


@pytest.mark.parametrize(
    ("ask", "sentence"),
    [
        (lambda: waist_radius_mm(0, CirclePart.FULL), "waist is 0 mm"),
        (lambda: waist_radius_mm(60, CirclePart.FULL, waist_seam_mm=10), "leaves no radius"),
        (lambda: waist_radius_mm(700, CirclePart.FULL, seams_mm=-1), "side seams is -1 mm"),
        (lambda: outer_radius_mm(100, -5), "length of the skirt is -5 mm"),
        (lambda: cloth_in_one_piece_mm(0, CirclePart.HALF), "outer radius is 0 mm"),
    ],
)
def test_measures_that_cannot_be_are_refused(ask, sentence: str) -> None:
    """The refusal names the measure and its value."""
    with pytest.raises(ReckoningError, match=sentence):
        ask()
