"""An independent look at a packing, with shapely alone."""

import itertools

import numpy as np
import shapely

from nesting.engine import Axis, HeldTo, Packing, Strip, StripItem, StripPlacement, placed_outline
from pieces.outline.polygon import FloatArray

SHARE_OF_WIDTH = 1e-6


def faults(strip: Strip, packing: Packing, *, share: float = SHARE_OF_WIDTH) -> list[str]:
    """Return what is wrong with a packing, at a tolerance of ``share`` of the strip's width."""
    items = {item.name: item for item in strip.items}
    outlines = [placed_outline(items[at.item], at) for at in packing.placements]
    tolerance = share * strip.width
    found = []
    for at, outline in zip(packing.placements, outlines, strict=True):
        low, high = outline.min(axis=0), outline.max(axis=0)
        if (
            min(low) < -tolerance
            or (high > np.array([packing.length, strip.width]) + tolerance).any()
        ):
            found.append(f"{at.item} {at.copy} lies outside")
        item = items[at.item]
        if at.turn_deg not in (item.flipped_turns_deg if at.flipped else item.turns_deg):
            found.append(f"{at.item} {at.copy} is turned by {at.turn_deg}, which is not allowed")
        found += _off_their_bands(strip, item, at, (float(low[1]), float(high[1])), tolerance)
    for item in strip.items:
        copies = sorted(at.copy for at in packing.placements if at.item == item.name)
        if copies != list(range(item.quantity)):
            found.append(f"{item.name} has copies {copies}, wanted {item.quantity}")
    found += _off_their_holds(strip, packing, tolerance)
    polygons = np.array([shapely.Polygon(outline) for outline in outlines])
    found += _too_near(strip, packing, polygons, tolerance)
    first, second = shapely.STRtree(polygons).query(polygons, predicate="intersects")
    for i, j in zip(first, second, strict=True):
        if i < j:
            shared = shapely.intersection(polygons[i], polygons[j])
            # what is deeper than the tolerance survives being drawn in by half of it
            if not shapely.buffer(shared, -tolerance / 2).is_empty:
                found.append(f"{packing.placements[i].item} overlaps {packing.placements[j].item}")
    return found


def _off_their_bands(
    strip: Strip,
    item: StripItem,
    at: StripPlacement,
    reach: tuple[float, float],
    tolerance: float,
) -> list[str]:
    """Tell whether a placement lies in none of its bands, or off the edge it is held to."""
    low, high = reach
    found = []
    within = [
        floor - tolerance <= low and high <= top + tolerance for floor, top in item.bands
    ] or [True]
    if not any(within):
        found.append(f"{at.item} {at.copy} reaches from {low} to {high}, in no band")
    held_to = item.pose_edges.get((at.turn_deg, at.flipped), item.held_to)
    off = {HeldTo.LOW_EDGE: low, HeldTo.HIGH_EDGE: strip.width - high}.get(held_to, 0.0)
    if abs(off) > tolerance:
        found.append(f"{at.item} {at.copy} is {off} off its edge")
    return found


def _off_their_holds(strip: Strip, packing: Packing, tolerance: float) -> list[str]:
    """Tell which placements are off their phase groups, and which fixed copies have moved."""
    items = {item.name: item for item in strip.items}
    found = []
    for at in packing.placements:
        for hold in items[at.item].holds.get((at.turn_deg, at.flipped), ()):
            group = strip.groups[hold.group]
            place = at.x if group.axis is Axis.ALONG else at.y
            phase = packing.phases[hold.group]
            allowed = group.phases or (phase,)
            if min(_apart(phase, other, group.every) for other in allowed) > tolerance:
                found.append(f"group {hold.group} has phase {phase}, which is not allowed")
            off = _apart(place + hold.offset, hold.sign * phase, group.every)
            if off > tolerance:
                found.append(f"{at.item} {at.copy} is off its hold by {off}")
    moved = [at for at in strip.fixed if at not in packing.placements]
    return found + [f"{at.item} {at.copy} has moved" for at in moved]


def _apart(one: float, other: float, every: float) -> float:
    """Return how far two places are from lying at the same phase of a repeat."""
    off = (one - other) % every
    return min(off, every - off)


def _too_near(strip: Strip, packing: Packing, polygons: FloatArray, tolerance: float) -> list[str]:
    """Tell which placements reach into a region, or come nearer to it or another than the gap."""
    names = [at.item for at in packing.placements]
    found = []
    for region in (shapely.Polygon(outline) for outline in strip.regions):
        for name, polygon in zip(names, polygons, strict=True):
            shared = shapely.intersection(polygon, region)
            if not shapely.buffer(shared, -tolerance / 2).is_empty:
                found.append(f"{name} lies on a region")
            if strip.gap and polygon.distance(region) < strip.gap - tolerance:
                found.append(f"{name} lies too near a region")
    for i, j in itertools.combinations(range(len(polygons)) if strip.gap else [], 2):
        if polygons[i].distance(polygons[j]) < strip.gap - tolerance:
            found.append(f"{names[i]} and {names[j]} are nearer than {strip.gap}")
    return found
