"""The independent check of a marker: it shares no code with the engine that made it.

Everything is worked out anew with shapely from the cut list's own outlines, never simplified ones,
and from the rules of the cloth. A check returns findings and does not raise.
"""

from collections.abc import Iterator

import numpy as np
import shapely

from nesting.checks.cloth_checks import flaw_findings, length_left_findings
from nesting.checks.laid_pieces import (
    TOLERANCE_DEG,
    TOLERANCE_MM,
    LaidPiece,
    error,
    laid_on,
    overlap_depth_mm,
    words,
)
from nesting.checks.match_checks import match_findings
from nesting.cloth.lay_rules import arrow_directions_deg
from nesting.cloth.spread import HALVED_ALONG, Spread, laid_width_mm
from nesting.marker.marker import Marker
from nesting.marker.placement import pieces_cut
from pieces.finding import Finding


def check_marker(marker: Marker) -> tuple[Finding, ...]:
    """Return everything that is wrong with a marker; an empty tuple means it can be cut.

    Codes: ``overlap``, ``outside-cloth``, ``across-middle``, ``off-grain``,
    ``wrong-direction``, ``off-fold``, ``missing-copies``, ``extra-copies``,
    ``unmirrored-pair``, ``unknown-piece``, ``wrong-length``, ``repeat-not-matched``,
    ``wrong-garment``, ``on-flaw``, ``beyond-length-left``, ``too-near``, all of them errors;
    ``match-given-up`` is a warning.
    """
    unknown = tuple(_unknown_pieces(marker))
    laid = tuple(laid_on(marker))
    return (
        *unknown,
        *_counts(marker, laid),
        *(finding for one in laid for finding in _outside(marker, one)),
        *(finding for one in laid for finding in _across_middle(marker, one)),
        *(finding for one in laid for finding in _direction(marker, one)),
        *(finding for one in laid for finding in _off_fold(marker, one)),
        *_overlaps(laid),
        *_too_near(marker, laid),
        *_lengths(marker, laid),
        *match_findings(marker, laid),
        *flaw_findings(marker, laid),
        *length_left_findings(marker),
    )


def _unknown_pieces(marker: Marker) -> Iterator[Finding]:
    for placement in marker.placements:
        if placement.item not in marker.item_by_key:
            yield error(
                "unknown-piece",
                f'a piece called "{placement.item}" is laid that the cut list does not have',
                placement.item,
            )
        elif not 0 <= placement.stretch < len(marker.stretches):
            yield error(
                "unknown-piece",
                f'"{placement.item}" lies in stretch {placement.stretch}, which does not exist',
                placement.item,
            )


def _counts(marker: Marker, laid: tuple[LaidPiece, ...]) -> Iterator[Finding]:
    for item in marker.items:
        of_item = [one for one in laid if one.item.key == item.key]
        cut = [pieces_cut(item, one.placement, one.spread) for one in of_item]
        as_drawn, turned_over = (sum(column) for column in zip((0, 0), *cut, strict=True))
        label = f"{item.title} {item.size}"
        total = as_drawn + turned_over
        if total < item.count:
            yield error("missing-copies", f"{label}: {total} laid, {item.count} to be cut", label)
        elif total > item.count:
            yield error("extra-copies", f"{label}: {total} laid, {item.count} to be cut", label)
        if turned_over != item.turned_over and total >= item.count and not item.is_symmetric:
            yield error(
                "unmirrored-pair",
                f"{label}: {as_drawn} as drawn and {turned_over} turned over; the pattern asks "
                f"for {item.as_drawn} and {item.turned_over}",
                label,
            )


def _outside(marker: Marker, one: LaidPiece) -> Iterator[Finding]:
    stretch = marker.stretches[one.placement.stretch]
    low_x, low_y, high_x, high_y = one.polygon.bounds
    width_mm = laid_width_mm(marker.bolt, one.spread)
    beyond_mm = {
        "the start of its stretch": stretch.start_mm - low_x,
        _end_words(one.spread): high_x - (stretch.start_mm + stretch.table_mm),
        "the lower edge of the cloth": -low_y,
        "the upper edge of the cloth": high_y - width_mm,
    }
    for edge, by_mm in beyond_mm.items():
        if by_mm > TOLERANCE_MM:
            yield error(
                "outside-cloth",
                f"{one.label} reaches {words(marker, by_mm)} beyond {edge}",
                one.label,
            )


def _end_words(spread: Spread) -> str:
    halved = spread in HALVED_ALONG
    return "the place where the cloth is halved" if halved else "the end of its stretch"


def _across_middle(marker: Marker, one: LaidPiece) -> Iterator[Finding]:
    """Tell whether a piece on a double fold lies across the middle, where the selvages meet."""
    if one.spread is not Spread.DOUBLE:
        return
    _, low_mm, _, high_mm = one.polygon.bounds
    middle_mm = laid_width_mm(marker.bolt, one.spread) / 2.0
    by_mm = min(high_mm - middle_mm, middle_mm - low_mm)
    if by_mm > TOLERANCE_MM:
        yield error(
            "across-middle",
            f"{one.label} reaches {words(marker, by_mm)} across the middle, where the selvages "
            "meet",
            one.label,
        )


def _direction(marker: Marker, one: LaidPiece) -> Iterator[Finding]:
    """Compare the arrow with what its grain and the cloth permit, in each layer; tell the first."""
    for layer in one.layers[:1] if one.is_on_fold else one.layers:
        turned_over = one.placement.flipped is not layer.is_mirrored and not one.is_on_fold
        lies_deg = layer.direction_deg(one.shape.grainline.angle_deg)
        found = _one_direction(marker, one, lies_deg, turned_over=turned_over)
        if found is not None:
            yield found
            return


