"""Phases tied to each other: groups, pins, and demands that contradict."""

import pytest

from nesting.plan.repeat_phases import Phases


def test_ties_join_groups_and_keep_distances() -> None:
    """With b 30 beyond a and d 10 beyond c, and c 25 beyond b, d is 65 beyond a."""
    phases = Phases(100.0)
    phases.tie("a", "b", 30.0)
    phases.tie("c", "d", 10.0)

    assert phases.place("a")[0] != phases.place("c")[0]
    assert phases.tie("b", "c", 25.0)
    assert phases.place("a")[0] == phases.place("d")[0]
    assert phases.place("d")[1] - phases.place("a")[1] == pytest.approx(65.0)


def test_a_contradiction_changes_nothing() -> None:
    """The first demand stands."""
    phases = Phases(100.0)
    phases.tie("a", "b", 30.0)

    assert not phases.tie("a", "b", 31.0)
    assert phases.tie("a", "b", 130.4)
    assert phases.place("b")[1] - phases.place("a")[1] == pytest.approx(30.0)


def test_a_free_phase_may_be_anything_and_a_pinned_one_may_not() -> None:
    """Pinned to 0 or half a repeat, and 30 beyond it: 30 or 80."""
    phases = Phases(100.0)
    phases.tie("a", "b", 30.0)
    assert phases.allowed_mm("b") is None

    assert phases.pin("a", 0.0, 50.0)

    assert phases.allowed_mm("a") == pytest.approx((0.0, 50.0))
    assert phases.allowed_mm("b") == pytest.approx((30.0, 80.0))


def test_a_whole_pin_settles_what_half_a_pin_leaves_open() -> None:
    """0 or 50, and 50 for certain: 50. A pin at 25 contradicts both."""
    phases = Phases(100.0)

    assert phases.pin("a", 0.0, 50.0)
    assert phases.pin("a", 50.0, 100.0)
    assert phases.allowed_mm("a") == pytest.approx((50.0,))
    assert not phases.pin("a", 25.0, 50.0)


def test_pinned_groups_join_only_where_their_pins_agree() -> None:
    """With a at 0 or 50 and b at 0 or 50, they can be 50 apart and not 20."""
    phases = Phases(100.0)
    phases.pin("a", 0.0, 50.0)
    phases.pin("b", 0.0, 50.0)

    assert not phases.tie("a", "b", 20.0)
    assert phases.tie("a", "b", 50.0)


def test_a_copy_can_be_tried_on() -> None:
    """What is tied in the copy is free in the original."""
    phases = Phases(100.0)
    phases.copy().tie("a", "b", 30.0)

    assert phases.place("a")[0] != phases.place("b")[0]
