"""What each match point of a planned piece demands of the phases of a repeat."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from nesting.cloth.repeat import Axis, GivenUp
from nesting.plan.lay_plan import LaidAs, PlannedItem
from nesting.plan.repeat_phases import SAME_PHASE_MM, Phases
from pieces.grainline import Grain, Point
from pieces.marks import MatchWay, match_way
from pieces.outline.transform import place

_COLUMN = {Axis.ALONG: 0, Axis.ACROSS: 1}
_WAYS = {
    Axis.ALONG: (MatchWay.ALONG, MatchWay.BOTH),
    Axis.ACROSS: (MatchWay.ACROSS, MatchWay.BOTH),
}
_TOP_DEG = {Grain.LENGTHWISE: 0.0, Grain.CROSSWISE: 90.0}
"""Where the arrow of a piece points that lies as drawn and is not turned top to bottom."""
_CROWDED = "it contradicts the points before it; order the points, or match fewer"


@dataclass(frozen=True)
class Tie:
    """One match point of a planned piece, on one axis.

    Parameters
    ----------
    planned
        What is laid.
    point
        Name of the match point.
    at_mm
        Where the point lies from the piece's origin on this axis, in the pose of :func:`_upright`.
    why
        Why it is left out, if it is.
    """

    planned: PlannedItem
    point: str
    at_mm: float
    why: str = _CROWDED

    @property
    def piece(self) -> tuple[str, str]:
        """The phase of the piece's origin."""
        return ("piece", self.planned.name)

    @property
    def has_sides(self) -> bool:
        """Whether the piece is cut for the left or the right, or for each of them."""
        return self.planned.laid_as is not LaidAs.ON_FOLD and self.planned.item.half is None

    def given_up(self, axis: Axis) -> GivenUp:
        """Return the record of a match that is left out."""
        return GivenUp(self.planned.item.key, self.point, axis, self.why)

    def is_fixed(self, axis: Axis) -> bool:
        """Tell whether the piece lies where it lies, whatever the repeat: on the fold."""
        return axis is Axis.ACROSS and self.planned.laid_as is LaidAs.ON_FOLD

    def demand(self, phases: Phases, axis: Axis, *, apart: bool) -> bool:
        """Tie the piece to the points it carries, and tell whether that can be.

        Parameters
        ----------
        phases
            Changed; of no use if the answer is no.
        axis
            Along or across.
        apart
            True if the left and right points of this name need not agree with each other.
        """
        points = [(self.planned.item.grain, self.point, side) for side in self._sides(apart=apart)]
        if not all(phases.tie(point, self.piece, -self.at_mm) for point in points):
            return False
        if axis is Axis.ALONG:
            return True
        if self.planned.laid_as is LaidAs.ON_FOLD:
            return phases.pin(self.piece, 0.0, phases.repeat_mm)
        if self.planned.laid_as is LaidAs.BOTH_LAYERS and not apart:
            return phases.pin(points[0], 0.0, phases.repeat_mm / 2.0)
        return True

    def _sides(self, *, apart: bool) -> tuple[str, ...]:
        if not apart:
            return ("both sides",)
        if not self.has_sides:
            return ("as drawn", "turned over")
        return ("turned over" if self.planned.laid_as is LaidAs.TURNED_OVER else "as drawn",)


def ties_of(planned: PlannedItem, axis: Axis, matching: Mapping[str, MatchWay]) -> Iterator[Tie]:
    """Yield the ties of a piece on one axis, in the order of its match points.

    A piece on the bias or of free grain has none: its stripes run another way. Of a piece that is
    opened out, both images of a point have to lie at one place of the axis.
    """
    if planned.item.grain not in _TOP_DEG:
        return
    for name, places in _wanted(planned, axis, matching).items():
        at_mm = _on_axis(planned, places, axis)
        if at_mm is not None:
            yield Tie(planned, name, at_mm)


