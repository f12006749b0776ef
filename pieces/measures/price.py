"""Prices of cloth: money for a unit of length."""

import math
import re
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from pieces.errors import LengthError
from pieces.measures.format import refuse_unreal
from pieces.measures.parse import plain, refuse_too_long
from pieces.measures.units import MM_PER, UNIT_LIST, unit_of

_PRICE = re.compile(
    r"(?P<before>[^\d\s.,/-]{0,3})\s*(?P<amount>\d+(?:\.\d{1,4}|,\d{1,2})?)\s*(?P<after>[^\d\s.,/-]{0,3})"
    r"\s*(?:/|\bper\b)\s*(?P<unit>\S+)"
)


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
        if self.per not in MM_PER:
            raise LengthError(f'price per "{self.per}" is not known; the unit is {UNIT_LIST}')

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
        refuse_unreal(length_mm)
        units = Fraction(str(length_mm)) / MM_PER[self.per]  # exact: 2171.7 mm is 2 3/8 yd
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
    text = refuse_too_long(text)
    match = _PRICE.fullmatch(plain(text))
    if match is None:
        raise LengthError(
            f'cannot read the price "{text}"; write money for a length, like 12.50/yd or € 9/m'
        )
    if match["before"] and match["after"]:
        raise LengthError(f'price "{text}" names a currency twice; keep one of them')
    amount = Decimal(match["amount"].replace(",", "."))
    return Price(match["before"] or match["after"], amount, unit_of(match["unit"], text))
