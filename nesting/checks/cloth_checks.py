"""Whether the cloth of a marker is sound where it is cut: no piece lies on a flaw."""

from collections.abc import Iterator, Sequence

import shapely

from nesting.checks.laid_pieces import TOLERANCE_MM, LaidPiece, error, overlap_depth_mm
from nesting.marker.marker import Marker
from pieces.finding import Finding
from pieces.outline.polygon import FloatArray


def flaw_findings(marker: Marker, laid: Sequence[LaidPiece]) -> Iterator[Finding]:
    """Yield each piece that lies on a flaw: code ``on-flaw``.

    Every layer of a piece is taken back to the cloth as it lay in the shop, where the flaw was
    measured: unfolded, unwashed, selvage counted.
    """
    flaws = [
        shapely.box(
            flaw.at_mm,
            flaw.across_mm,
            flaw.at_mm + flaw.long_mm,
            flaw.across_mm + flaw.wide_mm,
        )
        for flaw in marker.bolt.flaws
    ]
    for one in laid if flaws else ():
        layers = [shapely.Polygon(outline) for outline in _in_shop(marker, one)]
        for number, flaw in enumerate(flaws, start=1):
            depth_mm = max(overlap_depth_mm(layer, flaw) for layer in layers)
            if depth_mm > TOLERANCE_MM:
                yield error(
                    "on-flaw",
                    f"{one.label} lies on flaw {number} of the cloth, {depth_mm:.1f} mm deep",
                    one.label,
                )


def _in_shop(marker: Marker, one: LaidPiece) -> list[FloatArray]:
    """Return the outline of each layer on the unwashed cloth, y from its lower edge, mm."""
    bolt = marker.bolt
    layers = []
    for layer in one.layers:
        outline = layer.on_cloth(one.shape.outline_mm)
        outline[:, 0] /= 1.0 - bolt.shrink_along
        outline[:, 1] = outline[:, 1] / (1.0 - bolt.shrink_across) + bolt.selvage_mm
        layers.append(outline)
    return layers
