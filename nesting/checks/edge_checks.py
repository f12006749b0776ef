"""Whether each piece lies on the cloth, along its grain and on its fold."""

from collections.abc import Iterator

from nesting.checks.laid_pieces import TOLERANCE_DEG, TOLERANCE_MM, LaidPiece, error, words
from nesting.checks.own_places import FOLD_LEANS_DEG
from nesting.checks.own_rules import (
    SECOND_HALF,
    keeps_one_direction,
    off_grain_deg,
    off_top_deg,
    table_length_mm,
    table_width_mm,
)
from nesting.cloth.spread import Spread
from nesting.marker.marker import Marker
from pieces.finding import Finding


def outside_findings(marker: Marker, one: LaidPiece) -> Iterator[Finding]:
    """Yield each edge of the cloth that a piece reaches beyond: code ``outside-cloth``."""
    stretch = one.stretch
    low_x, low_y, high_x, high_y = one.polygon.bounds
    halved = one.spread in SECOND_HALF
    end = "the place where the cloth is halved" if halved else "the end of its stretch"
    beyond_mm = {
        "the start of its stretch": stretch.start_mm - low_x,
        end: high_x - (stretch.start_mm + table_length_mm(stretch)),
        "the lower edge of the cloth": -low_y,
        "the upper edge of the cloth": high_y - table_width_mm(marker.bolt, one.spread),
    }
    for edge, by_mm in beyond_mm.items():
        if by_mm > TOLERANCE_MM:
            yield error(
                "outside-cloth",
                f"{one.label} reaches {words(marker, by_mm)} beyond {edge}",
                one.label,
            )


def middle_findings(marker: Marker, one: LaidPiece) -> Iterator[Finding]:
    """Yield a piece on a double fold that lies across the middle, where the selvages meet."""
    if one.spread is not Spread.DOUBLE:
        return
    _, low_mm, _, high_mm = one.polygon.bounds
    middle_mm = table_width_mm(marker.bolt, one.spread) / 2.0
    by_mm = min(high_mm - middle_mm, middle_mm - low_mm)
    if by_mm > TOLERANCE_MM:
        yield error(
            "across-middle",
            f"{one.label} reaches {words(marker, by_mm)} across the middle, where the selvages "
            "meet",
            one.label,
        )


def direction_findings(marker: Marker, one: LaidPiece) -> Iterator[Finding]:
    """Compare the arrow with what grain and cloth permit, in each layer; yield the first fault."""
    for layer in one.layers[:1] if one.is_on_fold else one.layers:
        turned_over = one.placement.flipped is not layer.is_mirrored and not one.is_on_fold
        points_deg = layer.direction_deg(one.shape.arrow_deg)
        found = _one_direction(marker, one, points_deg, turned_over=turned_over)
        if found is not None:
            yield found
            return


def _one_direction(
    marker: Marker, one: LaidPiece, points_deg: float, *, turned_over: bool
) -> Finding | None:
    """Return what is wrong with the arrow of one piece as it is cut from open cloth, or None.

    A half lies by its fold edge, from which its arrow may lean as much as it does on paper.
    """
    item, bolt = one.item, marker.bolt
    lean_deg = max(marker.rules.tilt_deg, FOLD_LEANS_DEG if one.is_on_fold else 0.0) + TOLERANCE_DEG
    off_deg = off_grain_deg(points_deg, item.grain, turned_over=turned_over)
    if off_deg > lean_deg:
        return error(
            "off-grain",
            f"{one.label} lies {off_deg:.2f} degrees off its {item.grain} grain",
            one.label,
        )
    if not keeps_one_direction(bolt) and not item.one_way:
        return None
    if off_top_deg(points_deg, item.grain, turned_over=turned_over) <= lean_deg:
        return None
    why = "the cloth has nap" if bolt.nap else "the piece is one-way"
    if keeps_one_direction(bolt) and not bolt.nap:
        why = "the repeat of the cloth is uneven"
    return error("wrong-direction", f"{one.label} points the wrong way, and {why}", one.label)


def fold_findings(marker: Marker, one: LaidPiece) -> Iterator[Finding]:
    """Yield how far the fold edge of a half piece is off the nearest fold: ``off-fold``."""
    edge_mm = one.shape.fold_edge_mm
    if not one.is_on_fold or edge_mm is None:
        return
    folds_mm = [0.0]
    if one.spread is Spread.DOUBLE:
        folds_mm.append(table_width_mm(marker.bolt, one.spread))
    off_mm = min(float(abs(edge_mm[:, 1] - fold_mm).max()) for fold_mm in folds_mm)
    if off_mm > TOLERANCE_MM:
        yield error(
            "off-fold",
            f"{one.label} must lie with its fold edge on the fold and is {off_mm:.2f} mm off it",
            one.label,
        )
