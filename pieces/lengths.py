"""Lengths and prices as people write them: the only module that knows inches and yards."""

import math
import re
import unicodedata
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum
from fractions import Fraction

from pieces.errors import LengthError

MM_PER_INCH = 25.4
MM_PER_YARD = 914.4
LONGEST_MM = 1e7
"""Ten kilometres: no bolt is longer, so more is a slip."""

_UNIT_WORDS = {
    "mm": "mm millimetre millimetres millimeter millimeters",
    "cm": "cm centimetre centimetres centimeter centimeters",
    "m": "m metre metres meter meters",
    "in": "in inch inches \" \N{DOUBLE PRIME} \N{RIGHT DOUBLE QUOTATION MARK} ''",
    "ft": "ft foot feet ' \N{PRIME} \N{RIGHT SINGLE QUOTATION MARK}",
    "yd": "yd yds yard yards",
}
_MM_PER = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
    "ft": Fraction(3048, 10),
    "yd": Fraction(9144, 10),
}
_UNIT_OF = {word: unit for unit, words in _UNIT_WORDS.items() for word in words.split()}
_UNIT_LIST = "mm, cm, m, in, ft or yd"

_LENGTH = re.compile(
    r"(?P<sign>[-+\N{MINUS SIGN}]?)\s*(?P<number>\d[\d\s./,-]*|[.,]\d+)(?P<unit>\D*)"
)
_WHOLE_AND_FRACTION = re.compile(r"(?:(\d+)(?:\s+|\s*-\s*))?(\d+)\s*/\s*(\d+)")
_DECIMAL = re.compile(r"\d*[.,]?\d+|\d+[.,]")
_PRICE = re.compile(
    r"(?P<before>[^\d\s.,/-]{0,3})\s*(?P<amount>\d+(?:\.\d{1,4}|,\d{1,2})?)\s*(?P<after>[^\d\s.,/-]{0,3})"
    r"\s*(?:/|\bper\b)\s*(?P<unit>\S+)"
)


class UnitSystem(StrEnum):
    """The units a person reads first."""

    IMPERIAL = "imperial"
    METRIC = "metric"


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
    text = _printable(text)
    match = _LENGTH.fullmatch(_plain(text))
    if match is None:
        raise LengthError(f'cannot read the length "{text}"; write it like 45in, 2 3/8 yd or 1.4 m')
    unit = _unit_of(match["unit"], text)
    if match["sign"] not in ("", "+"):
        raise LengthError(f'length "{text}" is below zero; give one of at least zero')
    length = _number(match["number"].strip(), text) * _MM_PER[unit]
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
    match = _LENGTH.fullmatch(_plain(text.strip()))
    unit = "mm" if match is None else _unit_of(match["unit"], text)
    return UnitSystem.IMPERIAL if unit in ("in", "ft", "yd") else UnitSystem.METRIC


def format_yards(length_mm: float) -> str:
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
    _check_printable(length_mm)
    eighths = length_mm / MM_PER_YARD * 8.0
    if abs(eighths - round(eighths)) > 8e-6:
        return f"{_short(length_mm / MM_PER_INCH, 2)} in"
    whole, rest = divmod(round(eighths), 8)
    if rest == 0:
        return f"{whole} yd"
    fraction = str(Fraction(rest, 8))
    return f"{whole} {fraction} yd" if whole else f"{fraction} yd"


def format_metric(length_mm: float) -> str:
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
    _check_printable(length_mm)
    if round(length_mm, 1) >= 1000.0:
        return f"{_exactly(length_mm / 1000.0, 2)} m"
    if round(length_mm, 1) >= 20.0:
        return f"{_short(length_mm / 10.0, 1)} cm"
    return f"{_short(length_mm, 1)} mm"


def format_length(length_mm: float, system: UnitSystem) -> str:
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
    return format_yards(length_mm) if system is UnitSystem.IMPERIAL else format_metric(length_mm)


def format_both(length_mm: float, system: UnitSystem) -> str:
    """Return the length in the person's system, with the other system beside it.

    Raises
    ------
    LengthError
        If the length is negative or not finite.

    Examples
    --------
    >>> format_both(2171.7, UnitSystem.IMPERIAL)
    '2 3/8 yd (2.17 m)'
    """
    first, second = format_yards(length_mm), format_metric(length_mm)
    if system is UnitSystem.METRIC:
        first, second = second, first
    return f"{first} ({second})"


def round_up_to_step_mm(length_mm: float, step_mm: float) -> float:
    """Return the shortest multiple of the shop's cutting step that holds the length.

    Parameters
    ----------
    length_mm
        Length that is needed, at least 0, mm.
    step_mm
        Cutting step, above 0, mm.

    Returns
    -------
    float
        A multiple of the step, mm, at least the length. A length less than 1e-6 mm above a
        multiple counts as that multiple: this much is left behind by adding decimals.

    Raises
    ------
    LengthError
        If the length is negative, the step is not above zero or a thousand-millionth of the
        length, or one is not finite.

    Examples
    --------
    >>> round_up_to_step_mm(1401.0, 100.0), round_up_to_step_mm(1400.0, 100.0)
    (1500.0, 1400.0)
    """
    _check_printable(length_mm)
    if not 0 < step_mm < math.inf:
        raise LengthError(f"cutting step is {step_mm:g} mm; it must be above zero")
    if length_mm / step_mm > 1e9:
        raise LengthError(f"cutting step of {step_mm:g} mm is too small for {length_mm:g} mm")
    steps = math.ceil(length_mm / step_mm)
    while steps > 0 and (steps - 1) * step_mm >= length_mm - 1e-6:
        steps -= 1
    while steps * step_mm < length_mm - 1e-6:
        steps += 1
    return steps * step_mm


