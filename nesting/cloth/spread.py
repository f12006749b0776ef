"""How the cloth is spread, and the stretches of one spread that a lay is made of.

In the middle of a double fold the usable edges of both sides meet; what selvage there is laps over
them. A fold reverses the layer that is turned over: a fold along the cloth from side to side, a
fold across it end for end. Cut across and turned (``TURNED``), the under layer faces the upper
one and its nap runs the same way.
"""

from dataclasses import dataclass
from enum import StrEnum

from nesting.cloth.bolt import Bolt
from nesting.errors import LayError
from nesting.languages import marked


class Spread(StrEnum):
    """The ways of spreading the cloth, and ``BEST`` for whichever of them takes least."""

    OPEN = "open"
    LENGTHWISE = "lengthwise"
    CROSSWISE = "crosswise"
    TURNED = "turned"
    DOUBLE = "double"
    BEST = "best"


LAYERS = {
    Spread.OPEN: 1,
    Spread.LENGTHWISE: 2,
    Spread.CROSSWISE: 2,
    Spread.TURNED: 2,
    Spread.DOUBLE: 2,
}
"""Layers that are cut at once."""
HALVED_ACROSS = frozenset((Spread.LENGTHWISE, Spread.DOUBLE))
"""Spreads whose table is half as wide as the cloth, with a fold along it."""
HALVED_ALONG = frozenset((Spread.CROSSWISE, Spread.TURNED))
"""Spreads whose table is half as long as the cloth they take."""
SPREAD_WORDS = {
    Spread.OPEN: marked("laid open"),
    Spread.LENGTHWISE: marked("folded lengthwise"),
    Spread.CROSSWISE: marked("folded crosswise"),
    Spread.TURNED: marked("cut across and turned"),
    Spread.DOUBLE: marked("folded double"),
    Spread.BEST: marked("spread the best way"),
}


@dataclass(frozen=True)
class Stretch:
    """A length of cloth spread one way.

    Parameters
    ----------
    spread
        Open: one layer, right side up. All others have two layers, right sides together.
        Lengthwise: folded in half along the bolt, the fold at y = 0. Double: both selvages to the
        middle, folds at y = 0 and at the upper edge. Crosswise: folded in half across the bolt,
        the cut ends together at the start. Turned: cut in half across the bolt, and the second
        half turned end for end before it is laid on the first.
    start_mm, length_mm
        Where it begins, from the cut end, and how much cloth it takes.

    Raises
    ------
    LayError
        If the spread is ``BEST``, which is a question and no way to lie.
    """

    spread: Spread
    start_mm: float
    length_mm: float

    def __post_init__(self) -> None:
        """Refuse a stretch that lies no way at all."""
        if self.spread is Spread.BEST:
            raise LayError('a stretch of cloth cannot be spread "best"; name the way it lies')

    @property
    def end_mm(self) -> float:
        """Where it ends, from the cut end, mm."""
        return self.start_mm + self.length_mm

    @property
    def table_mm(self) -> float:
        """How much of a table it takes, mm: half of its cloth where that is halved along."""
        return self.length_mm / (2.0 if self.spread in HALVED_ALONG else 1.0)


def laid_width_mm(bolt: Bolt, spread: Spread) -> float:
    """Return the width on which pieces lie, mm: half the usable width on a fold along the cloth."""
    return bolt.usable_width_mm / (2.0 if spread in HALVED_ACROSS else 1.0)


def bands_mm(bolt: Bolt, spread: Spread) -> tuple[tuple[float, float], ...]:
    """Return the bands across the table within one of which each piece lies, mm.

    On a double fold no piece may cross the middle, where the selvages meet.

    Examples
    --------
    >>> bands_mm(Bolt(width_mm=1000.0), Spread.DOUBLE)
    ((0.0, 250.0), (250.0, 500.0))
    """
    width_mm = laid_width_mm(bolt, spread)
    if spread is Spread.DOUBLE:
        return (0.0, width_mm / 2.0), (width_mm / 2.0, width_mm)
    return ((0.0, width_mm),)
