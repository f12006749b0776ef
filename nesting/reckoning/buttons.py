"""Buttons: millimetres, inches and ligne, buttonholes, and how far the edge overlaps.

40 ligne are one inch (*Buttons*, sizes.com; *Calculating Button Sizes*, apparelscience.com). What
the trade sells under a number differs from that by up to 3.5 %, so arithmetic takes the ratio and
:data:`TRADE_MM` says what is in the drawer. The old French ligne of 2.26 mm is another unit.
"""

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType

from nesting.reckoning.limits import need_above_zero, need_not_negative
from pieces.measures.tape import format_tape
from pieces.measures.units import MM_PER_INCH, UnitSystem

LIGNE_PER_INCH = 40.0
MM_PER_LIGNE = MM_PER_INCH / LIGNE_PER_INCH
TRADE_MM: Mapping[int, tuple[float, float]] = MappingProxyType(
    {
        14: (9.2, 9.2),
        16: (10.5, 10.5),
        18: (11.6, 11.6),
        20: (12.5, 12.7),
        22: (14.2, 14.2),
        24: (15.0, 15.0),
        28: (17.8, 17.8),
        30: (19.0, 19.0),
        32: (20.5, 20.5),
        36: (22.9, 22.9),
        40: (25.4, 25.5),
    }
)
"""Diameters sold under each number of ligne, least and most, mm (apparelscience.com;
yourbuttonshop.blogspot.com)."""
_QUARTER_INCH_MM = MM_PER_INCH / 4.0


class ButtonholeRule(StrEnum):
    """How long a buttonhole is made; sources differ by kind of button."""

    FLAT = "flat"
    THICK = "thick"
    BALL = "ball"


class OverlapRule(StrEnum):
    """How far the edge reaches beyond the centre line."""

    THREE_QUARTERS = "three quarters of the diameter"
    HALF_AND_QUARTER_INCH = "half the diameter and a quarter inch"


def ligne_from_mm(diameter_mm: float) -> float:
    """Return a diameter in ligne, by the ratio.

    Raises
    ------
    ReckoningError
        If the diameter is not above zero.

    Examples
    --------
    >>> ligne_from_mm(25.4), ligne_from_mm(12.7)
    (40.0, 20.0)
    """
    need_above_zero("button diameter", diameter_mm)
    return diameter_mm / MM_PER_LIGNE


def mm_from_ligne(ligne: float) -> float:
    """Return a size in ligne as a diameter, by the ratio, mm.

    Raises
    ------
    ReckoningError
        If the size is not above zero.

    Examples
    --------
    >>> mm_from_ligne(40.0)
    25.4
    """
    need_above_zero("button size", ligne, "ligne")
    return ligne * MM_PER_LIGNE


def trade_ligne(diameter_mm: float) -> int:
    """Return the number under which a button is sold: by the ratio, to the nearest number sold.

    Two public charts give 18 for 11 mm, as 11 / 0.635 = 17.3 does; the diameters of
    :data:`TRADE_MM` would say 16, but that table departs from the ratio by up to 3.5 %. Where a
    number of the table is sold with just this diameter, that is its number.

    Raises
    ------
    ReckoningError
        If the diameter is not above zero.

    Examples
    --------
    >>> trade_ligne(15.0), trade_ligne(11.5), trade_ligne(38.1)
    (24, 18, 60)
    """
    need_above_zero("button diameter", diameter_mm)
    smallest, largest = min(TRADE_MM), max(TRADE_MM)
    by_ratio = round(ligne_from_mm(diameter_mm))
    if not smallest - 1 <= by_ratio <= largest + 1:
        return by_ratio
    for ligne, (least_mm, most_mm) in TRADE_MM.items():
        if least_mm <= diameter_mm <= most_mm:
            return ligne
    exact = ligne_from_mm(diameter_mm)
    return min(TRADE_MM, key=lambda ligne: (abs(ligne - exact), -ligne))


def format_button(diameter_mm: float) -> str:
    """Return a button's diameter as millimetres, inches and ligne.

    Raises
    ------
    ReckoningError
        If the diameter is not above zero.

    Examples
    --------
    >>> format_button(15.0)
    '15 mm, 9/16 in, 24 ligne'
    """
    ligne = trade_ligne(diameter_mm)
    inches = format_tape(diameter_mm, UnitSystem.IMPERIAL)
    return f"{diameter_mm:g} mm, {inches}, {ligne} ligne"


def buttonhole_mm(
    diameter_mm: float,
    *,
    rule: ButtonholeRule = ButtonholeRule.FLAT,
    thickness_mm: float = 0.0,
    ease_mm: float = 0.0,
) -> float:
    """Return the length of a buttonhole.

    Sources: flat, diameter and 1/8 in (photo-guide chapter on buttonholes, trantor.is); thick,
    diameter and thickness, some add 3 mm (frkbustad.blogspot.com); ball, one and a quarter
    diameters (*Textiles and Clothing*, K. H. Watson).

    Parameters
    ----------
    diameter_mm
        Across the widest part, mm.
    rule
        Flat by default, since most buttons are; a ball needs more.
    thickness_mm
        Only for ``THICK``, mm.
    ease_mm
        Added to any of them, mm: 0 as two of three sources say, 3 as the third does.

    Raises
    ------
    ReckoningError
        If a measure is out of range.

    Examples
    --------
    >>> buttonhole_mm(20.0, rule=ButtonholeRule.BALL)
    25.0
    """
    need_above_zero("button diameter", diameter_mm)
    need_not_negative("ease", ease_mm)
    match rule:
        case ButtonholeRule.FLAT:
            length_mm = diameter_mm + MM_PER_INCH / 8.0
        case ButtonholeRule.THICK:
            need_above_zero("button thickness", thickness_mm)
            length_mm = diameter_mm + thickness_mm
        case ButtonholeRule.BALL:
            length_mm = 1.25 * diameter_mm
    return length_mm + ease_mm


def overlap_mm(diameter_mm: float, *, rule: OverlapRule = OverlapRule.THREE_QUARTERS) -> float:
    """Return how far the edge must reach beyond the centre line, mm.

    Sources: at least three quarters of the diameter (trantor.is chapter, the default since it is
    a textbook's); half of it and a quarter of an inch (sewing standards list, mysuitshop.com).

    Raises
    ------
    ReckoningError
        If the diameter is not above zero.

    Examples
    --------
    >>> overlap_mm(20.0)
    15.0
    """
    need_above_zero("button diameter", diameter_mm)
    if rule is OverlapRule.THREE_QUARTERS:
        return 0.75 * diameter_mm
    return 0.5 * diameter_mm + _QUARTER_INCH_MM
