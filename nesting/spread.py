"""How the cloth is spread, and the stretches of one spread that a lay is made of."""

from dataclasses import dataclass
from enum import StrEnum

from nesting.bolt import Bolt


class Spread(StrEnum):
    """The ways of spreading the cloth."""

    OPEN = "open"
    LENGTHWISE = "lengthwise"


LAYERS = {Spread.OPEN: 1, Spread.LENGTHWISE: 2}


@dataclass(frozen=True)
class Stretch:
    """A length of cloth spread one way.

    Parameters
    ----------
    spread
        Open: one layer, right side up. Lengthwise: folded in half along the bolt, right sides
        together, the fold at y = 0.
    start_mm, length_mm
        Where it begins, from the cut end, and how long it is.
    """

    spread: Spread
    start_mm: float
    length_mm: float

    @property
    def end_mm(self) -> float:
        """Where it ends, from the cut end, mm."""
        return self.start_mm + self.length_mm


def laid_width_mm(bolt: Bolt, spread: Spread) -> float:
    """Return the width on which pieces lie: the usable width over the number of layers, mm."""
    return bolt.usable_width_mm / LAYERS[spread]
