"""Between cloth and geometry: a planned stretch as a strip for the engine, and back."""

import numpy as np

from nesting.bolt import Bolt
from nesting.engine import HeldTo, Strip, StripItem, StripPlacement
from nesting.errors import DoesNotFitError
from nesting.lay_plan import Lies, PlannedItem, PlannedStretch
from nesting.lay_rules import LayRules
from nesting.placement import Placement, lying_shape
from nesting.spread import Spread, laid_width_mm
from pieces.grainline import Grain
from pieces.polygon import FloatArray
from pieces.simplify import simplify_outward
from pieces.transform import turn
from pieces.widths import format_width

SIMPLIFY_MM = 0.2
_ROUNDING_MM = 1e-6


def strip_for(stretch: PlannedStretch, bolt: Bolt, rules: LayRules) -> Strip:
    """Return the packing problem of one stretch, mm.

    Outlines are simplified outwards by at most 0.2 mm, so a marker is never too short.

    Raises
    ------
    DoesNotFitError
        If a piece is wider than the cloth in every way it may lie.
    """
    width_mm = laid_width_mm(bolt, stretch.spread)
    for planned in stretch.items:
        _refuse_too_wide(planned, stretch.spread, bolt, rules)
    items = tuple(
        StripItem(
            name=_name(planned),
            outline=_grown_outline(planned, bolt, rules, width_mm),
            quantity=planned.copies,
            turns_deg=planned.turns_deg(bolt, rules),
            flipped_turns_deg=planned.flipped_turns_deg(bolt, rules),
            held_to=HeldTo.LOW_EDGE if planned.lies is Lies.ON_FOLD else HeldTo.ANYWHERE,
        )
        for planned in stretch.items
    )
    return Strip(width=width_mm, items=items)


def placements_from(
    stretch: PlannedStretch,
    packed: tuple[StripPlacement, ...],
    *,
    number: int,
    start_mm: float,
) -> tuple[Placement, ...]:
    """Return the engine's placements as placements of cut items, numbered from 1 per item."""
    keys = {_name(planned): planned.item.key for planned in stretch.items}
    count: dict[str, int] = {}
    found = []
    for placement in packed:
        key = keys[placement.item]
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
            )
        )
    return tuple(found)


def reach_mm(stretch: PlannedStretch, placements: tuple[Placement, ...]) -> float:
    """Return how far along the cloth the true outlines of the placements reach, mm."""
    items = {planned.item.key: planned.item for planned in stretch.items}
    return max(
        float(lying_shape(items[at.item], at, stretch.spread).outline_mm[:, 0].max())
        for at in placements
    )


def _name(planned: PlannedItem) -> str:
    return f"{planned.item.key}, {planned.lies}"


def _grown_outline(
    planned: PlannedItem, bolt: Bolt, rules: LayRules, width_mm: float
) -> FloatArray:
    """Return the outline with fewer vertices, unless growing would make it too wide."""
    half = planned.item.half if planned.lies is Lies.ON_FOLD else None
    fold = None if half is None else half.fold_edge_mm
    grown = simplify_outward(planned.outline_mm, SIMPLIFY_MM, fold_edge_mm=fold)
    if _least_width_mm(planned, bolt, rules) > width_mm - SIMPLIFY_MM:
        return planned.outline_mm
    return grown


def _least_width_mm(planned: PlannedItem, bolt: Bolt, rules: LayRules) -> float:
    turns = [*planned.turns_deg(bolt, rules)]
    turns += [-deg for deg in planned.flipped_turns_deg(bolt, rules)]
    return min(float(np.ptp(turn(planned.outline_mm, deg)[:, 1])) for deg in turns)


def _refuse_too_wide(planned: PlannedItem, spread: Spread, bolt: Bolt, rules: LayRules) -> None:
    """Name the piece, its width, the limit and the ways out, if it cannot lie on the cloth."""
    width_mm, limit_mm = _least_width_mm(planned, bolt, rules), laid_width_mm(bolt, spread)
    if width_mm <= limit_mm + _ROUNDING_MM:
        return

    def words(length_mm: float) -> str:
        return format_width(length_mm, bolt.units)

    limit = f"the usable width is {words(bolt.usable_width_mm)}"
    if bolt.selvage_mm:
        limit += f": {words(bolt.width_mm)} less two selvages of {words(bolt.selvage_mm)}"
    if spread is Spread.LENGTHWISE:
        limit += f", and the fold leaves half of it, {words(limit_mm)}"
    ways = ["choose a wider bolt", "divide the piece by a seam"]
    whole = planned.item.shape.outline_mm
    if spread is Spread.LENGTHWISE and np.ptp(whole[:, 1]) <= bolt.usable_width_mm:
        ways.insert(0, "lay the cloth open")
    if planned.item.grain is Grain.LENGTHWISE and np.ptp(whole[:, 0]) <= limit_mm:
        ways.append("turn it crosswise if the cloth permits, by setting its grain in the sheet")
    raise DoesNotFitError(
        f'piece "{planned.item.title}", size {planned.item.size}, needs {words(width_mm)} across '
        f"the cloth; {limit}; {', or '.join(ways)}"
    )
