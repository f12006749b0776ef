"""Where the grainline arrow is drawn when words need its place."""

import numpy as np
import shapely

from nesting.draw.style import Look
from pieces.outline.polygon import FloatArray
from pieces.piece import PieceShape

_PLACES = 15
_SHARES = (1.0, 0.75, 0.5, 0.33, 0.2)
_LEAST = 1.4


def arrow_clear_of(shape: PieceShape, words: shapely.Geometry, look: Look) -> FloatArray | None:
    """Return the ends of the grainline arrow clear of some words, or None if there is no room.

    A grainline may stand anywhere on a piece as long as its direction is kept, so the arrow is
    moved parallel, and shortened if it must be: the longest that has room, nearest to its old
    place. Shape (2, 2), tail first, mm.
    """
    ends = np.array([shape.grainline.tail_mm, shape.grainline.head_mm])
    clear = words.buffer(0.15 * look.unit_mm, join_style="mitre")
    if not shapely.intersects(clear, shapely.LineString(ends)):
        return ends
    outline = shape.outline_mm
    room = shapely.Polygon(outline).buffer(-0.1 * look.unit_mm).difference(clear)
    shapely.prepare(room)
    near = _places(outline, ends.mean(axis=0))
    length = float(np.linalg.norm(ends[1] - ends[0]))
    for share in _SHARES:
        if share * length < _LEAST * look.unit_mm and share < 1.0:
            return None
        half = share * (ends[1] - ends[0]) / 2.0
        tried = np.stack([near - half, near + half], axis=1)
        wide = shapely.buffer(shapely.linestrings(tried), 0.25 * look.unit_mm, cap_style="flat")
        found = np.flatnonzero(shapely.covers(room, wide))
        if len(found):
            moved: FloatArray = tried[int(found[0])]
            return moved
    return None


def _places(outline: FloatArray, middle: FloatArray) -> FloatArray:
    """Return points all over the box of an outline, those near ``middle`` first, shape (k, 2)."""
    low, high = outline.min(axis=0), outline.max(axis=0)
    shares = (np.arange(_PLACES) + 0.5) / _PLACES
    grid = np.array([(x, y) for x in shares for y in shares]) * (high - low) + low
    nearest: FloatArray = grid[np.argsort(np.linalg.norm(grid - middle, axis=1), kind="stable")]
    return nearest
