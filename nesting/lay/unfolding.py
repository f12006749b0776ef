"""A marker on folded cloth written as the open marker that comes of it.

Whatever is cut through two layers could be cut from the same cloth laid open, each piece where its
layer was. So no fold can need less cloth than open cloth does, and a folded marker is a good place
to begin an open search.
"""

from collections.abc import Iterator
from dataclasses import replace

from nesting.cloth.bolt import Bolt
from nesting.cloth.spread import Spread, Stretch
from nesting.marker.cut_list import CutItem
from nesting.marker.marker import Marker
from nesting.marker.placement import Placement, lies_on_fold, lying_shape
from pieces.outline.transform import place_outline


def unfolded(marker: Marker) -> Marker:
    """Return the marker on open cloth that cuts the same pieces from the same places.

    Length and bolt are the same; pieces that lay in two layers become two placements, and halves
    on a fold become whole pieces. The middle of the cloth, where a fold was, keeps its place.

    Parameters
    ----------
    marker
        Any marker whose placements are of its cut list and in its stretches.
    """
    found: list[Placement] = []
    for at in marker.placements:
        stretch = marker.stretches[at.stretch]
        found += _opened(marker.item_by_key[at.item], at, stretch, marker.bolt)
    counts: dict[str, int] = {}
    numbered = []
    for at in found:
        counts[at.item] = counts.get(at.item, 0) + 1
        numbered.append(replace(at, number=counts[at.item], stretch=0))
    return replace(
        marker,
        rules=replace(marker.rules, spread=Spread.OPEN),
        stretches=(Stretch(Spread.OPEN, 0.0, marker.length_mm),),
        placements=tuple(numbered),
    )


def _opened(item: CutItem, at: Placement, stretch: Stretch, bolt: Bolt) -> Iterator[Placement]:
    """Yield what one placement comes to on open cloth."""
    width_mm = bolt.usable_width_mm
    if lies_on_fold(item, stretch.spread):
        yield _whole(item, at, stretch, width_mm)
        return
    middle_mm = stretch.start_mm + stretch.table_mm
    match stretch.spread:
        case Spread.OPEN:
            yield at
        case Spread.LENGTHWISE:
            yield replace(at, y_mm=at.y_mm + width_mm / 2.0)
            yield _side_to_side(at, width_mm / 2.0)
        case Spread.DOUBLE:
            yield replace(at, y_mm=at.y_mm + width_mm / 4.0)
            is_lower = _middle_of(item, at, stretch) < width_mm / 4.0
            yield _side_to_side(at, width_mm * (0.25 if is_lower else 1.25))
        case Spread.CROSSWISE:
            yield at
            yield replace(
                at,
                turn_deg=-at.turn_deg % 360.0,
                flipped=not at.flipped,
                x_mm=2.0 * middle_mm - at.x_mm,
            )
        case _:
            yield at
            yield _side_to_side(replace(at, x_mm=at.x_mm + stretch.table_mm), width_mm)


def _side_to_side(at: Placement, sum_mm: float) -> Placement:
    """Return a placement mirrored from side to side: each y becomes ``sum_mm`` less y.

    To flip about a line along the cloth is to flip x and turn by 180 degrees.
    """
    return replace(
        at,
        turn_deg=(180.0 - at.turn_deg) % 360.0,
        flipped=not at.flipped,
        y_mm=sum_mm - at.y_mm,
    )


def _middle_of(item: CutItem, at: Placement, stretch: Stretch) -> float:
    """Return the height of the middle of a piece as it lies on the table, mm."""
    heights = lying_shape(item, at, stretch.spread).outline_mm[:, 1]
    return float(heights.min() + heights.max()) / 2.0


def _whole(item: CutItem, at: Placement, stretch: Stretch, width_mm: float) -> Placement:
    """Return the whole piece of which a half lies on a fold.

    It is its own mirror image, so a half that lies flipped is the whole turned by 180 degrees.
    """
    half = lying_shape(item, at, stretch.spread).outline_mm
    fold_mm = width_mm / 2.0
    if stretch.spread is Spread.DOUBLE:
        fold_mm = width_mm * (0.25 if _middle_of(item, at, stretch) < width_mm / 4.0 else 0.75)
    points_back = (90.0 < at.turn_deg % 360.0 < 270.0) is not at.flipped
    turn_deg = 180.0 if points_back else 0.0
    whole = place_outline(item.shape.outline_mm, turn_deg=turn_deg, flipped=False, x=0.0, y=0.0)
    low, high = whole.min(axis=0), whole.max(axis=0)
    return replace(
        at,
        turn_deg=turn_deg,
        flipped=False,
        x_mm=float(half[:, 0].min() - low[0]),
        y_mm=float(fold_mm - (low[1] + high[1]) / 2.0),
    )
