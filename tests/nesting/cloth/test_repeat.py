"""The repeat: its numbers, and how far two places are off each other on it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.cloth.repeat import Repeat, off_phase_mm
from nesting.errors import BoltError


@pytest.mark.parametrize(
    ("along_mm", "across_mm"),
    [(None, None), (0.0, None), (None, -5.0), (float("nan"), 10.0), (10.0, float("inf"))],
)
def test_a_repeat_of_nothing_is_refused(along_mm: float | None, across_mm: float | None) -> None:
    """At least one length, and each of them above zero."""
    with pytest.raises(BoltError, match="repeat"):
        Repeat(along_mm=along_mm, across_mm=across_mm)


@given(st.floats(-1e4, 1e4), st.integers(-20, 20), st.floats(1.0, 1e3))
def test_whole_repeats_do_not_count(difference: float, repeats: int, repeat_mm: float) -> None:
    """A place and the same place some repeats on are equally far off, at most half a repeat."""
    off_mm = abs(off_phase_mm(difference, repeat_mm))

    assert off_mm <= repeat_mm / 2.0 + 1e-9
    again_mm = abs(off_phase_mm(difference + repeats * repeat_mm, repeat_mm))
    assert again_mm == pytest.approx(off_mm, abs=1e-6)
