"""Lengths of cloth as people write them."""

import pytest

from pieces.errors import LengthError
from pieces.measures.remnants import Remnant, parse_remnant
from pieces.measures.units import UnitSystem


@pytest.mark.parametrize(
    ("text", "length_mm", "width_mm", "units"),
    [
        ("2 1/2 yd x 54in", 2286.0, 1371.6, UnitSystem.IMPERIAL),  # 2.5 x 914.4; 54 x 25.4
        ("1.4m x 150cm", 1400.0, 1500.0, UnitSystem.METRIC),
        ("1,4 m \N{MULTIPLICATION SIGN} 1500 mm", 1400.0, 1500.0, UnitSystem.METRIC),
        ("60in X 45in", 1524.0, 1143.0, UnitSystem.IMPERIAL),
        ("2 yards by 1 yard", 1828.8, 914.4, UnitSystem.IMPERIAL),
        ("1 m x 45 in", 1000.0, 1143.0, UnitSystem.METRIC),
    ],
)
def test_length_then_width(text: str, length_mm: float, width_mm: float, units: UnitSystem) -> None:
    """The length stands first, and its units are those of the cloth."""
    assert parse_remnant(text) == Remnant(pytest.approx(length_mm), pytest.approx(width_mm), units)


@pytest.mark.parametrize(
    "text",
    ["", "x", "2yd", "2yd x", "x 54in", "2yd x 54in x 3in", "2 x 54in", "2yd x 54", "0yd x 54in",
     "2yd x 0in", "-2yd x 54in", "two yards x 54in", "2yd, 54in", "x" * 500],
)  # fmt: skip
def test_what_cannot_be_read_is_refused(text: str) -> None:
    """One sentence, never longer than a line or two."""
    with pytest.raises(LengthError) as refused:
        parse_remnant(text)

    assert len(str(refused.value)) < 200
