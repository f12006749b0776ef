"""Growing an outline outwards by a distance, so that a gap stays free around it."""

import math

import shapely

from pieces.polygon import FloatArray, as_outline

QUARTER_STEPS = 8


def grow(outline: FloatArray, distance: float) -> FloatArray:
    """Return ``outline`` grown by at least ``distance`` on all sides, by at most 0.5 % more.

    Corners become arcs of straight steps that lie outside the true arc; the box of the outline
    grows by ``distance`` and no more. Holes that growing closes off are filled.
    """
    if distance == 0.0:
        return outline
    outside = distance / math.cos(math.pi / (4 * QUARTER_STEPS))
    grown = shapely.Polygon(outline).buffer(outside, quad_segs=QUARTER_STEPS)
    low, high = outline.min(axis=0) - distance, outline.max(axis=0) + distance
    grown = shapely.clip_by_rect(grown, *low, *high)
    return as_outline(shapely.get_coordinates(grown.exterior)[:-1])
