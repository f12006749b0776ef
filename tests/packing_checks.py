"""An independent look at a packing, with shapely alone."""

import numpy as np
import shapely

from nesting.engine import Packing, Strip, placed_outline

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
    for item in strip.items:
        copies = sorted(at.copy for at in packing.placements if at.item == item.name)
        if copies != list(range(item.quantity)):
            found.append(f"{item.name} has copies {copies}, wanted {item.quantity}")
    polygons = np.array([shapely.Polygon(outline) for outline in outlines])
    first, second = shapely.STRtree(polygons).query(polygons, predicate="intersects")
    for i, j in zip(first, second, strict=True):
        if i < j:
            shared = shapely.intersection(polygons[i], polygons[j])
            # what is deeper than the tolerance survives being drawn in by half of it
            if not shapely.buffer(shared, -tolerance / 2).is_empty:
                found.append(f"{packing.placements[i].item} overlaps {packing.placements[j].item}")
    return found
