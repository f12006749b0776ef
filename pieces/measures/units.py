"""Units of length: what each is in mm, and what people call it."""

from enum import StrEnum
from fractions import Fraction

from pieces.errors import LengthError

MM_PER_INCH = 25.4
MM_PER_YARD = 914.4

_UNIT_WORDS = {
    "mm": "mm millimetre millimetres millimeter millimeters",
    "cm": "cm centimetre centimetres centimeter centimeters",
    "m": "m metre metres meter meters",
    "in": "in inch inches \" \N{DOUBLE PRIME} \N{RIGHT DOUBLE QUOTATION MARK} ''",
    "ft": "ft foot feet ' \N{PRIME} \N{RIGHT SINGLE QUOTATION MARK}",
    "yd": "yd yds yard yards",
}
MM_PER = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
    "ft": Fraction(3048, 10),
    "yd": Fraction(9144, 10),
}
_UNIT_OF = {word: unit for unit, words in _UNIT_WORDS.items() for word in words.split()}
UNIT_LIST = "mm, cm, m, in, ft or yd"


class UnitSystem(StrEnum):
    """The units a person reads first."""

    IMPERIAL = "imperial"
    METRIC = "metric"


def unit_of(word: str, text: str) -> str:
    """Return the short name of a unit of length.

    Parameters
    ----------
    word
        The unit as it was written.
    text
        All that was written, for the sentence.

    Raises
    ------
    LengthError
        If there is none, or it is unknown.
    """
    word = word.strip().lower().removesuffix(".")
    if not word:
        raise LengthError(f'"{text}" has no unit; add {UNIT_LIST}')
    if word not in _UNIT_OF:
        raise LengthError(f'"{text}" has the unknown unit "{word}"; use {UNIT_LIST}')
    return _UNIT_OF[word]
