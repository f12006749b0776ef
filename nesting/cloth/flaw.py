"""Flaws in the cloth: holes, stains and slubs that no piece may be cut from."""

import re
from dataclasses import dataclass

from nesting.errors import BoltError
from pieces.errors import LengthError
from pieces.measures.parse import parse_length_mm

_BETWEEN = re.compile(r"(?<=[^\d\s.,])\s*[,;]\s*")
"""A comma after a unit parts two lengths; one after a digit is a decimal comma."""


@dataclass(frozen=True, kw_only=True)
class Flaw:
    """A rectangle to keep off, measured on the cloth as it lies in the shop, unwashed.

    Parameters
    ----------
    at_mm
        Where it begins along the cloth, from the cut end, at least 0, mm.
    across_mm
        Where it begins across, from the lower edge of the cloth, selvage counted, at least 0, mm.
    long_mm, wide_mm
        Its size along and across, above 0, mm.

    Raises
    ------
    BoltError
        If it begins before the cloth, or has no size.
    """

    at_mm: float
    across_mm: float
    long_mm: float
    wide_mm: float

    def __post_init__(self) -> None:
        """Refuse what is no place on a cloth."""
        for name in ("at_mm", "across_mm"):
            if not 0.0 <= getattr(self, name) < float("inf"):
                raise BoltError(
                    f"flaw outside the cloth: {name} is {getattr(self, name)}, and must be a "
                    "number of at least zero"
                )
        for name in ("long_mm", "wide_mm"):
            if not 0.0 < getattr(self, name) < float("inf"):
                raise BoltError(
                    f"flaw without a size: {name} is {getattr(self, name)}, and must be a number "
                    "above zero"
                )


def parse_flaw(text: str) -> Flaw:
    """Read a flaw written as four lengths: AT,ACROSS,LONG,WIDE.

    Raises
    ------
    LengthError
        If these are not four lengths with their units, or one is out of range.

    Examples
    --------
    >>> parse_flaw("1,4 m, 10cm, 5cm, 25 mm").at_mm
    1400.0
    """
    written = _BETWEEN.split(text.strip())
    if len(written) != 4:
        raise LengthError(
            f'"{text}" is not four lengths with their units; write where it begins along and '
            "across, and how long and wide it is, as in 20in,12in,1in,2in"
        )
    at_mm, across_mm = (parse_length_mm(one, allow_zero=True) for one in written[:2])
    long_mm, wide_mm = (parse_length_mm(one) for one in written[2:])
    return Flaw(at_mm=at_mm, across_mm=across_mm, long_mm=long_mm, wide_mm=wide_mm)
