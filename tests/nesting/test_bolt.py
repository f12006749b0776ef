"""The bolt: usable width, shop length and refusals."""

import pytest

from nesting.bolt import EIGHTH_YARD_MM, TEN_CM_MM, Bolt
from nesting.errors import BoltError


def test_usable_width_is_width_less_both_selvages() -> None:
    """1143 mm less twice 12.7 mm is 1117.6 mm."""
    assert Bolt(width_mm=1143.0, selvage_mm=12.7).usable_width_mm == pytest.approx(1117.6)


def test_the_shop_length_is_rounded_up_to_the_shops_step() -> None:
    """1079 mm is 9.44 eighths of a yard, so ten: 1143 mm; in steps of 10 cm it is 1.1 m."""
    assert Bolt(width_mm=1000.0).shop_length_mm(1079.0) == pytest.approx(10 * EIGHTH_YARD_MM)
    metric = Bolt(width_mm=1000.0, shop_step_mm=TEN_CM_MM)
    assert metric.shop_length_mm(1079.0) == pytest.approx(1100.0)
    assert metric.shop_length_mm(1100.0) == pytest.approx(1100.0)


@pytest.mark.parametrize(
    ("numbers", "message"),
    [
        ({"width_mm": 0.0}, "width"),
        ({"width_mm": float("nan")}, "width"),
        ({"width_mm": 100.0, "selvage_mm": -1.0}, "selvage"),
        ({"width_mm": 100.0, "selvage_mm": 50.0}, "leave nothing"),
        ({"width_mm": 100.0, "shop_step_mm": 0.0}, "step"),
    ],
)
def test_a_bolt_that_cannot_be_is_refused(numbers: dict[str, float], message: str) -> None:
    """The message says which measure is wrong."""
    with pytest.raises(BoltError, match=message):
        Bolt(**numbers)  # type: ignore[arg-type]
