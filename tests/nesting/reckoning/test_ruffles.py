"""Ruffles: strip length and number of strips."""

import pytest

from nesting.errors import ReckoningError
from nesting.reckoning.ruffles import ruffle_strip_mm, strips_needed


def test_start_and_seams_come_on_top_of_the_gathered_length() -> None:
    """400 at 2.5 is 1,000; 50 to start and 25 of seams make 1,075."""
    assert ruffle_strip_mm(400, 2.5, starting_mm=50, seams_mm=25) == 1075


@pytest.mark.parametrize(
    ("total_mm", "strips"), [(900, 1), (1000, 1), (1001, 2), (1970, 2), (1971, 3), (2940, 3)]
)
def test_each_join_takes_its_seams(total_mm: float, strips: int) -> None:
    """Strips of 1,000 joined with 30 of seam: two give 1,970 and three 2,940; one has no join."""
    assert strips_needed(total_mm, 1000, join_mm=30) == strips


@pytest.mark.parametrize(
    ("ask", "sentence"),
    [
        (lambda: ruffle_strip_mm(400, 0.5), "fullness ratio is 0.5; it must be from 1 to 6"),
        (lambda: ruffle_strip_mm(0, 2), "finished length is 0 mm"),
        (lambda: ruffle_strip_mm(400, 2, starting_mm=-1), "start of the ruffle is -1 mm"),
        (lambda: strips_needed(900, 30, join_mm=30), "beside its join is 0 mm"),
    ],
)
def test_measures_that_cannot_be_are_refused(ask, sentence: str) -> None:
    """The refusal names the measure and its value."""
    with pytest.raises(ReckoningError, match=sentence):
        ask()
