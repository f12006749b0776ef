"""The bolt: usable width, shop length and refusals."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.cloth.bolt import EIGHTH_YARD_MM, TEN_CM_MM, Bolt
from nesting.cloth.flaw import Flaw
from nesting.cloth.repeat import Repeat
from nesting.errors import BoltError


def flaw(*, at_mm: float = 10.0, across_mm: float = 10.0) -> Flaw:
    """Return a flaw of 20 by 20 mm."""
    return Flaw(at_mm=at_mm, across_mm=across_mm, long_mm=20.0, wide_mm=20.0)


def test_usable_width_is_width_less_both_selvages() -> None:
    """1143 mm less twice 12.7 mm is 1117.6 mm."""
    assert Bolt(width_mm=1143.0, selvage_mm=12.7).usable_width_mm == pytest.approx(1117.6)


def test_the_shop_length_is_rounded_up_to_the_shops_step() -> None:
    """1079 mm is 9.44 eighths of a yard, so ten: 1143 mm; in steps of 10 cm it is 1.1 m."""
    assert Bolt(width_mm=1000.0).shop_length_mm(1079.0) == pytest.approx(10 * EIGHTH_YARD_MM)
    metric = Bolt(width_mm=1000.0, shop_step_mm=TEN_CM_MM)
    assert metric.shop_length_mm(1079.0) == pytest.approx(1100.0)
    assert metric.shop_length_mm(1100.0) == pytest.approx(1100.0)


def test_washing_takes_of_the_width_between_the_selvages() -> None:
    """1000 mm less twice 25 mm are 950 mm; 2 per cent less are 931 mm."""
    bolt = Bolt(width_mm=1000.0, selvage_mm=25.0, shrink_across=0.02)

    assert bolt.usable_width_mm == pytest.approx(931.0)


def test_the_repeat_shrinks_with_the_cloth() -> None:
    """100 mm along at 3 per cent are 97 mm on the table, 60 mm across at 5 per cent 57 mm."""
    repeat = Repeat(along_mm=100.0, across_mm=60.0, even=False)
    bolt = Bolt(width_mm=1000.0, repeat=repeat, shrink_along=0.03, shrink_across=0.05)

    laid = bolt.laid_repeat

    assert laid is not None
    assert (laid.along_mm, laid.across_mm, laid.even) == pytest.approx((97.0, 57.0, False))
    assert Bolt(width_mm=1000.0).laid_repeat is None


def test_the_cut_length_has_the_end_and_what_washing_takes() -> None:
    """A marker of 1440 mm with 15 mm at the end is 1455 mm; at 3 per cent that is 1500 mm."""
    bolt = Bolt(width_mm=1000.0, shrink_along=0.03, end_allowance_mm=15.0)

    assert bolt.cut_length_mm(1440.0) == pytest.approx(1500.0)


def test_one_repeat_is_added_unless_the_shop_cuts_where_one_chooses() -> None:
    """Nobody can choose where the bolt was cut last: 1000 mm of cloth, and the repeat of 120."""
    usual = Bolt(width_mm=1000.0, repeat=Repeat(along_mm=120.0), shrink_along=0.04)

    assert usual.cut_length_mm(960.0) == pytest.approx(1120.0)
    assert replace(usual, cut_on_repeat=True).cut_length_mm(960.0) == pytest.approx(1000.0)


def test_a_repeat_across_alone_asks_for_no_more_length() -> None:
    """Lengthwise stripes begin at any place along the cloth."""
    striped = Bolt(width_mm=1000.0, repeat=Repeat(across_mm=120.0))

    assert striped.cut_length_mm(960.0) == 960.0


def test_an_exact_shop_sells_what_is_needed() -> None:
    """No step, no rounding."""
    assert Bolt(width_mm=1000.0, shop_step_mm=None).shop_length_mm(1079.3) == 1079.3


def test_the_last_step_ends_where_the_bolt_ends() -> None:
    """Of 1050 mm left, 1010 mm are asked for in steps of 10 cm: all 1050 mm, not 1100.

    What the bolt does not have is rounded as ever; the check says that it is not there.
    """
    bolt = Bolt(width_mm=1000.0, shop_step_mm=TEN_CM_MM, length_left_mm=1050.0)

    assert bolt.shop_length_mm(1010.0) == 1050.0
    assert bolt.shop_length_mm(950.0) == pytest.approx(1000.0)
    assert bolt.shop_length_mm(1060.0) == pytest.approx(1100.0)


@given(st.floats(0.0, 9000.0), st.floats(1.0, 500.0), st.none() | st.floats(1.0, 9000.0))
def test_the_shop_length_is_never_below_the_cut_length(
    length_mm: float, step_mm: float, left_mm: float | None
) -> None:
    """Whatever the step, and whatever is left of the bolt."""
    bolt = Bolt(width_mm=1000.0, shop_step_mm=step_mm, length_left_mm=left_mm)

    assert bolt.shop_length_mm(length_mm) >= length_mm - 1e-6


def test_nap_and_an_uneven_repeat_give_the_cloth_a_direction() -> None:
    """An even repeat does not."""
    assert not Bolt(width_mm=1000.0, repeat=Repeat(along_mm=100.0)).has_direction
    assert Bolt(width_mm=1000.0, repeat=Repeat(along_mm=100.0, even=False)).has_direction
    assert Bolt(width_mm=1000.0, nap=True).has_direction


@pytest.mark.parametrize(
    ("numbers", "message"),
    [
        ({"width_mm": 0.0}, "width"),
        ({"width_mm": float("nan")}, "width"),
        ({"width_mm": 100.0, "selvage_mm": -1.0}, "selvage"),
        ({"width_mm": 100.0, "selvage_mm": 50.0}, "leave nothing"),
        ({"width_mm": 100.0, "shop_step_mm": 0.0}, "step"),
        ({"width_mm": 100.0, "shrink_along": -0.01}, "shrinkage along of -1%"),
        ({"width_mm": 100.0, "shrink_across": 0.5}, "shrinkage across of 50%.*below 50%"),
        ({"width_mm": 100.0, "end_allowance_mm": -1.0}, "end allowance"),
        ({"width_mm": 100.0, "length_left_mm": 0.0}, "length left"),
        ({"width_mm": 100.0, "repeat": Repeat(across_mm=101.0)}, "longer than the usable width"),
        (
            {"width_mm": 100.0, "repeat": Repeat(along_mm=101.0), "length_left_mm": 100.0},
            "longer than the .* left of this bolt",
        ),
        ({"width_mm": 100.0, "flaws": (flaw(across_mm=85.0),)}, "outside the cloth"),
        ({"width_mm": 100.0, "flaws": (flaw(at_mm=90.0),), "length_left_mm": 90.0}, "outside"),
    ],
)
def test_a_bolt_that_cannot_be_is_refused(numbers: dict[str, Any], message: str) -> None:
    """The message says which measure is wrong."""
    with pytest.raises(BoltError, match=message):
        Bolt(**numbers)