@dataclass(frozen=True)
class Price:
    """Money for a length of cloth.

    Parameters
    ----------
    currency
        Symbol or short word as it was written; may be empty.
    amount
        Money for one unit of length, at least 0.
    per
        The unit of length: mm, cm, m, in, ft or yd.

    Raises
    ------
    LengthError
        If the amount is negative or not finite, or the unit is unknown.
    """

    currency: str
    amount: Decimal
    per: str

    def __post_init__(self) -> None:
        """Refuse amounts and units that cannot be used to work out a cost."""
        if not (self.amount.is_finite() and self.amount >= 0):
            raise LengthError(f"price is {self.amount}; it must be a number of at least zero")
        if self.per not in _MM_PER:
            raise LengthError(f'price per "{self.per}" is not known; the unit is {_UNIT_LIST}')

    def cost(self, length_mm: float) -> Decimal:
        """Return the money for a length in mm, rounded half up to hundredths.

        Raises
        ------
        LengthError
            If the length is negative or not finite.

        Examples
        --------
        >>> parse_price("12.50/yd").cost(2171.7)
        Decimal('29.69')
        """
        _check_printable(length_mm)
        units = Fraction(str(length_mm)) / _MM_PER[self.per]  # exact: 2171.7 mm is 2 3/8 yd
        hundredths = Fraction(self.amount) * units * 100
        return (Decimal(math.floor(hundredths + Fraction(1, 2))) / 100).quantize(Decimal("0.01"))

    def __str__(self) -> str:
        """Return the price as written on a tag, such as ``€ 9.90/m``."""
        cents = Decimal("0.01")
        whole = self.amount.quantize(cents, rounding=ROUND_HALF_UP)
        amount = whole if whole == self.amount else self.amount
        return f"{self.currency} {amount}/{self.per}".strip()


def parse_price(text: str) -> Price:
    """Read a price for a length, such as ``12.50/yd``, ``€ 9.90/m`` or ``£12 per yard``.

    Raises
    ------
    LengthError
        If the text is no price, or the unit of length is missing or unknown.

    Examples
    --------
    >>> str(parse_price("£12/yd"))
    '£ 12.00/yd'
    """
    if not isinstance(text, str):
        raise LengthError(f'{text!r} is not text; write a price like "12.50/yd"')
    text = _printable(text)
    match = _PRICE.fullmatch(_plain(text))
    if match is None:
        raise LengthError(
            f'cannot read the price "{text}"; write money for a length, like 12.50/yd or € 9/m'
        )
    if match["before"] and match["after"]:
        raise LengthError(f'price "{text}" names a currency twice; keep one of them')
    amount = Decimal(match["amount"].replace(",", "."))
    return Price(match["before"] or match["after"], amount, _unit_of(match["unit"], text))


def _plain(text: str) -> str:
    """Write vulgar fractions as `` 3/8`` and unusual spaces as spaces."""
    written = []
    for letter in text:
        if unicodedata.category(letter) == "No" and "FRACTION" in unicodedata.name(letter, ""):
            spelled = unicodedata.normalize("NFKC", letter)
            written.append(f" {spelled}")
        else:
            written.append(letter)
    return " ".join("".join(written).replace("\N{FRACTION SLASH}", "/").split())


def _printable(text: str) -> str:
    """Refuse what nobody would write, before it is read and repeated in a sentence."""
    if len(text) > 60:
        raise LengthError(f"a length or price of {len(text)} letters is too long; keep to 60")
    return text.strip()


def _unit_of(word: str, text: str) -> str:
    word = word.strip().lower().removesuffix(".")
    if not word:
        raise LengthError(f'"{text}" has no unit; add {_UNIT_LIST}')
    if word not in _UNIT_OF:
        raise LengthError(f'"{text}" has the unknown unit "{word}"; use {_UNIT_LIST}')
    return _UNIT_OF[word]


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


def _check_printable(length_mm: float) -> None:
    if not 0 <= length_mm < math.inf:
        raise LengthError(f"length is {length_mm:g} mm; it must be finite and at least zero")


def _exactly(number: float, places: int) -> str:
    """Round half up on the decimals a person sees, not on the binary dust below them."""
    step = Decimal(1).scaleb(-places)
    return f"{Decimal(repr(round(number, 9))).quantize(step, rounding=ROUND_HALF_UP):f}"


def _short(number: float, places: int) -> str:
    written = _exactly(number, places)
    return written.rstrip("0").rstrip(".") if "." in written else written
