"""Shrinkage: what washing takes off the length and the width of a cloth.

A share says how much of a length is lost. It is measured on a swatch, washed as the garment will
be: (before - after) / before, length and width each by itself (AATCC TM135, which gives the change
in per cent). To keep ``need`` after washing, buy ``need / (1 - share)``.
"""

import re

from nesting.errors import BoltError
from pieces.errors import LengthError
from pieces.measures.parse import parse_length_mm

LEAST_LEFT = 0.5
"""Cloth that loses half of its length or more is no cloth for a garment."""

_PERCENT = re.compile(r"(?P<sign>[-\N{MINUS SIGN}]?)\s*(?P<number>\d+(?:[.,]\d+)?)\s*%")
_SWATCH = re.compile(r"(?P<before>.*\S)\s*(?:\bto\b|:)\s*(?P<after>\S.*)")


def check_shrinkage(share: float, way: str) -> None:
    """Refuse a share that is negative, or half or more.

    Raises
    ------
    BoltError
        With the way, along or across, and the limits.
    """
    if not 0.0 <= share < 1.0 - LEAST_LEFT:
        raise BoltError(
            f"shrinkage {way} of {100.0 * share:g}% is out of range; it goes from 0% to below "
            f"{100.0 * (1.0 - LEAST_LEFT):g}%: measure a swatch before and after washing"
        )


def washed_mm(length_mm: float, share: float) -> float:
    """Return what washing leaves of a length, mm.

    Examples
    --------
    >>> washed_mm(1000.0, 0.05)
    950.0
    """
    return length_mm * (1.0 - share)


def unwashed_mm(length_mm: float, share: float) -> float:
    """Return the length before washing that leaves ``length_mm`` after it, mm.

    Examples
    --------
    Three yards at 5 per cent are 3.158 yards, not 3.15:

    >>> round(unwashed_mm(3.0, 0.05), 3)
    3.158
    """
    return length_mm / (1.0 - share)


def swatch_share(before_mm: float, after_mm: float) -> float:
    """Return the share lost by a swatch that measured so much before and after washing.

    Raises
    ------
    LengthError
        If the swatch had no length, or grew.

    Examples
    --------
    >>> swatch_share(200.0, 194.0)
    0.03
    """
    if not before_mm > 0.0 or not 0.0 <= after_mm <= before_mm:
        raise LengthError(
            f"a swatch of {before_mm:g} mm that measures {after_mm:g} mm after washing has not "
            "shrunk; give its measure before washing, then the one after, or 0% for cloth that "
            "grows, since the next wash may take that back"
        )
    return (before_mm - after_mm) / before_mm


def parse_shrinkage(text: str) -> float:
    """Read a shrinkage as a share: ``3%``, or a swatch before and after, ``20cm to 19.4cm``.

    Raises
    ------
    LengthError
        If it is neither, or a swatch that grew. The range is for the bolt to check.

    Examples
    --------
    >>> parse_shrinkage("3%"), parse_shrinkage("20cm to 19cm")
    (0.03, 0.05)
    """
    percent = _PERCENT.fullmatch(text.strip())
    if percent is not None:
        share = float(percent["number"].replace(",", ".")) / 100.0
        return -share if percent["sign"] else share
    swatch = _SWATCH.fullmatch(text.strip())
    if swatch is not None:
        return swatch_share(parse_length_mm(swatch["before"]), parse_length_mm(swatch["after"]))
    raise LengthError(
        f'"{text}" is no shrinkage; write per cent as in 3%, or a swatch before and after '
        "washing as in 20cm to 19.4cm"
    )
