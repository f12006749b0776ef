"""Units against the 1959 agreement, and the shop's table of eighths."""

import pytest

from pieces.measures.format import format_yards
from pieces.measures.parse import parse_length_mm
from pieces.measures.units import MM_PER_INCH, MM_PER_YARD


def test_the_yard_and_the_inch_of_1959() -> None:
    """One yard is 0.9144 m exactly and an inch is its 36th part.

    Source: international yard and pound agreement, 1 July 1959 (Federal Register 1959; Weights and
    Measures Act 1963).
    """
    assert MM_PER_YARD == 914.4
    assert MM_PER_INCH == 25.4
    assert parse_length_mm("1 yd") == parse_length_mm("36 in") == parse_length_mm("3 ft") == 914.4


@pytest.mark.parametrize(
    ("eighths", "inches"),
    [(1, 4.5), (2, 9), (3, 13.5), (4, 18), (5, 22.5), (6, 27), (7, 31.5)],
)
def test_eighths_of_a_yard_in_inches(eighths: int, inches: float) -> None:
    """1/8 yd is 4 1/2 in, and so on in equal steps to 7/8 yd.

    Source: eighth-yard table printed with a fabric conversion chart, hookedonsewing.com.
    """
    length_mm = parse_length_mm(f"{eighths}/8 yd")

    assert length_mm == pytest.approx(parse_length_mm(f"{inches} in"), abs=1e-9)
    assert parse_length_mm(format_yards(length_mm)) == pytest.approx(length_mm, abs=1e-9)
