"""The independent check of a marker: it shares no code with the engine that made it.

Everything is worked out anew with shapely from the cut list's own outlines, never simplified ones,
and from the rules of the cloth. A check returns findings and does not raise.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from nesting.cut_list import CutItem
from nesting.lay_rules import arrow_directions_deg
from nesting.marker import Marker
from nesting.placement import Placement, lies_on_fold, lying_shape, pieces_cut
from nesting.spread import Spread, laid_width_mm
from pieces.finding import Finding, Severity
from pieces.lengths import format_both
from pieces.piece import PieceShape

TOLERANCE_MM = 0.01
TOLERANCE_DEG = 0.01


@dataclass(frozen=True)
class _Laid:
    """One placement with everything the checks ask about it."""

    placement: Placement
    item: CutItem
    spread: Spread
    shape: PieceShape
    polygon: shapely.Polygon
    label: str


def check_marker(marker: Marker) -> tuple[Finding, ...]:
    """Return everything that is wrong with a marker; an empty tuple means it can be cut.

    Codes: ``overlap``, ``outside-cloth``, ``off-grain``, ``wrong-direction``, ``off-fold``,
    ``missing-copies``, ``extra-copies``, ``unmirrored-pair``, ``unknown-piece``,
    ``wrong-length``.
    """
    unknown = tuple(_unknown_pieces(marker))
    laid = tuple(_laid(marker))
    return (
        *unknown,
        *_counts(marker, laid),
        *(finding for one in laid for finding in _outside(marker, one)),
        *(finding for one in laid for finding in _direction(marker, one)),
        *(finding for one in laid for finding in _off_fold(one)),
        *_overlaps(laid),
        *_lengths(marker, laid),
    )


def overlap_depth_mm(first: shapely.Polygon, second: shapely.Polygon) -> float:
    """Return how deep two outlines overlap, mm: the width of the widest disc in what they share.

    Found by drawing the shared region in until nothing is left, to a hundredth of the depth.

    Examples
    --------
    >>> round(overlap_depth_mm(shapely.box(0, 0, 10, 10), shapely.box(8, 0, 20, 10)), 1)
    2.0
    """
    shared = shapely.intersection(first, second)
    gone, kept = 2.0 * math.sqrt(shared.area / math.pi), 0.0
    while gone - kept > max(0.01 * gone, 1e-6):
        middle = (kept + gone) / 2.0
        if shapely.buffer(shared, -middle / 2.0).is_empty:
            gone = middle
        else:
            kept = middle
    return (kept + gone) / 2.0 if gone > 1e-6 else 0.0


def _error(code: str, sentence: str, *labels: str) -> Finding:
    return Finding(code, Severity.ERROR, sentence, labels)


def _laid(marker: Marker) -> Iterator[_Laid]:
    for placement in marker.placements:
        item = marker.item_by_key.get(placement.item)
        if item is None or not 0 <= placement.stretch < len(marker.stretches):
            continue
        spread = marker.stretches[placement.stretch].spread
        shape = lying_shape(item, placement, spread)
        label = f"{item.title} {item.size} no. {placement.number}"
        yield _Laid(placement, item, spread, shape, shapely.Polygon(shape.outline_mm), label)


def _unknown_pieces(marker: Marker) -> Iterator[Finding]:
    for placement in marker.placements:
        if placement.item not in marker.item_by_key:
            yield _error(
                "unknown-piece",
                f'a piece called "{placement.item}" is laid that the cut list does not have',
                placement.item,
            )
        elif not 0 <= placement.stretch < len(marker.stretches):
            yield _error(
                "unknown-piece",
                f'"{placement.item}" lies in stretch {placement.stretch}, which does not exist',
                placement.item,
            )


def _counts(marker: Marker, laid: tuple[_Laid, ...]) -> Iterator[Finding]:
    for item in marker.items:
        of_item = [one for one in laid if one.item.key == item.key]
        cut = [pieces_cut(item, one.placement, one.spread) for one in of_item]
        as_drawn, turned_over = (sum(column) for column in zip((0, 0), *cut, strict=True))
        label = f"{item.title} {item.size}"
        total = as_drawn + turned_over
        if total < item.count:
            yield _error("missing-copies", f"{label}: {total} laid, {item.count} to be cut", label)
        elif total > item.count:
            yield _error("extra-copies", f"{label}: {total} laid, {item.count} to be cut", label)
        if turned_over != item.turned_over and total >= item.count and not item.is_symmetric:
            yield _error(
                "unmirrored-pair",
                f"{label}: {as_drawn} as drawn and {turned_over} turned over; the pattern asks "
                f"for {item.as_drawn} and {item.turned_over}",
                label,
            )


def _outside(marker: Marker, one: _Laid) -> Iterator[Finding]:
    stretch = marker.stretches[one.placement.stretch]
    low_x, low_y, high_x, high_y = one.polygon.bounds
    width_mm = laid_width_mm(marker.bolt, one.spread)
    beyond_mm = {
        "the start of its stretch": stretch.start_mm - low_x,
        "the end of its stretch": high_x - stretch.end_mm,
        "the lower edge of the cloth": -low_y,
        "the upper edge of the cloth": high_y - width_mm,
    }
    for edge, by_mm in beyond_mm.items():
        if by_mm > TOLERANCE_MM:
            yield _error(
                "outside-cloth",
                f"{one.label} reaches {_words(marker, by_mm)} beyond {edge}",
                one.label,
            )


def _direction(marker: Marker, one: _Laid) -> Iterator[Finding]:
    """Compare the arrow as it lies with the directions its grain and the cloth permit."""
    item, bolt = one.item, marker.bolt
    lies_deg = one.shape.grainline.angle_deg
    turned_over = one.placement.flipped and not lies_on_fold(item, one.spread)
    if one.spread is Spread.LENGTHWISE and turned_over:
        turned_over, lies_deg = False, -lies_deg  # the other layer holds the piece as drawn
    permitted = arrow_directions_deg(
        item.grain, bolt, one_way=item.one_way, turned_over=turned_over
    )
    if _off_deg(lies_deg, permitted) <= marker.rules.tilt_deg + TOLERANCE_DEG:
        return
    on_grain = (*permitted, *((deg + 180.0) % 360.0 for deg in permitted))
    off_deg = _off_deg(lies_deg, on_grain)
    if off_deg <= marker.rules.tilt_deg + TOLERANCE_DEG:
        why = "the cloth has nap" if bolt.nap else "the piece is one-way"
        yield _error("wrong-direction", f"{one.label} points the wrong way, and {why}", one.label)
    else:
        yield _error(
            "off-grain",
            f"{one.label} lies {off_deg:.2f} degrees off its {item.grain} grain",
            one.label,
        )


def _off_deg(direction_deg: float, permitted_deg: tuple[float, ...]) -> float:
    return min(abs((direction_deg - deg + 180.0) % 360.0 - 180.0) for deg in permitted_deg)


def _off_fold(one: _Laid) -> Iterator[Finding]:
    if not lies_on_fold(one.item, one.spread) or one.shape.fold_edge_mm is None:
        return
    off_mm = max(abs(point[1]) for point in one.shape.fold_edge_mm)
    if off_mm > TOLERANCE_MM:
        yield _error(
            "off-fold",
            f"{one.label} must lie with its fold edge on the fold and is {off_mm:.2f} mm off it",
            one.label,
        )


def _overlaps(laid: tuple[_Laid, ...]) -> Iterator[Finding]:
    """Look at every pair whose outlines meet, found through a spatial index."""
    polygons = np.array([one.polygon for one in laid])
    if len(polygons) < 2:
        return
    first, second = shapely.STRtree(polygons).query(polygons, predicate="intersects")
    for i, j in zip(first, second, strict=True):
        if i >= j:
            continue
        depth_mm = overlap_depth_mm(polygons[i], polygons[j])
        if depth_mm > TOLERANCE_MM:
            yield _error(
                "overlap",
                f"{laid[i].label} and {laid[j].label} overlap, {depth_mm:.2f} mm deep",
                laid[i].label,
                laid[j].label,
            )


def _lengths(marker: Marker, laid: tuple[_Laid, ...]) -> Iterator[Finding]:
    """Compare the lengths written in the marker with where its pieces and stretches end."""
    reached_mm = max((one.polygon.bounds[2] for one in laid), default=0.0)
    if abs(marker.length_mm - reached_mm) > TOLERANCE_MM:
        yield _error(
            "wrong-length",
            f"the marker says {_words(marker, marker.length_mm)}, and its pieces reach "
            f"{_words(marker, reached_mm)}",
        )
    end_mm, before = 0.0, "must begin at the cut end of the cloth"
    for number, stretch in enumerate(marker.stretches, start=1):
        if abs(end_mm - stretch.start_mm) > TOLERANCE_MM:
            yield _error(
                "wrong-length",
                f"stretch {number} of the lay begins at {_words(marker, stretch.start_mm)}, and "
                f"{before}",
            )
        end_mm = stretch.end_mm
        before = f"stretch {number} ends at {_words(marker, end_mm)}"
    if abs(end_mm - marker.length_mm) > TOLERANCE_MM:
        yield _error(
            "wrong-length",
            f"the marker says {_words(marker, marker.length_mm)}, and its last stretch ends at "
            f"{_words(marker, end_mm)}",
        )


def _words(marker: Marker, length_mm: float) -> str:
    return format_both(max(length_mm, 0.0), marker.bolt.units)
