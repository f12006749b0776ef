"""Where the flaws of a bolt lie on the table: washed, without selvages, folded or open."""

from dataclasses import dataclass
from typing import assert_never

from nesting.cloth.bolt import Bolt
from nesting.cloth.shrinkage import washed_mm
from nesting.cloth.spread import Spread


@dataclass(frozen=True)
class FlawPlace:
    """A rectangle to keep off, in the coordinates of the marker, mm.

    Parameters
    ----------
    number
        Counts the flaws of the bolt from 1, in the order they were told.
    x0_mm, y0_mm, x1_mm, y1_mm
        Lower left and upper right corner: x from the cut end of the whole lay, y from the lower
        edge of the cloth that pieces may lie on (the selvage's inner edge, or the fold).
    """

    number: int
    x0_mm: float
    y0_mm: float
    x1_mm: float
    y1_mm: float


def flaw_places(bolt: Bolt, spread: Spread) -> tuple[FlawPlace, ...]:
    """Return the flaws as rectangles on cloth spread one way, those in the selvages left out.

    On a fold along the cloth a flaw of either layer shows, since both are cut together: on a
    lengthwise fold the lower half of the cloth lies mirrored under the upper one; on a double fold
    the outer quarters lie mirrored on the inner ones, and a flaw across a fold gives two places.
    Where the cloth is halved along, a flaw is told where it lies on open cloth.

    Examples
    --------
    A flaw 50 mm from the lower edge of 1000 mm of cloth is 450 mm from the fold:

    >>> from nesting.cloth.flaw import Flaw
    >>> flaw = Flaw(at_mm=200.0, across_mm=30.0, long_mm=10.0, wide_mm=20.0)
    >>> [place] = flaw_places(Bolt(width_mm=1000.0, flaws=(flaw,)), Spread.LENGTHWISE)
    >>> (place.x0_mm, place.x1_mm), (place.y0_mm, place.y1_mm)
    ((200.0, 210.0), (450.0, 470.0))
    """
    middle_mm = bolt.usable_width_mm / 2.0
    places = []
    for number, flaw in enumerate(bolt.flaws, start=1):
        x0, x1 = (washed_mm(x, bolt.shrink_along) for x in (flaw.at_mm, flaw.at_mm + flaw.long_mm))
        y0, y1 = (
            min(max(washed_mm(y - bolt.selvage_mm, bolt.shrink_across), 0.0), 2.0 * middle_mm)
            for y in (flaw.across_mm, flaw.across_mm + flaw.wide_mm)
        )
        if y1 <= y0:
            continue
        places += [
            FlawPlace(number, x0, low, x1, high)
            for low, high in _on_table(y0, y1, middle_mm, spread=spread)
        ]
    return tuple(places)


def _on_table(
    low_mm: float, high_mm: float, middle_mm: float, *, spread: Spread
) -> list[tuple[float, float]]:
    """Return from where to where a flaw reaches across the table."""
    match spread:
        case Spread.OPEN | Spread.CROSSWISE | Spread.TURNED | Spread.BEST:
            return [(low_mm, high_mm)]
        case Spread.LENGTHWISE:
            near, far = sorted((abs(low_mm - middle_mm), abs(high_mm - middle_mm)))
            return [(0.0 if low_mm < middle_mm < high_mm else near, far)]
        case Spread.DOUBLE:
            fold_mm = middle_mm / 2.0
            parts = [
                (fold_mm - min(high_mm, fold_mm), fold_mm - low_mm),
                (max(low_mm, fold_mm) - fold_mm, min(high_mm, 3.0 * fold_mm) - fold_mm),
                (5.0 * fold_mm - high_mm, 5.0 * fold_mm - max(low_mm, 3.0 * fold_mm)),
            ]
            return [(low, high) for low, high in parts if low < high]
        case _:
            assert_never(spread)
