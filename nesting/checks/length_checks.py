"""Whether the lengths that a marker tells are those of its pieces and of the rules of the cloth."""

from collections.abc import Iterator, Sequence

from nesting.checks.laid_pieces import TOLERANCE_MM, LaidPiece, error, words
from nesting.checks.own_rules import SECOND_HALF, asked_for_mm, begins_on_mm, taken_mm
from nesting.marker.marker import Marker
from pieces.finding import Finding


def length_findings(marker: Marker, laid: Sequence[LaidPiece]) -> Iterator[Finding]:
    """Compare the lengths in the marker with where pieces and stretches end: ``wrong-length``."""
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
        end_mm = stretch.start_mm + stretch.length_mm
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


def _cloth_reached_mm(one: LaidPiece) -> float:
    """Return how far along the cloth a piece reaches, every layer that lies behind it counted.

    Cloth halved along has to be twice as long as the table is long where its pieces end.
    """
    on_table_mm = float(one.polygon.bounds[2]) - one.stretch.start_mm
    return one.stretch.start_mm + on_table_mm * (2.0 if one.spread in SECOND_HALF else 1.0)


def bought_findings(marker: Marker) -> Iterator[Finding]:
    """Compare what the marker says is bought with what its length comes to.

    Codes: ``wrong-cut-length``, ``wrong-shop-length``. A marker that does not say is not asked.
    """
    told = marker.bought
    if told is None:
        return
    begins_mm, cut_mm = begins_on_mm(marker.bolt), taken_mm(marker.bolt, marker.length_mm)
    if abs(told.begin_on_repeat_mm - begins_mm) > TOLERANCE_MM:
        yield error(
            "wrong-cut-length",
            f"the marker says {words(marker, told.begin_on_repeat_mm)} are bought to begin on the "
            f"repeat, and by its cloth it is {words(marker, begins_mm)}",
        )
    if abs(told.cut_length_mm - cut_mm) > TOLERANCE_MM:
        yield error(
            "wrong-cut-length",
            f"the marker says it takes {words(marker, told.cut_length_mm)} of cloth, and its "
            f"length comes to {words(marker, cut_mm)}",
        )
    shop_mm = asked_for_mm(marker.bolt, cut_mm)
    if shop_mm is None:
        yield error("wrong-shop-length", "the steps of the shop are too fine for this length")
    elif abs(told.shop_length_mm - shop_mm) > TOLERANCE_MM:
        yield error(
            "wrong-shop-length",
            f"the marker says to ask for {words(marker, told.shop_length_mm)}, and its length "
            f"comes to {words(marker, shop_mm)}",
        )


def length_left_findings(marker: Marker) -> Iterator[Finding]:
    """Yield a finding if the lay takes more than is left of the bolt: ``beyond-length-left``."""
    left_mm, cut_mm = marker.bolt.length_left_mm, taken_mm(marker.bolt, marker.length_mm)
    if left_mm is not None and cut_mm > left_mm + TOLERANCE_MM:
        yield error(
            "beyond-length-left",
            f"the lay takes {words(marker, cut_mm)} of cloth, and {words(marker, left_mm)} of "
            f"this bolt is left: {words(marker, cut_mm - left_mm)} too little",
        )
