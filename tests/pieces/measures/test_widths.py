"""Widths in inches and centimetres, never yards."""

import pytest

from pieces.errors import LengthError
from pieces.measures.parse import typed_system
from pieces.measures.units import UnitSystem
from pieces.measures.widths import format_width, format_width_both


@pytest.mark.parametrize(
    ("width_mm", "written"),
    [(1143.0, "45 in (114.3 cm)"), (914.4, "36 in (91.4 cm)"), (12.7, "0.5 in (1.3 cm)")],
)
def test_a_yard_wide_cloth_is_36_in(width_mm: float, written: str) -> None:
    """45, 36 and half an inch by 25.4 mm."""
    assert format_width_both(width_mm, UnitSystem.IMPERIAL) == written


def test_whole_tens_keep_their_zero() -> None:
    """150 cm is not 15 cm."""
    assert format_width(1500.0, UnitSystem.METRIC) == "150 cm"
    assert format_width(2540.0, UnitSystem.IMPERIAL) == "100 in"


@pytest.mark.parametrize("width_mm", [-1.0, float("nan"), float("inf")])
def test_no_width_is_refused(width_mm: float) -> None:
    """A width is finite and at least zero."""
    with pytest.raises(LengthError):
        format_width(width_mm, UnitSystem.METRIC)


@pytest.mark.parametrize(
    ("text", "system"),
    [
        ('45"', UnitSystem.IMPERIAL),
        ("1 1/4 yd", UnitSystem.IMPERIAL),
        ("5 feet", UnitSystem.IMPERIAL),
        ("150cm", UnitSystem.METRIC),
        (" 1,5 m ", UnitSystem.METRIC),
    ],
)
def test_the_unit_tells_the_system(text: str, system: UnitSystem) -> None:
    """Inches, feet and yards are imperial, the rest metric."""
    assert typed_system(text) is system


def test_what_is_no_length_has_no_system() -> None:
    """A number without a unit is refused, not guessed."""
    with pytest.raises(LengthError):
        typed_system("45")
