"""The look: fills and hatching."""

import numpy as np
import pytest

from nesting.draw.style import INK, fills, hatching
from tests.gallery import SQUARE


def test_each_name_has_its_own_fill():
    """Fourteen names have fourteen fills, in order of first mention."""
    names = [f"piece {number}" for number in range(14)]
    assert len(set(fills(names * 2).values())) == 14


def test_fills_are_pale_enough_for_ink():
    """Every fill has a contrast of at least 4.5 to 1 with the ink (WCAG 2, criterion 1.4.3)."""

    def luminance(colour):
        parts = [int(colour[i : i + 2], 16) / 255.0 for i in (1, 3, 5)]
        linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
        return float(np.dot(linear, (0.2126, 0.7152, 0.0722)))

    ink = luminance(INK)
    for fill in fills(str(number) for number in range(14)).values():
        assert (luminance(fill) + 0.05) / (ink + 0.05) >= 4.5


def test_hatching_lines_have_the_asked_distance():
    """Lines 10 mm apart over 100 mm square: the diagonal of 141.4 mm holds 14."""
    lines = hatching(SQUARE.outline, step_mm=10.0)
    assert len(lines) == 14
    total = sum(float(np.linalg.norm(line[1] - line[0])) for line in lines)
    # lines 10 mm apart over 10,000 mm2 are 1,000 mm long in all, within one line's share
    assert total == pytest.approx(1000.0, rel=0.02)
