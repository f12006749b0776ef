"""Panels of patterned cloth, and the rules of thumb for extra cloth."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.errors import ReckoningError
from nesting.reckoning import panels
from nesting.reckoning.panels import Plaid
from pieces.measures.units import MM_PER_INCH, MM_PER_YARD

lengths = st.floats(1.0, 1e4)


@given(lengths, lengths)
def test_a_matched_cut_holds_the_panel_and_wastes_less_than_a_repeat(
    cut_mm: float, repeat_mm: float
) -> None:
    """Whole repeats, at least the cut, and no repeat too many."""
    matched_mm = panels.matched_cut_mm(cut_mm, repeat_mm)

    assert matched_mm >= cut_mm - 1e-6 * repeat_mm
    assert matched_mm - cut_mm < repeat_mm or matched_mm == repeat_mm
    assert matched_mm / repeat_mm == pytest.approx(round(matched_mm / repeat_mm))


def test_an_exact_multiple_needs_no_further_repeat() -> None:
    """0.9 m is three times 0.3 m, whatever binary fractions say."""
    assert panels.matched_cut_mm(0.9, 0.3) == pytest.approx(0.9)


def test_extra_repeats_are_ordered_once_and_not_for_each_panel() -> None:
    """Three panels of 1,000 on a repeat of 300: 3 x 1,200, and 300 or nothing on top."""
    assert panels.panels_length_mm(1000, 300, 3) == 3900
    assert panels.panels_length_mm(1000, 300, 3, extra_repeats=0) == 3600


@given(lengths, lengths, st.integers(1, 20))
def test_the_lazy_way_is_never_too_short(cut_mm: float, repeat_mm: float, count: int) -> None:
    """A repeat on every panel covers what matching needs without the extra one."""
    matched_mm = panels.panels_length_mm(cut_mm, repeat_mm, count, extra_repeats=0)

    assert panels.lazy_panels_length_mm(cut_mm, repeat_mm, count) >= matched_mm - 1e-6


def test_half_drop_costs_nothing_where_the_waste_holds_half_a_repeat() -> None:
    """Repeat 300: a cut of 1,050 leaves 150, just half a repeat; one of 1,060 leaves 140."""
    assert panels.half_drop_extra_mm(1050, 300) == 0
    assert panels.half_drop_extra_mm(1060, 300) == 150
    assert panels.half_drop_extra_mm(1060, 300, extra_repeats=1.0) == 300


def test_upholstery_bands_count_their_upper_limit_in() -> None:
    """14 in is still 10 %, 15 in 15 %; 27.5 in lies between two bands and counts as the upper."""
    shares = [
        panels.upholstery_extra_share(inches * MM_PER_INCH, 0.0)
        for inches in (0, 3, 14, 15, 19, 27, 27.5, 36, 45, 46, 54)
    ]

    assert shares == [0.0, 0.1, 0.1, 0.15, 0.15, 0.2, 0.25, 0.25, 0.3, 0.35, 0.35]
    assert panels.upholstery_extra_share(100.0, 100.0, narrow=True) == 0.2


def test_the_rules_of_thumb_disagree_and_each_can_be_asked() -> None:
    """Half a yard, a quarter for a small plaid, one repeat, or one for each stacked piece."""
    assert panels.half_yard_extra_mm() == MM_PER_YARD / 2
    assert panels.half_yard_extra_mm(Plaid.SMALL_EVEN) == MM_PER_YARD / 4
    assert panels.half_yard_extra_mm(Plaid.LARGE) == panels.half_yard_extra_mm(Plaid.UNEVEN)
    assert panels.one_repeat_extra_mm(150) == 150
    assert panels.stacked_extra_mm(150, 3) == 450


@pytest.mark.parametrize(
    ("ask", "sentence"),
    [
        (lambda: panels.matched_cut_mm(1000, 0), "repeat is 0 mm; it must be above zero"),
        (lambda: panels.matched_cut_mm(float("nan"), 300), "cut length is nan mm"),
        (lambda: panels.panels_length_mm(1000, 300, 0), "number of panels is 0"),
        (
            lambda: panels.panels_length_mm(1000, 300, 1, extra_repeats=-1),
            "extra repeats is -1; it must be at least zero",
        ),
        (
            lambda: panels.half_drop_extra_mm(1000, 300, extra_repeats=0.25),
            "half drop is 0.25; it must be from 0.5 to 2",
        ),
        (lambda: panels.stacked_extra_mm(150, 0), "number of stacked pieces is 0"),
        (lambda: panels.upholstery_extra_share(1500, 0), "inches is 59.0551; .* from 0 to 54"),
        (lambda: panels.upholstery_extra_share(-1, 0), "repeat along is -1 mm"),
        (lambda: panels.with_extra_mm(100, -0.1), "extra share is -0.1"),
        (lambda: panels.widths_needed(3000, float("inf")), "width of the cloth is inf mm"),
    ],
)
def test_measures_that_cannot_be_are_refused(ask, sentence: str) -> None:
    """The refusal names the measure, its value and the limit."""
    with pytest.raises(ReckoningError, match=sentence):
        ask()
