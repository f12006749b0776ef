"""Stop rules: efforts are work, fitted to the number of pieces; time limits are time."""

import pytest

from nesting.engine.stop import EFFORTS, Effort, StopRule, stop_rule
from nesting.errors import StripError


def test_an_effort_is_the_same_up_to_a_hundred_pieces_and_smaller_beyond() -> None:
    """400 pieces: fills by 4 to the power 1.6, 9.19 times fewer, so 21 of 200; moves stay."""
    effort = Effort(200, 80_000)

    assert effort.for_pieces(7) == effort.for_pieces(100) == effort
    assert effort.for_pieces(400) == Effort(21, 80_000)
    assert effort.for_pieces(100_000).fills == 2


def test_what_is_left_counts_down_to_nothing() -> None:
    """Never below zero, and None where there is no limit."""
    rule = StopRule(Effort(10, 100), None)

    assert (rule.fills_left(4), rule.fills_left(12)) == (6, 0)
    assert (rule.moves_left(40), rule.moves_left(120)) == (60, 0)
    assert StopRule(None, 5.0).fills_left(4) is None
    assert StopRule(None, 5.0).moves_left(4) is None


def test_the_share_of_the_work_rises_to_one() -> None:
    """Filling is a fifth of the work where there is separating to do, and all of it otherwise."""
    both, fills_only = StopRule(Effort(10, 100), None), StopRule(Effort(10, 0), None)

    assert both.share(10, 0) == pytest.approx(0.2)
    assert both.share(10, 50) == pytest.approx(0.6)
    assert both.share(10, 200) == 1.0
    assert fills_only.share(5, 0) == 0.5


def test_only_the_quick_effort_stops_at_filling() -> None:
    """Quick needs no kernels of separation; the others, and a bare time limit, do."""
    assert not stop_rule("quick", None).separates
    assert stop_rule("standard", None).separates
    assert stop_rule(None, 3.0).separates


def test_neither_effort_nor_time_means_standard_effort() -> None:
    """And an unknown word lists the known ones."""
    assert stop_rule(None, None).effort == EFFORTS["standard"]
    with pytest.raises(StripError, match="quick, standard, thorough"):
        stop_rule("enormous", None)
