"""The packing problem as pure geometry: items with outlines, and a strip of given width.

Any unit serves, the same for all lengths. x runs along the strip, y across it.
"""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from nesting.errors import StripError
from pieces.errors import OutlineError
from pieces.polygon import FloatArray, area_mm2, as_outline
from pieces.transform import place_outline


class HeldTo(StrEnum):
    """Where an item may lie across the strip."""

    ANYWHERE = "anywhere"
    LOW_EDGE = "low edge"


@dataclass(frozen=True, eq=False, kw_only=True)
class StripItem:
    """An outline to be laid ``quantity`` times.

    Parameters
    ----------
    name
        For messages and placements; unique within a strip.
    outline
        Vertices, shape (n, 2), simple.
    quantity
        Copies to lay, at least 1.
    turns_deg
        Turns in which the outline may lie as drawn, degrees anticlockwise.
    flipped_turns_deg
        Turns in which it may lie flipped (x becomes -x before turning).
    held_to
        :attr:`HeldTo.LOW_EDGE` keeps the lowest point of the outline on y = 0.

    Raises
    ------
    StripError
        If there is no turn, a turn is not finite, the quantity is below 1, or the outline is not
        a simple polygon.
    """

    name: str
    outline: FloatArray
    quantity: int = 1
    turns_deg: tuple[float, ...] = (0.0,)
    flipped_turns_deg: tuple[float, ...] = ()
    held_to: HeldTo = HeldTo.ANYWHERE

    def __post_init__(self) -> None:
        """Check the numbers and bring the outline into the agreed form."""
        try:
            object.__setattr__(self, "outline", as_outline(self.outline))
        except OutlineError as problem:
            raise StripError(f'item "{self.name}": {problem}') from problem
        if self.quantity < 1:
            raise StripError(f'item "{self.name}": quantity {self.quantity} is below 1')
        turns = (*self.turns_deg, *self.flipped_turns_deg)
        if not turns or not np.isfinite(turns).all():
            raise StripError(f'item "{self.name}": needs at least one turn, each a finite number')


@dataclass(frozen=True, eq=False, kw_only=True)
class Strip:
    """A strip of given width and open length, and what is to be laid on it.

    Raises
    ------
    StripError
        If the width is not above zero, or there is no item, or two items share a name.
    """

    width: float
    items: tuple[StripItem, ...]

    def __post_init__(self) -> None:
        """Refuse a strip that is no problem at all."""
        object.__setattr__(self, "items", tuple(self.items))
        if not 0.0 < self.width < float("inf"):
            raise StripError(f"strip width {self.width} is not a number above zero")
        names = [item.name for item in self.items]
        if not names:
            raise StripError("the strip has no items; give at least one")
        if len(set(names)) < len(names):
            raise StripError("two items of the strip share a name; names must differ")

    @property
    def area(self) -> float:
        """Total area of all copies of all items, square units."""
        return sum(area_mm2(item.outline) * item.quantity for item in self.items)


@dataclass(frozen=True)
class StripPlacement:
    """Where one copy of an item lies.

    The outline is flipped if ``flipped`` (x becomes -x), turned about the origin by ``turn_deg``,
    then moved by (``x``, ``y``). ``copy`` counts from 0.
    """

    item: str
    copy: int
    turn_deg: float
    flipped: bool
    x: float
    y: float


def placed_outline(item: StripItem, placement: StripPlacement) -> FloatArray:
    """Return the outline of ``item`` where ``placement`` puts it, shape (n, 2)."""
    return place_outline(
        item.outline,
        turn_deg=placement.turn_deg,
        flipped=placement.flipped,
        x=placement.x,
        y=placement.y,
    )
