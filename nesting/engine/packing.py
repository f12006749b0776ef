"""What a search hands back: the packing found, and how it was found."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from nesting.engine.strip import StripPlacement


class StoppedBy(StrEnum):
    """Why a search ended."""

    EFFORT = "effort"
    SECONDS = "seconds"
    REQUEST = "request"
    PROVEN_BEST = "proven best"


@dataclass(frozen=True)
class Progress:
    """How far a search has come: its best length so far.

    Parameters
    ----------
    seconds
        Wall-clock time since the search began.
    fills, moves
        Orders tried so far, and moves made in separating.
    share
        How much of the search is over, from 0 to 1: of its fills, or of its time if that is more.
    length
        Shortest length found so far, in the strip's unit.
    density
        Total area over width times that length.
    """

    seconds: float
    fills: int
    moves: int
    share: float
    length: float
    density: float


ProgressCallback = Callable[[Progress], bool | None]


@dataclass(frozen=True)
class Packing:
    """A packing of every copy of every item of a strip.

    Parameters
    ----------
    length
        Length of strip used.
    density
        Total area over width times length.
    placements
        One for each copy, in the order of the items.
    phases
        Phase of each phase group of the strip.
    fills, moves
        How many orders were tried, and how many moves were made in separating.
    stopped_by
        Why the search ended; only :attr:`StoppedBy.SECONDS` and :attr:`StoppedBy.REQUEST` make
        the result depend on the machine's speed.
    seconds
        Wall-clock time of the search.
    history
        Every improvement, from the first packing to the best.
    """

    length: float
    density: float
    placements: tuple[StripPlacement, ...]
    phases: tuple[float, ...]
    fills: int
    moves: int
    stopped_by: StoppedBy
    seconds: float
    history: tuple[Progress, ...]
