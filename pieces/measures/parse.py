"""Lengths as people write them, read into mm: ``45in``, ``2 3/8 yd``, ``1.4 m``."""

import re
import unicodedata
from fractions import Fraction

from pieces.errors import LengthError
from pieces.measures.units import MM_PER, UnitSystem, unit_of

LONGEST_MM = 1e7
"""Ten kilometres: no bolt is longer, so more is a slip."""

_LENGTH = re.compile(
    r"(?P<sign>[-+\N{MINUS SIGN}]?)\s*(?P<number>\d[\d\s./,-]*|[.,]\d+)(?P<unit>\D*)"
)
_WHOLE_AND_FRACTION = re.compile(r"(?:(\d+)(?:\s+|\s*-\s*))?(\d+)\s*/\s*(\d+)")
_DECIMAL = re.compile(r"\d*[.,]?\d+|\d+[.,]")


def parse_length_mm(text: str, *, allow_zero: bool = False) -> float:
    """Read a length written with its unit.

    Parameters
    ----------
    text
        A number and a unit: mm, cm, m, in (or ``"``), ft (or ``'``) or yd, in short or in
        words. The number is a decimal, with a point or a comma, or shop fractions such as
        ``2 3/8``, ``2-3/8`` or ``2⅜``.
    allow_zero
        True where nothing at all is a sensible answer, as for a selvage.

    Returns
    -------
    float
        Length, mm.

    Raises
    ------
    LengthError
        If the text is no length, has no unit or an unknown one, or the length is negative,
        zero where that is not allowed, or above 10 km.

    Examples
    --------
    >>> parse_length_mm("45in"), parse_length_mm("2 3/8 yd"), parse_length_mm("1.4 m")
    (1143.0, 2171.7, 1400.0)
    """
    if not isinstance(text, str):
        raise LengthError(f'{text!r} is not text; write a length with its unit, such as "45in"')
    text = refuse_too_long(text)
    match = _LENGTH.fullmatch(plain(text))
    if match is None:
        raise LengthError(f'cannot read the length "{text}"; write it like 45in, 2 3/8 yd or 1.4 m')
    unit = unit_of(match["unit"], text)
    if match["sign"] not in ("", "+"):
        raise LengthError(f'length "{text}" is below zero; give one of at least zero')
    length = _number(match["number"].strip(), text) * MM_PER[unit]
    if length == 0 and not allow_zero:
        raise LengthError(f'length "{text}" is zero; give one above zero')
    if length > LONGEST_MM:
        raise LengthError(f'length "{text}" is above 10 km; check the number and its unit')
    return float(length)


def typed_system(text: str) -> UnitSystem:
    """Return the system a length is typed in: inches, feet and yards are imperial.

    Raises
    ------
    LengthError
        If :func:`parse_length_mm` refuses the text.

    Examples
    --------
    >>> typed_system("45in").value, typed_system("1.4 m").value
    ('imperial', 'metric')
    """
    parse_length_mm(text, allow_zero=True)
    match = _LENGTH.fullmatch(plain(text.strip()))
    unit = "mm" if match is None else unit_of(match["unit"], text)
    return UnitSystem.IMPERIAL if unit in ("in", "ft", "yd") else UnitSystem.METRIC


def plain(text: str) -> str:
    """Write vulgar fractions as `` 3/8`` and unusual spaces as spaces."""
    written = []
    for letter in text:
        if unicodedata.category(letter) == "No" and "FRACTION" in unicodedata.name(letter, ""):
            spelled = unicodedata.normalize("NFKC", letter)
            written.append(f" {spelled}")
        else:
            written.append(letter)
    return " ".join("".join(written).replace("\N{FRACTION SLASH}", "/").split())


def refuse_too_long(text: str) -> str:
    """Refuse what nobody would write, before it is read and repeated in a sentence."""
    if len(text) > 60:
        raise LengthError(f"a length or price of {len(text)} letters is too long; keep to 60")
    return text.strip()


def _number(written: str, text: str) -> Fraction:
    if not written.isascii():
        raise LengthError(f'cannot read the number in "{text}"; write it with the digits 0 to 9')
    fraction = _WHOLE_AND_FRACTION.fullmatch(written)
    if fraction is not None:
        whole, top, bottom = (int(group or 0) for group in fraction.groups())
        if bottom == 0:
            raise LengthError(f'"{text}" divides by zero; write a fraction such as 3/8')
        return whole + Fraction(top, bottom)
    if _DECIMAL.fullmatch(written) is None:
        raise LengthError(
            f'cannot read the number "{written}" in "{text}"; write it like 1.4, 1,4 or 2 3/8'
        )
    if re.fullmatch(r"[1-9]\d{0,2},\d{3}", written):
        plain = written.replace(",", "")
        raise LengthError(
            f'"{text}" can be read in two ways; write {plain} or {written.replace(",", ".")}'
        )
    return Fraction(written.replace(",", ".").rstrip("."))
