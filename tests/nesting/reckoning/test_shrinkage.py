"""Shrinkage from a swatch."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.errors import ReckoningError
from nesting.reckoning.shrinkage import (
    change_percent,
    length_before_washing_mm,
    shrinkage_share,
    width_after_washing_mm,
)


@given(st.floats(1.0, 1e5), st.floats(0.0, 0.5))
def test_what_is_bought_shrinks_to_what_is_needed(needed_mm: float, share: float) -> None:
    """Washing the length to buy leaves the length needed."""
    bought_mm = length_before_washing_mm(needed_mm, share)

    assert bought_mm * (1.0 - share) == pytest.approx(needed_mm)
    assert bought_mm >= needed_mm


@given(st.floats(1.0, 1000.0), st.floats(0.5, 1.05))
def test_the_share_is_what_washing_took(before_mm: float, left: float) -> None:
    """Before times one less the share is after."""
    share = shrinkage_share(before_mm, before_mm * left)

    assert before_mm * (1.0 - share) == pytest.approx(before_mm * left)


def test_cloth_that_grows_a_little_saves_nothing() -> None:
    """From 200 to 202 is -1 %; neither is less bought nor more width counted on."""
    share = shrinkage_share(200, 202)

    assert share == pytest.approx(-0.01)
    assert length_before_washing_mm(1000, share) == 1000
    assert width_after_washing_mm(1000, share) == 1000


def test_no_change_is_told_without_a_minus() -> None:
    """A change of nothing is 0.0 and not -0.0."""
    assert str(change_percent(200, 200)) == "0.0"


@pytest.mark.parametrize(
    ("ask", "sentence"),
    [
        (lambda: shrinkage_share(0, 10), "swatch before washing is 0 mm"),
        (lambda: shrinkage_share(200, float("nan")), "swatch after washing is nan mm"),
        (lambda: shrinkage_share(190, 200), "grew from 190 to 200 mm, 5.3%.* are not swapped"),
        (lambda: shrinkage_share(200, 202, most_growth=0), "more than 0.0% is not believed"),
        (lambda: shrinkage_share(200, 20), "shrank from 200 to 20 mm, 90.0%.* their units"),
        (lambda: length_before_washing_mm(1000, 0.6), "shrinkage is 0.6; it must be from -1 to"),
        (lambda: width_after_washing_mm(-1, 0.1), "width is -1 mm"),
    ],
)
def test_nonsense_is_refused_with_the_likely_mistake(ask, sentence: str) -> None:
    """The refusal repeats both measures, the limit and what to check."""
    with pytest.raises(ReckoningError, match=sentence):
        ask()
