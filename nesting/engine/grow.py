"""Growing an outline outwards by a distance, so that a gap stays free around it."""

import math

import shapely

from pieces.polygon import FloatArray, as_outline

QUARTER_STEPS = 8
SIMPLIFIED = 0.01


def grow(outline: FloatArray, distance: float) -> FloatArray:
    """Return ``outline`` grown by at least ``distance`` on all sides, by at most 2.2 % more.

    Corners become arcs of straight steps that lie outside the true arc: the geometry library may
    make a step half as long again as asked, and simplify an outline by 1 %. The box of the outline
    grows by ``distance`` and no more. Holes that growing closes off are filled.
    """
    if distance == 0.0:
        return outline
    widest_step = 1.5 * math.pi / (2 * QUARTER_STEPS)
    outside = distance * (1.0 + SIMPLIFIED) / math.cos(widest_step / 2)
    grown = shapely.Polygon(outline).buffer(outside, quad_segs=QUARTER_STEPS)
    low, high = outline.min(axis=0) - distance, outline.max(axis=0) + distance
    grown = shapely.clip_by_rect(grown, *low, *high)
    return as_outline(shapely.get_coordinates(grown.exterior)[:-1])
