"""Between cloth and geometry: a planned stretch as a strip for the engine, and back."""

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np

from nesting.cloth.bolt import Bolt
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.repeat import Axis
from nesting.cloth.spread import Spread, bands_mm, laid_width_mm
from nesting.engine import HeldTo, PhaseGroup, PhaseHold, Strip, StripItem, StripPlacement, strip
from nesting.errors import DoesNotFitError
from nesting.marker.marker import Marker
from nesting.marker.placement import Placement, lying_shape
from nesting.plan.flaw_places import flaw_places
from nesting.plan.lay_plan import ROUNDING_MM, LaidAs, PlannedItem, PlannedStretch
from nesting.plan.matching import MatchGroup, MatchPlan, Pose
from pieces.grainline import Grain
from pieces.measures.widths import format_width
from pieces.outline.polygon import FloatArray
from pieces.outline.simplify import simplify_outward
from pieces.outline.transform import place

SIMPLIFY_MM = 0.2
_FOLDS = {
    (turn_deg, flipped): HeldTo.HIGH_EDGE if turn_deg else HeldTo.LOW_EDGE
    for turn_deg in (0.0, 180.0)
    for flipped in (False, True)
}
"""To which edge a half piece is held: turned by 180 degrees its body lies below its fold edge."""

Settled = Mapping[int, float]


def strip_for(
    stretch: PlannedStretch,
    bolt: Bolt,
    rules: LayRules,
    *,
    matches: MatchPlan | None = None,
    settled: Settled = MappingProxyType({}),
    start_mm: float = 0.0,
) -> Strip:
    """Return the packing problem of one stretch, mm.

    Outlines are simplified outwards by at most 0.2 mm, so a marker is never too short.

    Parameters
    ----------
    stretch
        What is laid.
    bolt, rules
        The cloth and how it is spread.
    matches
        What the repeat asks of each placement; nothing if left out.
    settled
        The phases that earlier stretches gave to match groups, mm.
    start_mm
        Where the stretch begins on the cloth, mm from the cut end of the whole lay.

    Raises
    ------
    DoesNotFitError
        If a piece is wider than the cloth in every way it may lie.
    """
    plan = matches or MatchPlan()
    bands = bands_mm(bolt, stretch.spread)
    band_mm = bands[0][1] - bands[0][0]
    for planned in stretch.items:
        _refuse_too_wide(planned, bolt)
    items = tuple(
        StripItem(
            name=planned.name,
            outline=_grown_outline(planned, band_mm),
            quantity=planned.copies,
            turns_deg=planned.turns_deg,
            flipped_turns_deg=planned.flipped_turns_deg,
            pose_edges=_FOLDS if planned.laid_as is LaidAs.ON_FOLD else {},
            bands=bands,
            holds=_holds(planned, plan, start_mm),
        )
        for planned in stretch.items
    )
    groups = tuple(_phase_group(group, settled.get(group.number)) for group in plan.groups)
    return Strip(
        width=laid_width_mm(bolt, stretch.spread),
        items=items,
        groups=groups,
        regions=_flaw_outlines(bolt, stretch.spread, start_mm),
        gap=rules.gap_mm,
    )


def _holds(
    planned: PlannedItem, plan: MatchPlan, start_mm: float
) -> dict[Pose, tuple[PhaseHold, ...]]:
    """Return what the repeat asks of an item in each pose, in the coordinates of the stretch."""
    return {
        pose: tuple(
            PhaseHold(
                hold.group,
                hold.offset_mm + (start_mm if hold.axis is Axis.ALONG else 0.0),
                hold.sign,
            )
            for hold in holds
        )
        for pose, holds in plan.holds.get(planned.name, {}).items()
    }


def _phase_group(group: MatchGroup, settled_mm: float | None) -> PhaseGroup:
    axis = strip.Axis.ALONG if group.axis is Axis.ALONG else strip.Axis.ACROSS
    phases_mm = group.phases_mm if settled_mm is None else (settled_mm % group.repeat_mm,)
    return PhaseGroup(axis, group.repeat_mm, phases_mm)


def _flaw_outlines(bolt: Bolt, spread: Spread, start_mm: float) -> tuple[FloatArray, ...]:
    """Return the flaws on a stretch as outlines, those that end before it left out."""
    return tuple(
        np.array([(x0, at.y0_mm), (x1, at.y0_mm), (x1, at.y1_mm), (x0, at.y1_mm)])
        for at in flaw_places(bolt, spread)
        for x0, x1 in [(at.x0_mm - start_mm, at.x1_mm - start_mm)]
        if x1 > 0.0
    )


def settled_phases(
    stretch: PlannedStretch, matches: MatchPlan, phases_mm: tuple[float, ...]
) -> dict[int, float]:
    """Return the phase of each match group that a packed stretch has settled, mm."""
    held = {
        hold.group
        for planned in stretch.items
        for holds in matches.holds.get(planned.name, {}).values()
        for hold in holds
    }
    return {number: phases_mm[number] for number in sorted(held)}


def placements_from(
    stretch: PlannedStretch,
    packed: tuple[StripPlacement, ...],
    *,
    number: int,
    start_mm: float,
) -> tuple[Placement, ...]:
    """Return the engine's placements as placements of cut items, numbered from 1 per item."""
    laid = {planned.name: planned for planned in stretch.items}
    count: dict[str, int] = {}
    found = []
    for placement in packed:
        planned = laid[placement.item]
        key = planned.item.key
        count[key] = count.get(key, 0) + 1
        found.append(
            Placement(
                item=key,
                number=count[key],
                stretch=number,
                turn_deg=placement.turn_deg,
                flipped=placement.flipped,
                x_mm=placement.x + start_mm,
                y_mm=placement.y,
                garment=planned.garment,
            )
        )
    return tuple(found)