def _one_direction(
    marker: Marker, one: LaidPiece, lies_deg: float, *, turned_over: bool
) -> Finding | None:
    """Return what is wrong with the arrow of one piece as it is cut from open cloth, or None."""
    item, bolt = one.item, marker.bolt
    permitted = arrow_directions_deg(
        item.grain, bolt, one_way=item.one_way, turned_over=turned_over
    )
    if _off_deg(lies_deg, permitted) <= marker.rules.tilt_deg + TOLERANCE_DEG:
        return None
    on_grain = (*permitted, *((deg + 180.0) % 360.0 for deg in permitted))
    off_deg = _off_deg(lies_deg, on_grain)
    if off_deg <= marker.rules.tilt_deg + TOLERANCE_DEG:
        why = "the cloth has nap" if bolt.nap else "the piece is one-way"
        if bolt.has_direction and not bolt.nap:
            why = "the repeat of the cloth is uneven"
        return error("wrong-direction", f"{one.label} points the wrong way, and {why}", one.label)
    return error(
        "off-grain",
        f"{one.label} lies {off_deg:.2f} degrees off its {item.grain} grain",
        one.label,
    )


def _off_deg(direction_deg: float, permitted_deg: tuple[float, ...]) -> float:
    return min(abs((direction_deg - deg + 180.0) % 360.0 - 180.0) for deg in permitted_deg)


def _off_fold(marker: Marker, one: LaidPiece) -> Iterator[Finding]:
    """Tell how far the fold edge of a half piece is off the nearest fold."""
    if not one.is_on_fold or one.shape.fold_edge_mm is None:
        return
    folds_mm = [0.0]
    if one.spread is Spread.DOUBLE:
        folds_mm.append(laid_width_mm(marker.bolt, one.spread))
    edge = one.shape.fold_edge_mm
    off_mm = min(max(abs(point[1] - fold_mm) for point in edge) for fold_mm in folds_mm)
    if off_mm > TOLERANCE_MM:
        yield error(
            "off-fold",
            f"{one.label} must lie with its fold edge on the fold and is {off_mm:.2f} mm off it",
            one.label,
        )


def _too_near(marker: Marker, laid: tuple[LaidPiece, ...]) -> Iterator[Finding]:
    """Yield each pair that does not overlap, and lies nearer than the gap that was asked for."""
    gap_mm = marker.rules.gap_mm
    if gap_mm == 0.0:
        return
    polygons = [one.polygon for one in laid]
    tree = shapely.STRtree(polygons)
    pairs = tree.query(polygons, predicate="dwithin", distance=gap_mm - TOLERANCE_MM)
    for i, j in pairs.T:
        if i < j and overlap_depth_mm(polygons[i], polygons[j]) <= TOLERANCE_MM:
            apart_mm = polygons[i].distance(polygons[j])
            yield error(
                "too-near",
                f"{laid[i].label} and {laid[j].label} lie {apart_mm:.2f} mm apart, nearer than "
                f"the gap of {gap_mm:g} mm",
                laid[i].label,
                laid[j].label,
            )


def _overlaps(laid: tuple[LaidPiece, ...]) -> Iterator[Finding]:
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
            yield error(
                "overlap",
                f"{laid[i].label} and {laid[j].label} overlap, {depth_mm:.2f} mm deep",
                laid[i].label,
                laid[j].label,
            )


def _cloth_reached_mm(one: LaidPiece) -> float:
    """Return how far along the cloth a piece reaches, every layer that lies behind it counted.

    Cloth halved along has to be twice as long as the table is long where its pieces end.
    """
    on_table_mm = float(one.polygon.bounds[2]) - one.stretch.start_mm
    return one.stretch.start_mm + on_table_mm * (2.0 if one.spread in HALVED_ALONG else 1.0)


def _lengths(marker: Marker, laid: tuple[LaidPiece, ...]) -> Iterator[Finding]:
    """Compare the lengths written in the marker with where its pieces and stretches end."""
    reached_mm = max((_cloth_reached_mm(one) for one in laid), default=0.0)
    if abs(marker.length_mm - reached_mm) > TOLERANCE_MM:
        yield error(
            "wrong-length",
            f"the marker says {words(marker, marker.length_mm)}, and its pieces reach "
            f"{words(marker, reached_mm)}",
        )
    end_mm, due_mm, before = 0.0, 0.0, "must begin at the cut end of the cloth"
    for number, stretch in enumerate(marker.stretches, start=1):
        if abs(due_mm - stretch.start_mm) > TOLERANCE_MM:
            yield error(
                "wrong-length",
                f"stretch {number} of the lay begins at {words(marker, stretch.start_mm)}, and "
                f"{before}",
            )
        end_mm = stretch.end_mm
        due_mm = end_mm + marker.rules.gap_mm
        before = f"stretch {number} ends at {words(marker, end_mm)}"
        if marker.rules.gap_mm > 0.0:
            before += f", and {words(marker, marker.rules.gap_mm)} stay free between pieces"
    if abs(end_mm - marker.length_mm) > TOLERANCE_MM:
        yield error(
            "wrong-length",
            f"the marker says {words(marker, marker.length_mm)}, and its last stretch ends at "
            f"{words(marker, end_mm)}",
        )
