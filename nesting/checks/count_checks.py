"""Whether everything on the cut list is cut, as often and as mirrored as it says."""

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence

from nesting.checks.laid_pieces import LaidPiece, error
from nesting.checks.own_places import (
    FOLD_LEANS_DEG,
    SAME_SHAPE_MM,
    arrow_deg,
    is_own_mirror_image,
    opened_out,
    same_outline,
    turned,
)
from nesting.checks.own_rules import comes_out
from nesting.marker.cut_list import CutItem
from nesting.marker.marker import Marker
from pieces.finding import Finding


def empty_findings(marker: Marker) -> Iterator[Finding]:
    """Yield what a marker has nothing of: code ``empty-marker``."""
    if not marker.items:
        yield error("empty-marker", "the cut list is empty, so this marker cuts nothing")
    if not marker.placements:
        yield error("empty-marker", "no piece is laid on this marker")
    for item in marker.items:
        if item.as_drawn + item.turned_over == 0:
            label = f"{item.title} {item.size}"
            yield error("empty-marker", f"{label} is on the cut list, and none is to be cut", label)


def unknown_findings(marker: Marker) -> Iterator[Finding]:
    """Yield each placement of no piece, or in no stretch, of the marker: ``unknown-piece``."""
    known = {item.key for item in marker.items}
    for placement in marker.placements:
        if placement.item not in known:
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


def count_findings(marker: Marker, laid: Sequence[LaidPiece]) -> Iterator[Finding]:
    """Compare what is cut with the cut list.

    Codes: ``missing-copies``, ``extra-copies``, ``unmirrored-pair``.
    """
    cut: dict[str, Counter[str]] = defaultdict(Counter)
    for one in laid:
        drawn, over = comes_out(one.item, one.placement, one.spread)
        cut[one.item.key].update(drawn=drawn, over=over)
    for item in marker.items:
        as_drawn, turned_over = cut[item.key]["drawn"], cut[item.key]["over"]
        label, wanted = f"{item.title} {item.size}", item.as_drawn + item.turned_over
        total = as_drawn + turned_over
        if total < wanted:
            yield error("missing-copies", f"{label}: {total} laid, {wanted} to be cut", label)
        elif total > wanted:
            yield error("extra-copies", f"{label}: {total} laid, {wanted} to be cut", label)
        is_mirrored_wrong = turned_over != item.turned_over and total >= wanted
        if is_mirrored_wrong and not is_own_mirror_image(item.shape):
            yield error(
                "unmirrored-pair",
                f"{label}: {as_drawn} as drawn and {turned_over} turned over; the pattern asks "
                f"for {item.as_drawn} and {item.turned_over}",
                label,
            )


def half_findings(marker: Marker) -> Iterator[Finding]:
    """Yield each half that does not come out as the whole piece: code ``half-not-whole``."""
    for item in marker.items:
        if item.half is not None and not _comes_out_whole(item):
            label = f"{item.title} {item.size}"
            yield error(
                "half-not-whole",
                f"{label}: the half that lies on the fold does not open out to the whole piece",
                label,
            )


def _comes_out_whole(item: CutItem) -> bool:
    """Tell whether the half with its fold edge on y = 0 opens out to the whole piece.

    The half is laid by its fold edge and the whole by its arrow, and the two may lean from each
    other by a tenth of a degree, to either side. So the whole is turned by as much.
    """
    half = item.half
    if half is None or half.fold_edge_mm is None:
        return False
    (x0, y0), (x1, y1) = half.fold_edge_mm
    if max(abs(y0), abs(y1)) > SAME_SHAPE_MM or abs(x1 - x0) < 1.0:
        return False
    opened = opened_out(half.outline_mm, half.fold_edge_mm)
    leans_deg = arrow_deg(half.grainline.tail_mm, half.grainline.head_mm)
    if opened is None or abs(leans_deg) > FOLD_LEANS_DEG:
        return False
    return any(
        same_outline(turned(item.shape.outline_mm, deg), opened) for deg in (leans_deg, -leans_deg)
    )
