"""Whether pieces keep clear of each other: no overlap, and the gap that was asked for."""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely

from nesting.checks.enough import MOST_PAIRS
from nesting.checks.laid_pieces import TOLERANCE_MM, LaidPiece, error, overlap_depth_mm
from nesting.marker.marker import Marker
from pieces.finding import Finding


def near_findings(marker: Marker, laid: Sequence[LaidPiece]) -> Iterator[Finding]:
    """Yield each pair that overlaps, or lies nearer than the gap: ``overlap``, ``too-near``.

    Pairs are found through a spatial index, one piece after another, so that the pairs of a
    thousand pieces on one spot are never all in memory.
    """
    gap_mm = marker.rules.gap_mm
    for number, (one, other) in enumerate(_neighbours(laid, gap_mm)):
        if number >= MOST_PAIRS:
            yield error(
                "overlap",
                f"more than {MOST_PAIRS:,} pairs of pieces lie on or beside each other; the check "
                "stops there",
            )
            return
        depth_mm = _depth_mm(one.polygon, other.polygon)
        labels = one.label, other.label
        if depth_mm > TOLERANCE_MM:
            yield error(
                "overlap", f"{labels[0]} and {labels[1]} overlap, {depth_mm:.2f} mm deep", *labels
            )
        elif gap_mm > 0.0 and one.polygon.distance(other.polygon) < gap_mm - TOLERANCE_MM:
            apart_mm = one.polygon.distance(other.polygon)
            yield error(
                "too-near",
                f"{labels[0]} and {labels[1]} lie {apart_mm:.2f} mm apart, nearer than "
                f"the gap of {gap_mm:g} mm",
                *labels,
            )


def _neighbours(laid: Sequence[LaidPiece], gap_mm: float) -> Iterator[tuple[LaidPiece, LaidPiece]]:
    """Yield every two pieces whose boxes come nearer than the gap, or meet."""
    if len(laid) < 2:
        return
    polygons = np.array([one.polygon for one in laid])
    tree = shapely.STRtree(polygons)
    boxes = shapely.bounds(polygons) + np.array([-gap_mm, -gap_mm, gap_mm, gap_mm])
    for number, box in enumerate(shapely.box(*boxes.T)):
        for other in np.sort(tree.query(box)):
            if other > number:
                yield laid[number], laid[int(other)]


def _depth_mm(first: shapely.Polygon, second: shapely.Polygon) -> float:
    """Return how deep two outlines overlap, mm, by their boxes alone where that shows it is not."""
    low = np.maximum(first.bounds[:2], second.bounds[:2])
    high = np.minimum(first.bounds[2:], second.bounds[2:])
    if (high - low).min() <= TOLERANCE_MM:
        return 0.0
    return overlap_depth_mm(first, second)