def reach_mm(stretch: PlannedStretch, placements: tuple[Placement, ...]) -> float:
    """Return how far along the table the true outlines of the placements reach, mm."""
    items = {planned.item.key: planned.item for planned in stretch.items}
    return max(
        float(lying_shape(items[at.item], at, stretch.spread).outline_mm[:, 0].max())
        for at in placements
    )


def _grown_outline(planned: PlannedItem, width_mm: float) -> FloatArray:
    """Return the outline with fewer vertices, unless growing would make it too wide."""
    half = planned.item.half if planned.laid_as is LaidAs.ON_FOLD else None
    fold = None if half is None else half.fold_edge_mm
    grown = simplify_outward(planned.outline_mm, SIMPLIFY_MM, fold_edge_mm=fold)
    if planned.least_width_mm > width_mm - SIMPLIFY_MM:
        return planned.outline_mm
    return grown


def _refuse_too_wide(planned: PlannedItem, bolt: Bolt) -> None:
    """Name the piece, its width, the limit and the ways out, if it cannot lie on the cloth.

    What is too wide for folded cloth is planned for single cloth, so that is what it is held to.
    """
    width_mm, limit_mm = planned.least_width_mm, bolt.usable_width_mm
    if (
        planned.laid_as in (LaidAs.ON_FOLD, LaidAs.BOTH_LAYERS)
        or width_mm <= limit_mm + ROUNDING_MM
    ):
        return

    def words(length_mm: float) -> str:
        return format_width(length_mm, bolt.units)

    limit = f"the usable width is {words(bolt.usable_width_mm)}"
    if bolt.selvage_mm:
        limit += f": {words(bolt.width_mm)} less two selvages of {words(bolt.selvage_mm)}"
    ways = ["choose a wider bolt", "divide the piece by a seam"]
    whole = planned.item.shape.outline_mm
    if planned.item.grain is Grain.LENGTHWISE and np.ptp(whole[:, 0]) <= limit_mm:
        ways.append("turn it crosswise if the cloth permits, by setting its grain in the sheet")
    raise DoesNotFitError(
        f'piece "{planned.item.title}", size {planned.item.size}, needs {words(width_mm)} across '
        f"the cloth; {limit}; {', or '.join(ways)}"
    )


def start_for(
    plan: tuple[PlannedStretch, ...], number: int, known: Marker
) -> tuple[StripPlacement, ...] | None:
    """Return where a known marker puts what one stretch of a plan lays, or None if it lays others.

    Parameters
    ----------
    plan, number
        The plan, and which of its stretches is asked about.
    known
        A marker of the same cut list.
    """
    if [one.spread for one in known.stretches] != [one.spread for one in plan]:
        return None
    start_mm = known.stretches[number].start_mm
    counts = {planned.name: 0 for planned in plan[number].items}
    found = []
    for at in known.placements:
        if at.stretch != number:
            continue
        planned = _planned_for(plan[number], at, counts)
        if planned is None:
            return None
        x_mm, y_mm, turn_deg, flipped = _as_planned(planned, at)
        copy = counts[planned.name]
        counts[planned.name] = copy + 1
        found.append(StripPlacement(planned.name, copy, turn_deg, flipped, x_mm - start_mm, y_mm))
    wanted = {planned.name: planned.copies for planned in plan[number].items}
    return tuple(found) if counts == wanted else None


def _planned_for(
    stretch: PlannedStretch, at: Placement, counts: dict[str, int]
) -> PlannedItem | None:
    """Return what a placement lays: of copies as drawn and turned over, the one that it is.

    A piece that is its own mirror image may stand for the other where that has all its copies.
    """
    mine = [
        planned
        for planned in stretch.items
        if planned.item.key == at.item
        and planned.garment in (0, at.garment)
        and counts[planned.name] < planned.copies
    ]
    wrong_side = LaidAs.AS_DRAWN if at.flipped else LaidAs.TURNED_OVER
    right = [planned for planned in mine if planned.laid_as is not wrong_side]
    return next(iter(right or [planned for planned in mine if planned.item.is_symmetric]), None)


def _as_planned(planned: PlannedItem, at: Placement) -> tuple[float, float, float, bool]:
    """Return x, y, turn and flip of a placement, a symmetric piece brought onto the other side."""
    x_mm, y_mm, turn_deg, flipped = at.x_mm, at.y_mm, at.turn_deg, at.flipped
    other_side = {LaidAs.AS_DRAWN: True, LaidAs.TURNED_OVER: False}
    if other_side.get(planned.laid_as) is not flipped:
        return x_mm, y_mm, turn_deg, flipped
    here = place(planned.outline_mm, turn_deg=turn_deg, flipped=flipped, x=x_mm, y=y_mm)
    turn_deg, flipped = (turn_deg + 180.0) % 360.0, not flipped
    there = place(planned.outline_mm, turn_deg=turn_deg, flipped=flipped, x=0.0, y=0.0)
    x_mm, y_mm = (here.min(axis=0) - there.min(axis=0)).tolist()
    return x_mm, y_mm, turn_deg, flipped
