"""Thread for a garment, from its seams."""

from dataclasses import replace

import pytest

from nesting.errors import ReckoningError
from nesting.reckoning.thread import (
    garment_thread_mm,
    lockstitch_ratio,
    ratio_from_test_seam,
    reels_needed,
    seam_length_mm,
    stitch_ratio,
    thread_mm,
)
from pieces.errors import UnknownNameError
from pieces.pattern import ClothNeed, View
from pieces.piece import Cut
from tests.small_patterns import box, pattern, piece


def test_half_of_every_edge_is_a_seam() -> None:
    """Two boxes of 100 x 200: 600 round each, 1,200 together, and half of that is 600."""
    assert seam_length_mm(pattern(piece("bag", box(100, 200), count=2)), "A", "M") == 600


def test_a_fold_edge_is_not_cut_and_the_half_counts_opened_out() -> None:
    """A half of 100 x 200 on a fold of 200 opens to 200 x 200: 800 round, 400 of seam."""
    assert seam_length_mm(pattern(piece("back", box(100, 200, on_fold=True))), "A", "M") == 400


def test_every_cloth_a_piece_is_cut_from_is_sewn() -> None:
    """Once from shell and twice from lining: 3 x 600, half of it 900."""
    plain = piece("bag", box(100, 200))
    lined = replace(plain, cuts=(Cut("shell", 1), Cut("lining", 2)))
    cloths = (ClothNeed("shell"), ClothNeed("lining"))
    whole = replace(pattern(plain), pieces=(lined,), cloths=cloths)

    assert seam_length_mm(whole, "A", "M") == 900


def test_only_the_pieces_of_the_view_count() -> None:
    """The strap of 20 x 280 is also 600 round, and only view B has it."""
    both = pattern(piece("bag", box(100, 200)), piece("strap", box(20, 280)))
    both = replace(both, views=(View("A", ("bag",)), View("B", ("bag", "strap"))))

    assert seam_length_mm(both, "A", "M") == 300
    assert seam_length_mm(both, "B", "M") == 600
    with pytest.raises(UnknownNameError, match='no size "L"'):
        seam_length_mm(both, "A", "L")


def test_thread_is_seam_times_ratio_and_waste_on_top() -> None:
    """10 m of lockstitch: 25 m, and 15 % more is 28.75 m; zigzag without waste 55 m."""
    assert thread_mm(10_000) == pytest.approx(28_750)
    assert thread_mm(10_000, ratio=stitch_ratio("304"), waste=0) == pytest.approx(55_000)


def test_a_test_seam_gives_the_ratio_of_your_own_machine() -> None:
    """10 cm of seam unpicked into 13 and 12 cm is 2.5, as the table has it for a lockstitch."""
    assert ratio_from_test_seam(100, 130, 120) == stitch_ratio("301") == 2.5


def test_thick_cloth_and_short_stitches_take_more() -> None:
    """2 + 2 x 2 mm / 2.5 mm = 3.6."""
    assert lockstitch_ratio(2.0, 2.5) == pytest.approx(3.6)


def test_neatened_edges_take_zigzag_on_both_sides_of_a_seam() -> None:
    """10 m of seam: 25 m of lockstitch and 2 x 10 x 5.5 = 110 m of zigzag; 15 % more of both."""
    assert garment_thread_mm(10_000) == pytest.approx(1.15 * 135_000)
    assert garment_thread_mm(10_000, neaten_ratio=0.0) == thread_mm(10_000)


def test_interfacing_is_fused_and_has_no_seams() -> None:
    """Only the shell of 600 round is sewn: 300 of seam."""
    plain = piece("collar", box(100, 200))
    both = replace(plain, cuts=(Cut("shell", 1), Cut("interfacing", 1)))
    cloths = (ClothNeed("shell"), ClothNeed("interfacing"))

    assert seam_length_mm(replace(pattern(plain), pieces=(both,), cloths=cloths), "A", "M") == 300


def test_reels_are_whole() -> None:
    """162 m want two reels of 100 m."""
    assert (reels_needed(162_000), reels_needed(100_000), reels_needed(1)) == (2, 1, 1)


@pytest.mark.parametrize(
    ("ask", "sentence"),
    [
        (lambda: stitch_ratio("999"), '"999" has no ratio here; it knows 101, 103, 301, 304'),
        (lambda: ratio_from_test_seam(100), "no thread was measured"),
        (lambda: ratio_from_test_seam(0, 10), "test seam is 0 mm"),
        (lambda: thread_mm(0), "length of seams is 0 mm"),
        (lambda: thread_mm(10, ratio=0.5), "thread over seam is 0.5; it must be from 1 to 30"),
        (lambda: thread_mm(10, waste=1.5), "wasted is 1.5; it must be from 0 to 1"),
        (lambda: lockstitch_ratio(1, 0), "stitch length is 0 mm"),
    ],
)
def test_measures_that_cannot_be_are_refused(ask, sentence: str) -> None:
    """The refusal names the measure, its value and the limit."""
    with pytest.raises(ReckoningError, match=sentence):
        ask()