def shared_points(
    laid: Sequence[PlannedItem], axis: Axis, matching: Mapping[str, MatchWay]
) -> frozenset[str]:
    """Return the names that two pieces or more carry, both layers counted."""
    pieces: dict[str, int] = {}
    for one in laid:
        layers = 2 if one.laid_as is LaidAs.BOTH_LAYERS else 1
        for name in _wanted(one, axis, matching):
            pieces[name] = pieces.get(name, 0) + layers * one.copies
    return frozenset(name for name, number in pieces.items() if number > 1)


def main_grains(
    laid: Sequence[PlannedItem], axis: Axis, matching: Mapping[str, MatchWay]
) -> dict[str, Grain]:
    """Return for each name the grain of the pieces that are matched: stripes run alike on them.

    Lengthwise if any piece that carries it is so, else that of the first.
    """
    grains: dict[str, list[Grain]] = {}
    for one in laid:
        if one.item.grain in _TOP_DEG:
            for name in _wanted(one, axis, matching):
                grains.setdefault(name, []).append(one.item.grain)
    return {
        name: Grain.LENGTHWISE if Grain.LENGTHWISE in found else found[0]
        for name, found in grains.items()
    }


def dropped_ties(
    laid: Sequence[PlannedItem], axis: Axis, matching: Mapping[str, MatchWay]
) -> list[Tie]:
    """Return the points that are wanted on an axis, meet others there, and cannot be matched.

    The two sides of a piece that is opened out meet each other, whoever else carries the name.
    """
    met = shared_points(laid, axis, matching)
    grains = main_grains(laid, axis, matching)
    lost = []
    for one in laid:
        for name, places in _wanted(one, axis, matching).items():
            if name not in met and len(places) < 2:
                continue
            if one.item.grain not in _TOP_DEG or one.item.grain is not grains[name]:
                why = f"the stripes run another way on a piece of {one.item.grain} grain"
                lost.append(Tie(one, name, 0.0, why))
            elif _on_axis(one, places, axis) is None:
                lost.append(Tie(one, name, 0.0, "left and right of the whole piece differ there"))
    return lost


def sign_of(planned: PlannedItem, pose: tuple[float, bool], axis: Axis) -> int:
    """Return 1 if a pose leaves the piece on this axis as it lies upright, -1 if mirrored."""
    probe = np.eye(2)
    upright, laid = (
        place(probe, turn_deg=turn, flipped=flipped)[:, _COLUMN[axis]]
        for turn, flipped in (_upright(planned), pose)
    )
    return round(float(upright @ laid))


def _upright(planned: PlannedItem) -> tuple[float, bool]:
    """Return the pose in which the top of a piece points the way it does on napped cloth."""
    top_deg = _TOP_DEG[planned.item.grain]
    if planned.laid_as is LaidAs.TURNED_OVER:
        return (-top_deg - 180.0) % 360.0, True
    return (0.0 if planned.laid_as is LaidAs.ON_FOLD else top_deg), False


def _wanted(
    planned: PlannedItem, axis: Axis, matching: Mapping[str, MatchWay]
) -> dict[str, list[Point]]:
    """Return the places of each point that is to be matched on an axis."""
    found: dict[str, list[Point]] = {}
    for mark in planned.shape.match_points:
        if match_way(matching, mark.name) in _WAYS[axis]:
            found.setdefault(mark.name, []).append(mark.at_mm)
    return found


def _on_axis(planned: PlannedItem, places: list[Point], axis: Axis) -> float | None:
    """Return where the images of a point lie on an axis, or None if they do not agree."""
    turn_deg, flipped = _upright(planned)
    lying = place(np.array(places), turn_deg=turn_deg, flipped=flipped)[:, _COLUMN[axis]]
    if planned.laid_as is LaidAs.ON_FOLD and axis is Axis.ACROSS:
        lying = np.concatenate((lying, -lying))  # the under layer, seen from the fold
    return float(lying[0]) if np.ptp(lying) <= SAME_PHASE_MM else None
