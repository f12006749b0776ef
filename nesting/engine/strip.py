"""The packing problem as pure geometry: items with outlines, and a strip of given width.

Any unit serves, the same for all lengths. x runs along the strip, y across it.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

import numpy as np

from nesting.errors import StripError
from pieces.errors import OutlineError
from pieces.outline.polygon import FloatArray, area_mm2, as_outline
from pieces.outline.transform import place_outline


class HeldTo(StrEnum):
    """Where an item may lie across the strip."""

    ANYWHERE = "anywhere"
    LOW_EDGE = "low edge"
    HIGH_EDGE = "high edge"


class Axis(StrEnum):
    """One of the two directions of a strip."""

    ALONG = "along"
    ACROSS = "across"


@dataclass(frozen=True)
class PhaseGroup:
    """Placements that share one phase of something that repeats along or across the strip.

    Parameters
    ----------
    axis
        The direction of the repeat.
    every
        Length of one repeat, above zero.
    phases
        The phases to choose from, each at least 0 and below ``every``; None for any at all.

    Raises
    ------
    StripError
        If a number is out of range.
    """

    axis: Axis
    every: float
    phases: tuple[float, ...] | None = None

    def __post_init__(self) -> None:
        """Refuse a repeat and phases that are impossible."""
        if not 0.0 < self.every < float("inf"):
            raise StripError(f"a repeat of {self.every} is not a number above zero")
        if self.phases is not None and not self.phases:
            raise StripError("a phase group needs at least one phase, or None for any")
        if not all(0.0 <= phase < self.every for phase in self.phases or ()):
            raise StripError(f"phases must be at least 0 and below the repeat of {self.every:g}")


def nearest_phase(group: PhaseGroup, value: float) -> float:
    """Return the phase of ``value``, or of those the group allows the one nearest to it."""
    phase = value % group.every
    if group.phases is None:
        return phase

    def apart(allowed: float) -> float:
        off = (phase - allowed) % group.every
        return min(off, group.every - off)

    return min(group.phases, key=apart)


@dataclass(frozen=True)
class PhaseHold:
    """What a phase group asks of one item in one pose.

    With c the placement's x (or y, for a group across), it is held to
    ``(c + offset - sign * phase) % every == 0``.

    Parameters
    ----------
    group
        Number of the group in :attr:`Strip.groups`.
    offset
        Added to the placement's place.
    sign
        1, or -1 where the phase counts backwards.
    """

    group: int
    offset: float
    sign: int = 1


Holds = Mapping[tuple[float, bool], tuple[PhaseHold, ...]]


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
        :attr:`HeldTo.LOW_EDGE` keeps the lowest point of the outline on y = 0,
        :attr:`HeldTo.HIGH_EDGE` its highest point on the upper edge of the strip.
    pose_edges
        For a pose (turn, flipped), where it is held instead.
    bands
        Bands across the strip, each (lowest y, highest y): the outline must lie within one of
        them. Empty for the whole strip.
    holds
        For a pose (turn, flipped), what phase groups ask of it: at most one along and one across.

    Raises
    ------
    StripError
        If there is no turn, a turn is not finite, the quantity is below 1, a band is not one, or
        the outline is not a simple polygon.
    """

    name: str
    outline: FloatArray
    quantity: int = 1
    turns_deg: tuple[float, ...] = (0.0,)
    flipped_turns_deg: tuple[float, ...] = ()
    held_to: HeldTo = HeldTo.ANYWHERE
    pose_edges: Mapping[tuple[float, bool], HeldTo] = field(default_factory=dict)
    bands: tuple[tuple[float, float], ...] = ()
    holds: Holds = field(default_factory=dict)

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
        for low, high in self.bands:
            if not 0.0 <= low < high < float("inf"):
                raise StripError(
                    f'item "{self.name}": the band from {low:g} to {high:g} is none; give the '
                    "lower end first, at least 0"
                )


@dataclass(frozen=True, eq=False, kw_only=True)
class Strip:
    """A strip of given width and open length, and what is to be laid on it.

    Parameters
    ----------
    width, items
        How wide it is, and what to lay.
    groups
        Phase groups that the items' holds speak of.
    regions
        Outlines that no item may touch, each (n, 2): they may reach beyond the strip.
    fixed
        Copies that already lie somewhere: they stay there.
    gap
        Least distance between any two items and to a region, at least 0; none to the edges.

    Raises
    ------
    StripError
        If the width is not above zero, or there is no item, or two items share a name, or a hold,
        a region, a fixed copy or the gap is out of range.
    """

    width: float
    items: tuple[StripItem, ...]
    groups: tuple[PhaseGroup, ...] = ()
    regions: tuple[FloatArray, ...] = ()
    fixed: tuple["StripPlacement", ...] = ()
    gap: float = 0.0

    def __post_init__(self) -> None:
        """Refuse a strip on which nothing can be laid."""
        object.__setattr__(self, "items", tuple(self.items))
        if not 0.0 < self.width < float("inf"):
            raise StripError(f"strip width {self.width} is not a number above zero")
        names = [item.name for item in self.items]
        if not names:
            raise StripError("the strip has no items; give at least one")
        if len(set(names)) < len(names):
            raise StripError("two items of the strip share a name; names must differ")
        if not 0.0 <= self.gap < float("inf"):
            raise StripError(f"gap {self.gap} is not a number of at least zero")
        try:
            object.__setattr__(self, "regions", tuple(as_outline(r) for r in self.regions))
        except OutlineError as problem:
            raise StripError(f"a region to avoid: {problem}") from problem
        self._check_holds()
        self._check_fixed()

    def _check_holds(self) -> None:
        for item in self.items:
            for pose, holds in item.holds.items():
                if any(not 0 <= hold.group < len(self.groups) for hold in holds):
                    raise StripError(f'item "{item.name}" is held to a group that is not there')
                axes = [self.groups[hold.group].axis for hold in holds]
                if len(set(axes)) < len(axes):
                    raise StripError(f'item "{item.name}", pose {pose}: two holds on one axis')

    def _check_fixed(self) -> None:
        copies = {(item.name, copy) for item in self.items for copy in range(item.quantity)}
        for placement in self.fixed:
            if (placement.item, placement.copy) not in copies:
                raise StripError(f'fixed copy {placement.copy} of "{placement.item}" is not there')
            copies.remove((placement.item, placement.copy))
        if not copies:
            raise StripError("every copy is fixed; leave at least one to lay")

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
