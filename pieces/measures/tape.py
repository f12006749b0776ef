"""Lengths as read off a tape measure: inches in sixteenths, or centimetres and millimetres."""

from fractions import Fraction

from pieces.errors import LengthError
from pieces.measures.units import MM_PER_INCH, UnitSystem

_SIXTEENTHS = 16


def format_tape(length_mm: float, system: UnitSystem) -> str:
    """Return a length to the nearest mark of a tape measure.

    Parameters
    ----------
    length_mm
        At least zero, mm.
    system
        Inches to the sixteenth, or centimetres to the millimetre.

    Raises
    ------
    LengthError
        If the length is negative or not finite.

    Examples
    --------
    >>> format_tape(60.3, UnitSystem.IMPERIAL), format_tape(60.3, UnitSystem.METRIC)
    ('2 3/8 in', '6.0 cm')
    >>> format_tape(5.0 * 25.4, UnitSystem.IMPERIAL), format_tape(1.6, UnitSystem.IMPERIAL)
    ('5 in', '1/16 in')
    """
    if not 0.0 <= length_mm < float("inf"):
        raise LengthError(f"length is {length_mm:g} mm; it must be finite and at least zero")
    if system is UnitSystem.METRIC:
        return f"{round(length_mm) / 10.0:.1f} cm"
    sixteenths = round(length_mm / MM_PER_INCH * _SIXTEENTHS)
    whole, rest = divmod(sixteenths, _SIXTEENTHS)
    if not rest:
        return f"{whole} in"
    part = str(Fraction(rest, _SIXTEENTHS))
    return f"{whole} {part} in" if whole else f"{part} in"
