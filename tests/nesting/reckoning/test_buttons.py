"""Buttons: one size in three units, and what goes with it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.errors import ReckoningError
from nesting.reckoning.buttons import (
    TRADE_MM,
    ButtonholeRule,
    OverlapRule,
    buttonhole_mm,
    format_button,
    ligne_from_mm,
    mm_from_ligne,
    overlap_mm,
    trade_ligne,
)


@given(st.floats(1.0, 200.0))
def test_ligne_and_millimetres_are_each_other_s_way_back(diameter_mm: float) -> None:
    """There and back is the same size."""
    assert mm_from_ligne(ligne_from_mm(diameter_mm)) == pytest.approx(diameter_mm)


@pytest.mark.parametrize("ligne", TRADE_MM)
def test_a_button_of_the_drawer_has_its_own_number(ligne: int) -> None:
    """Both ends of the range sold under a number are told by that number."""
    assert [trade_ligne(diameter_mm) for diameter_mm in TRADE_MM[ligne]] == [ligne, ligne]


def test_the_trade_departs_from_the_ratio_by_less_than_four_per_cent() -> None:
    """The table is what is sold; the ratio is what is reckoned with."""
    for ligne, ends_mm in TRADE_MM.items():
        for diameter_mm in ends_mm:
            assert diameter_mm == pytest.approx(mm_from_ligne(ligne), rel=0.04)


@pytest.mark.parametrize(("diameter_mm", "ligne"), [(5.0, 8), (38.1, 60)])
def test_beyond_the_table_the_ratio_holds(diameter_mm: float, ligne: int) -> None:
    """5 / 0.635 = 7.9, and 38.1 / 0.635 = 60 exactly."""
    assert trade_ligne(diameter_mm) == ligne


def test_a_button_is_told_in_all_three_units() -> None:
    """11 mm is nearest to 7/16 in, and 11 / 0.635 = 17.3 is nearer to 18 ligne than to 16."""
    assert format_button(11.0) == "11 mm, 7/16 in, 18 ligne"


def test_buttonhole_rules_differ_by_kind_of_button() -> None:
    """20 mm: 23.175 flat (1/8 in more), 24 with 4 mm of thickness, 25 for a ball; ease on top."""
    assert buttonhole_mm(20) == pytest.approx(23.175)
    assert buttonhole_mm(20, rule=ButtonholeRule.THICK, thickness_mm=4) == 24
    assert buttonhole_mm(20, rule=ButtonholeRule.BALL) == 25
    assert buttonhole_mm(20, rule=ButtonholeRule.BALL, ease_mm=3) == 28


def test_overlap_rules_differ_and_meet_at_one_inch() -> None:
    """3/4 d = d/2 + 1/4 in where d is 1 in: 19.05 mm. At 20 mm they give 15 and 16.35."""
    assert [overlap_mm(25.4, rule=rule) for rule in OverlapRule] == pytest.approx([19.05, 19.05])
    assert overlap_mm(20) == 15
    assert overlap_mm(20, rule=OverlapRule.HALF_AND_QUARTER_INCH) == pytest.approx(16.35)


@pytest.mark.parametrize(
    ("ask", "sentence"),
    [
        (lambda: trade_ligne(0), "button diameter is 0 mm"),
        (lambda: mm_from_ligne(-24), "button size is -24 ligne"),
        (lambda: buttonhole_mm(20, rule=ButtonholeRule.THICK), "button thickness is 0 mm"),
        (lambda: buttonhole_mm(20, ease_mm=-1), "ease is -1 mm"),
    ],
)
def test_measures_that_cannot_be_are_refused(ask, sentence: str) -> None:
    """The refusal names the measure and its value."""
    with pytest.raises(ReckoningError, match=sentence):
        ask()
