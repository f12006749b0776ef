"""Widths as they are printed on the end of a bolt: inches or centimetres, never yards."""

from pieces.errors import LengthError
from pieces.measures.units import MM_PER_INCH, UnitSystem


def format_width(width_mm: float, system: UnitSystem) -> str:
    """Return a width in whole or decimal inches, or in centimetres.

    Raises
    ------
    LengthError
        If the width is negative or not finite.

    Examples
    --------
    >>> format_width(1143.0, UnitSystem.IMPERIAL), format_width(1143.0, UnitSystem.METRIC)
    ('45 in', '114.3 cm')
    """
    if not 0.0 <= width_mm < float("inf"):
        raise LengthError(f"width is {width_mm:g} mm; it must be finite and at least zero")
    imperial = system is UnitSystem.IMPERIAL
    number = width_mm / MM_PER_INCH if imperial else width_mm / 10.0
    written = f"{number:.2f}" if imperial else f"{number:.1f}"
    return f"{written.rstrip('0').rstrip('.')} {'in' if imperial else 'cm'}"


def format_width_both(width_mm: float, system: UnitSystem) -> str:
    """Return a width in the person's system, with the other system beside it.

    Raises
    ------
    LengthError
        If the width is negative or not finite.

    Examples
    --------
    >>> format_width_both(1500.0, UnitSystem.METRIC)
    '150 cm (59.06 in)'
    """
    imperial, metric = UnitSystem.IMPERIAL, UnitSystem.METRIC
    other = metric if system is imperial else imperial
    return f"{format_width(width_mm, system)} ({format_width(width_mm, other)})"
