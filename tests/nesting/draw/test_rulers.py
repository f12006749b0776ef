"""Rulers: marks where the lengths are."""

from itertools import pairwise

import pytest

from nesting.draw.rulers import ruler_across, ruler_along
from nesting.draw.scene import Text, walk
from nesting.draw.style import Look
from pieces.measures.units import UnitSystem


def marks(group):
    """Return the place of each label."""
    return {act.words: act.at_mm for _, act in walk((group,)) if isinstance(act, Text)}


def test_ruler_along_has_yards_and_metres():
    """1/2 yd stands at 457.2 mm and 50 cm at 500 mm, on opposite sides of the line."""
    found = marks(ruler_along(1100.0, 0.0, Look(15.0), UnitSystem.IMPERIAL))
    assert found["1/2 yd"][0] == pytest.approx(457.2)
    assert found["50 cm"][0] == pytest.approx(500.0)
    assert found["1 m"][0] == pytest.approx(1000.0)
    assert found["1/2 yd"][1] < 0.0 < found["50 cm"][1]


def test_ruler_puts_the_persons_own_units_nearest_the_cloth():
    """For a metric bolt centimetres stand below the line."""
    found = marks(ruler_along(1100.0, 0.0, Look(15.0), UnitSystem.METRIC))
    assert found["50 cm"][1] < 0.0 < found["1/2 yd"][1]


def test_ruler_across_measures_from_the_lower_edge():
    """From an edge at y = -20, 10 in stand at 234 mm and 1 m at 980 mm."""
    look = Look(15.0)
    found = marks(ruler_across(-20.0, 1143.0, 0.0, look=look, units=UnitSystem.IMPERIAL))
    drop = 0.36 * 0.62 * look.unit_mm  # words are centred on their tick
    assert found["10 in"][1] + drop == pytest.approx(254.0 - 20.0)
    assert found["1 m"][1] + drop == pytest.approx(1000.0 - 20.0)


def test_long_rulers_have_fewer_labels():
    """On a marker of 10 m seen at once, labels keep apart."""
    look = Look(60.0)
    group = ruler_along(10_000.0, 0.0, look, UnitSystem.IMPERIAL)
    below = sorted(
        (act.at_mm[0], act.width_mm)
        for _, act in walk((group,))
        if isinstance(act, Text) and act.at_mm[1] < 0.0 and act.words != "0"
    )
    gaps = [b[0] - a[0] - (a[1] + b[1]) / 2.0 for a, b in pairwise(below)]
    assert min(gaps) > 0.0
