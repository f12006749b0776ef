"""Fingerprints: equal values agree, and any change anywhere shows."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest

from nesting.answers.chart.fingerprint import fingerprint
from nesting.cloth.bolt import Bolt
from nesting.cloth.spread import Spread
from pieces.measures.price import parse_price
from tests.small_patterns import TRIANGLE, box


def test_equal_values_agree() -> None:
    """Two shapes of the same points, and two tables of the same entries, are told as one."""
    assert fingerprint(box(35, 70)) == fingerprint(box(35, 70))
    assert fingerprint(MappingProxyType({"a": 1})) == fingerprint({"a": 1})


def test_the_last_digit_counts() -> None:
    """A corner moved by a thousand-millionth of a millimetre is another shape."""
    points = TRIANGLE.outline_mm.copy()
    points[1, 0] += 1e-9

    assert fingerprint(TRIANGLE) != fingerprint(replace(TRIANGLE, outline_mm=points))


@pytest.mark.parametrize(
    "change",
    [
        {"nap": True},
        {"width_mm": 1143.5},
        {"shop_step_mm": None},
        {"price": parse_price("12.50/yd")},
        {"shrink_along": 0.03},
    ],
)
def test_every_field_of_a_bolt_counts(change: dict[str, object]) -> None:
    """A bolt changed in one fact is another bolt."""
    bolt = Bolt(width_mm=1143.0)

    assert fingerprint(bolt) != fingerprint(replace(bolt, **change))


def test_kinds_are_told_apart() -> None:
    """A word, the spread of that name, a list and an array are four things."""
    values = ("open", Spread.OPEN, ["open"], np.array([1.0]), [1.0], None)

    assert len({fingerprint(value) for value in values}) == len(values)


def test_a_value_of_no_known_kind_is_refused() -> None:
    """A fingerprint that left something out would call different things the same."""
    with pytest.raises(TypeError, match="set"):
        fingerprint({1, 2})
