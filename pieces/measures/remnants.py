"""A length of cloth that is owned already, as people write it: ``2 1/2 yd x 54in``."""

import re
from dataclasses import dataclass

from pieces.errors import LengthError
from pieces.measures.parse import parse_length_mm, typed_system
from pieces.measures.units import UnitSystem

_BETWEEN = re.compile(r"\s*(?:[xX\N{MULTIPLICATION SIGN}]|\bby\b)\s*")


@dataclass(frozen=True)
class Remnant:
    """A length of cloth.

    Parameters
    ----------
    length_mm
        Along the selvage, mm.
    width_mm
        From edge to edge, mm.
    units
        The system in which its length is written.
    """

    length_mm: float
    width_mm: float
    units: UnitSystem


def parse_remnant(text: str) -> Remnant:
    """Read a length and a width with ``x`` or ``by`` between them, the length first.

    Raises
    ------
    LengthError
        If there are not two lengths, or one of them cannot be read.

    Examples
    --------
    >>> parse_remnant("2 1/2 yd x 54in").length_mm
    2286.0
    >>> parse_remnant("1.4 m by 150cm").width_mm
    1500.0
    """
    parts = _BETWEEN.split(text.strip())
    if len(parts) != 2 or not all(parts):
        raise LengthError(
            f'cannot read the cloth "{text[:60]}"; write its length, then its width, '
            "like 2 1/2 yd x 54in"
        )
    length, width = parts
    return Remnant(parse_length_mm(length), parse_length_mm(width), typed_system(length))
