"""Whether the cloth of a marker is there: no piece on a flaw, no more length than is left."""

from collections.abc import Iterator, Sequence
from typing import assert_never

import shapely

from nesting.checked import TOLERANCE_MM, Laid, error, overlap_depth_mm, words
from nesting.marker import Marker
from nesting.measure import cut_length_mm
from nesting.spread import Spread
from pieces.finding import Finding
from pieces.polygon import FloatArray


def flaw_findings(marker: Marker, laid: Sequence[Laid]) -> Iterator[Finding]:
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


def _in_shop(marker: Marker, one: Laid) -> list[FloatArray]:
    """Return the outline of each layer on the unwashed cloth, y from its lower edge, mm."""
    bolt = marker.bolt
    outline = one.shape.outline_mm
    x, y = outline[:, 0], outline[:, 1]
    fold_mm = bolt.usable_width_mm / 2.0
    match one.spread:
        case Spread.OPEN:
            heights = [y]
        case Spread.LENGTHWISE:
            heights = [fold_mm + y, fold_mm - y]
        case _:
            assert_never(one.spread)
    layers = []
    for height in heights:
        layer = outline.copy()
        layer[:, 0] = x / (1.0 - bolt.shrink_along)
        layer[:, 1] = height / (1.0 - bolt.shrink_across) + bolt.selvage_mm
        layers.append(layer)
    return layers


def length_left_findings(marker: Marker) -> Iterator[Finding]:
    """Yield a finding if the lay takes more than is left of the bolt: ``beyond-length-left``."""
    left_mm, taken_mm = marker.bolt.length_left_mm, cut_length_mm(marker)
    if left_mm is not None and taken_mm > left_mm + TOLERANCE_MM:
        yield error(
            "beyond-length-left",
            f"the lay takes {words(marker, taken_mm)} of cloth, and {words(marker, left_mm)} of "
            f"this bolt is left: {words(marker, taken_mm - left_mm)} too little",
        )
