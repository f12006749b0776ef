"""Bias strips out of an area, and an area for bias strips."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.errors import ReckoningError
from nesting.reckoning import bias

lengths = st.floats(1.0, 5000.0)
losses = st.floats(0.0, 0.9)


@given(lengths, lengths, losses)
def test_the_square_for_a_strip_gives_that_strip(
    length_mm: float, strip_mm: float, loss: float
) -> None:
    """Both formulas are one: the side, rounded up, never gives too little."""
    side_mm = bias.square_side_mm(length_mm, strip_mm, loss=loss, step_mm=1.0)

    assert bias.strip_from_square_mm(side_mm, strip_mm, loss=loss) >= length_mm - 1e-2


def test_loss_makes_less_strip_and_larger_squares() -> None:
    """A sixth of 5 m lost leaves 4.17 m; the square for 5 m grows from 50 to 55 cm at 10 mm steps.

    sqrt(5,000 x 50 / (5/6)) = sqrt(300,000) = 547.7.
    """
    assert bias.strip_length_mm(250_000, 50, loss=1 / 6) == pytest.approx(4166.67, abs=0.01)
    assert bias.square_side_mm(5000, 50, loss=1 / 6, step_mm=10) == 550


def test_strips_across_the_cloth_are_counted_whole() -> None:
    """2.5 m from cloth 1 m wide are three strips, and three strips of 40 mm are 120 mm of cloth."""
    assert bias.strips_from_width(2500, 1000) == 3
    assert bias.cloth_for_strips_mm(2500, 1000, 40) == 120


@pytest.mark.parametrize(
    ("ask", "sentence"),
    [
        (lambda: bias.strip_length_mm(0, 50), "area is 0 mm2"),
        (lambda: bias.strip_length_mm(100, 50, loss=0.95), "share lost is 0.95; .* 0 to 0.9"),
        (lambda: bias.strip_from_square_mm(100, 50, seam_loss_mm=100), "beside the seams is 0 mm"),
        (lambda: bias.square_side_mm(100, -1), "strip width is -1 mm"),
        (lambda: bias.square_side_mm(100, 50, step_mm=0), "rounding step is 0 mm"),
        (lambda: bias.length_across_mm(100, 0), "width of the cloth is 0 mm"),
        (lambda: bias.strips_from_width(0, 1000), "length of strip is 0 mm"),
    ],
)
def test_measures_that_cannot_be_are_refused(ask, sentence: str) -> None:
    """The refusal names the measure, its value and the limit."""
    with pytest.raises(ReckoningError, match=sentence):
        ask()
