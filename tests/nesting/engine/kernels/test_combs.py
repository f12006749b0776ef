"""Places on a comb: the nearest tooth within a range, and what rounding may do to its ends."""

import math

import pytest

from nesting.engine.kernels.bundles import Comb
from nesting.engine.kernels.combs import first_tooth, nearest_tooth


@pytest.mark.parametrize(
    ("value", "first", "every", "expected"),
    [
        (7.0, 0.0, 0.0, 7.0),  # no comb: the value itself
        (25.0, 0.0, 0.0, 20.0),  # brought into the range
        (7.0, 2.0, 4.0, 6.0),
        (19.0, 2.0, 4.0, 18.0),  # 22 would be beyond the end
        (0.5, 3.9999999, 4.0, 0.0),  # the tooth at -0.0000001 lies at the end but for rounding
        (20.0, 4.0000001, 4.0, 20.0),
    ],
)
def test_the_nearest_tooth_within_0_and_20(
    value: float, first: float, every: float, expected: float
) -> None:
    """Teeth at first, first + every and so on; a place at an end is not lost to rounding."""
    assert nearest_tooth(value, 0.0, 20.0, first, every) == pytest.approx(expected, abs=1e-6)
    assert 0.0 <= nearest_tooth(value, 0.0, 20.0, first, every) <= 20.0


def test_no_tooth_in_the_range() -> None:
    """A range between two teeth has no place, nor has one that ends before it begins."""
    assert math.isnan(nearest_tooth(1.0, 1.0, 3.0, 0.0, 5.0))
    assert math.isnan(nearest_tooth(1.0, 3.0, 1.0, 0.0, 0.0))


def test_the_first_tooth_from_a_place_on() -> None:
    """From 5 on, teeth at 2, 6, 10 begin at 6; one a rounding before the place counts as there."""
    assert first_tooth(5.0, Comb(2.0, 4.0)) == 6.0
    assert first_tooth(6.0000001, Comb(2.0, 4.0)) == 6.0000001
