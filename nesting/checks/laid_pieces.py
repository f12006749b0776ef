"""What the checks of a marker share: the pieces as they lie, and how a finding is worded."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import shapely

from nesting.checks.own_places import Lying, lying
from nesting.checks.own_rules import is_half_on_fold
from nesting.checks.plies import Layer, layers_at
from nesting.checks.shared_regions import shared_by
from nesting.cloth.spread import Spread, Stretch
from nesting.marker.cut_list import CutItem
from nesting.marker.marker import Marker
from nesting.marker.placement import Placement
from pieces.finding import Finding, Severity
from pieces.measures.format import format_both

TOLERANCE_MM = 0.01
TOLERANCE_DEG = 0.01


@dataclass(frozen=True)
class LaidPiece:
    """One placement with everything the checks ask about it."""

    placement: Placement
    item: CutItem
    stretch: Stretch
    shape: Lying
    polygon: shapely.Polygon
    label: str
    layers: tuple[Layer, ...]

    @property
    def spread(self) -> Spread:
        """How the cloth under it is spread."""
        return self.stretch.spread

    @property
    def is_on_fold(self) -> bool:
        """Whether it is a half piece with its fold edge on the fold."""
        return is_half_on_fold(self.item, self.spread)


def laid_on(marker: Marker) -> Iterator[LaidPiece]:
    """Yield every placement of a piece and in a stretch that the marker has."""
    items = {item.key: item for item in marker.items}
    for placement in marker.placements:
        item = items.get(placement.item)
        if item is None or not 0 <= placement.stretch < len(marker.stretches):
            continue
        stretch = marker.stretches[placement.stretch]
        half = item.half if is_half_on_fold(item, stretch.spread) else None
        shape = lying(item.shape if half is None else half, placement)
        label = f"{item.title} {item.size} no. {placement.number}"
        polygon = shapely.Polygon(shape.outline_mm)
        layers = layers_at(stretch, marker.bolt, (polygon.bounds[1] + polygon.bounds[3]) / 2.0)
        yield LaidPiece(placement, item, stretch, shape, polygon, label, layers)


def error(code: str, sentence: str, *labels: str) -> Finding:
    """Return a finding that spoils the work."""
    return Finding(code, Severity.ERROR, sentence, labels)


def words(marker: Marker, length_mm: float) -> str:
    """Return a length in both systems, the person's first."""
    return format_both(max(length_mm, 0.0), marker.bolt.units)


def overlap_depth_mm(first: shapely.Polygon, second: shapely.Polygon) -> float:
    """Return how deep two outlines overlap, mm: the width of the widest disc in what they share.

    Found by drawing the shared region in until nothing is left, to a hundredth of the depth.

    Examples
    --------
    >>> round(overlap_depth_mm(shapely.box(0, 0, 10, 10), shapely.box(8, 0, 20, 10)), 1)
    2.0
    """
    shared = shared_by(first, second)
    gone, kept = 2.0 * math.sqrt(shared.area / math.pi), 0.0
    while gone - kept > max(0.01 * gone, 1e-6):
        middle = (kept + gone) / 2.0
        if shapely.buffer(shared, -middle / 2.0).is_empty:
            gone = middle
        else:
            kept = middle
    return (kept + gone) / 2.0 if gone > 1e-6 else 0.0
