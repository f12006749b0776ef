"""Lengths as they are told: in the person's units, with the other units beside them."""

import math
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal
from fractions import Fraction

from pieces.errors import LengthError
from pieces.measures.units import MM_PER_INCH, MM_PER_YARD, UnitSystem


def format_yards(length_mm: float, *, up: bool = False) -> str:
    """Return yards in eighths when the length is a multiple of 1/8 yd, otherwise inches.

    Parameters
    ----------
    length_mm
        Length, at least 0, mm. Within 1e-6 yd of an eighth counts as that eighth.

    Raises
    ------
    LengthError
        If the length is negative or not finite.

    Examples
    --------
    >>> format_yards(2171.7), format_yards(914.4), format_yards(342.9), format_yards(1500.0)
    ('2 3/8 yd', '1 yd', '3/8 yd', '59.06 in')
    """
    refuse_unreal(length_mm)
    eighths = length_mm / MM_PER_YARD * 8.0
    if abs(eighths - round(eighths)) > 8e-6:
        return f"{_short(length_mm / MM_PER_INCH, 2, up=up)} in"
    whole, rest = divmod(round(eighths), 8)
    if rest == 0:
        return f"{whole} yd"
    fraction = str(Fraction(rest, 8))
    return f"{whole} {fraction} yd" if whole else f"{fraction} yd"


def format_metric(length_mm: float, *, up: bool = False) -> str:
    """Return metres from 1 m up, centimetres from 2 cm up, and millimetres below.

    Raises
    ------
    LengthError
        If the length is negative or not finite.

    Examples
    --------
    >>> format_metric(1400.0), format_metric(85.0), format_metric(850.0), format_metric(9.5)
    ('1.40 m', '8.5 cm', '85 cm', '9.5 mm')
    """
    refuse_unreal(length_mm)
    if round(length_mm, 1) >= 1000.0:
        return f"{_exactly(length_mm / 1000.0, 2, up=up)} m"
    if round(length_mm, 1) >= 20.0:
        return f"{_short(length_mm / 10.0, 1, up=up)} cm"
    return f"{_short(length_mm, 1, up=up)} mm"


def format_length(length_mm: float, system: UnitSystem, *, up: bool = False) -> str:
    """Return the length in one system: :func:`format_yards` or :func:`format_metric`.

    Raises
    ------
    LengthError
        If the length is negative or not finite.

    Examples
    --------
    >>> format_length(1400.0, UnitSystem.METRIC)
    '1.40 m'
    """
    told = format_yards if system is UnitSystem.IMPERIAL else format_metric
    return told(length_mm, up=up)


def format_both(length_mm: float, system: UnitSystem, *, up: bool = False) -> str:
    """Return the length in the person's system, with the other system beside it.

    Parameters
    ----------
    length_mm
        At least 0, mm.
    system
        The person's own.
    up
        True for what is to be bought: no decimal that is left out may be missing on the cloth, in
        neither system.

    Raises
    ------
    LengthError
        If the length is negative or not finite.

    Examples
    --------
    >>> format_both(2171.7, UnitSystem.IMPERIAL), format_both(1143.0, UnitSystem.IMPERIAL, up=True)
    ('2 3/8 yd (2.17 m)', '1 1/4 yd (1.15 m)')
    """
    first, second = format_yards(length_mm, up=up), format_metric(length_mm, up=up)
    if system is UnitSystem.METRIC:
        first, second = second, first
    return f"{first} ({second})"


def refuse_unreal(length_mm: float) -> None:
    """Refuse a length that no cloth has.

    Raises
    ------
    LengthError
        If it is negative or not finite.
    """
    if not 0 <= length_mm < math.inf:
        raise LengthError(f"length is {length_mm:g} mm; it must be finite and at least zero")


def _exactly(number: float, places: int, *, up: bool) -> str:
    """Round half up, or up, on the decimals a person sees, not on the binary dust below them."""
    step = Decimal(1).scaleb(-places)
    rounding = ROUND_CEILING if up else ROUND_HALF_UP
    return f"{Decimal(repr(round(number, 9))).quantize(step, rounding=rounding):f}"


def _short(number: float, places: int, *, up: bool) -> str:
    written = _exactly(number, places, up=up)
    return written.rstrip("0").rstrip(".") if "." in written else written
