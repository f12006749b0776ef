"""Where one piece of the cut list lies, and what comes of cutting there."""

from dataclasses import dataclass

from nesting.cloth.spread import HALVED_ACROSS, LAYERS, Spread
from nesting.marker.cut_list import CutItem, placed_shape
from pieces.piece import PieceShape


@dataclass(frozen=True)
class Placement:
    """One outline laid on the cloth.

    The item's shape (the half, where it lies on a fold) is flipped if ``flipped`` (x becomes -x),
    turned about the origin by ``turn_deg``, then moved by (``x_mm``, ``y_mm``).

    Parameters
    ----------
    item
        Key of the cut item.
    number
        Counts the placements of one item from 1.
    stretch
        Number of the stretch it lies in, from 0.
    turn_deg, flipped
        How it lies.
    x_mm
        From the cut end of the whole lay. Where two layers take turns along the cloth, this is
        the first of them, from the start of the stretch to half its length.
    y_mm
        From the lower edge of the table: the fold, or the inner edge of the selvage.
    garment
        Number of the garment that the pieces cut here belong to, from 1 in the order of the
        selections; 0 where the garments need not be told apart.
    """

    item: str
    number: int
    stretch: int
    turn_deg: float
    flipped: bool
    x_mm: float
    y_mm: float
    garment: int = 0


def lies_on_fold(item: CutItem, spread: Spread) -> bool:
    """Tell whether the item is laid as a half with its fold edge on the fold."""
    return spread in HALVED_ACROSS and item.half is not None


def pieces_cut(item: CutItem, placement: Placement, spread: Spread) -> tuple[int, int]:
    """Return how many pieces as drawn and how many turned over one placement yields.

    In two layers both are cut: a pair, or one whole piece where it lies on the fold.
    """
    if lies_on_fold(item, spread):
        return 1, 0
    if LAYERS[spread] == 2:
        return 1, 1
    return (0, 1) if placement.flipped else (1, 0)


def lying_shape(item: CutItem, placement: Placement, spread: Spread) -> PieceShape:
    """Return the shape with all its marks where the placement puts it, mm."""
    on_fold = lies_on_fold(item, spread)
    return placed_shape(
        item.half if on_fold and item.half is not None else item.shape,
        turn_deg=placement.turn_deg,
        flipped=placement.flipped,
        x=placement.x_mm,
        y=placement.y_mm,
    )
