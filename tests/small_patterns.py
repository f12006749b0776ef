"""Small patterns whose markers can be worked out by hand. All lengths mm; arrows point up (+y)."""

from functools import cache

import numpy as np

from nesting.cloth.bolt import Bolt
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.spread import Spread
from nesting.lay import LayRequest, SearchOptions, lay_pieces
from nesting.marker.cut_list import Selection
from nesting.marker.marker import Marker
from pieces.grainline import Grain, Grainline
from pieces.pattern import ClothNeed, Pattern, View
from pieces.piece import Cut, FoldEdge, Piece, PieceShape

QUICK = SearchOptions(effort="quick", workers=1)
ONE = (Selection("A", "M"),)


def shape(
    points: list[tuple[float, float]],
    *,
    fold_edge_mm: FoldEdge | None = None,
    arrow: tuple[tuple[float, float], tuple[float, float]] = ((5.0, 5.0), (5.0, 60.0)),
) -> PieceShape:
    """Return a shape with its arrow pointing up."""
    return PieceShape(
        outline_mm=np.array(points, dtype=np.float64),
        grainline=Grainline(*arrow),
        fold_edge_mm=fold_edge_mm,
    )


def box(wide: float, high: float, *, on_fold: bool = False) -> PieceShape:
    """Return a rectangle, its left edge on the fold if said."""
    fold = ((0.0, 0.0), (0.0, high)) if on_fold else None
    return shape([(0, 0), (wide, 0), (wide, high), (0, high)], fold_edge_mm=fold)


# a right triangle 60 wide and 100 high: no symmetry at all
TRIANGLE = shape([(0, 0), (60, 0), (0, 100)])


def piece(
    name: str,
    drawn: PieceShape,
    *,
    count: int = 1,
    pair: bool = False,
    grain: Grain = Grain.LENGTHWISE,
    one_way: bool = False,
) -> Piece:
    """Return a piece in size M, cut from the shell."""
    return Piece(
        name=name,
        title=name.capitalize(),
        cuts=(Cut("shell", count, pair),),
        shapes={"M": drawn},
        grain=grain,
        one_way=one_way,
    )


def pattern(*pieces: Piece) -> Pattern:
    """Return a pattern of one view, one size and one cloth."""
    return Pattern(
        name="Small",
        sizes=("M",),
        pieces=pieces,
        views=(View("A", tuple(one.name for one in pieces)),),
        cloths=(ClothNeed("shell"),),
    )


def request(
    *pieces: Piece,
    width_mm: float,
    nap: bool = False,
    spread: Spread = Spread.OPEN,
    selvage_mm: float = 0.0,
) -> LayRequest:
    """Return a quick request for one garment of these pieces."""
    return LayRequest(
        pattern=pattern(*pieces),
        selections=ONE,
        cloth="shell",
        bolt=Bolt(width_mm=width_mm, nap=nap, selvage_mm=selvage_mm),
        rules=LayRules(spread),
        search=QUICK,
    )


# pairs, several boxes and many small ones
GARMENT = (
    piece("front", TRIANGLE, count=4, pair=True),
    piece("panel", box(35, 70), count=3),
    piece("tab", box(13, 22), count=5),
)


@cache
def folded_lay() -> Marker:
    """Return a folded lay with a half piece, a pair and a single piece."""
    return lay_pieces(
        request(
            piece("back", box(40, 100, on_fold=True)),
            piece("front", TRIANGLE, count=2, pair=True),
            piece("pocket", TRIANGLE),
            width_mm=300.0,
            spread=Spread.LENGTHWISE,
        )
    ).marker
