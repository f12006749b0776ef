"""Boxes with match points, small enough to know where every point comes to lie."""

from collections.abc import Mapping

import numpy as np

from nesting.cloth.repeat import Repeat
from nesting.marker.cut_list import Selection, cut_list
from pieces.grainline import Grain, Grainline, Point
from pieces.marks import MatchPoint, MatchWay
from pieces.pattern import ClothNeed, Pattern, View
from pieces.piece import Cut, Piece, PieceShape

ALONG_AND_ACROSS = Repeat(along_mm=100.0, across_mm=100.0)


def boxed(
    name: str,
    *,
    pair: bool = False,
    on_fold: bool = False,
    grain: str = "lengthwise",
    **points: Point,
) -> Piece:
    """Return a box 60 mm wide and 200 mm long, its arrow up, with points named by keyword.

    Points are told from the lower left corner, x across the piece and y up. A box on the fold has
    its fold edge at x = 0.
    """
    shape = PieceShape(
        outline_mm=np.array([(0, 0), (60, 0), (60, 200), (0, 200)], dtype=np.float64),
        grainline=Grainline((20.0, 20.0), (20.0, 180.0)),
        fold_edge_mm=((0.0, 0.0), (0.0, 200.0)) if on_fold else None,
        match_points=tuple(MatchPoint(point, at) for point, at in points.items()),
    )
    return Piece(
        name=name,
        title=name.capitalize(),
        cuts=(Cut("shell", 2 if pair else 1, pair),),
        shapes={"M": shape},
        grain=Grain(grain),
    )


def matched_pattern(*pieces: Piece, matching: Mapping[str, MatchWay] | None = None) -> Pattern:
    """Return a pattern of one view, one size and one cloth."""
    return Pattern(
        name="Matched",
        sizes=("M",),
        pieces=pieces,
        views=(View("A", tuple(piece.name for piece in pieces)),),
        cloths=(ClothNeed("shell"),),
        matching=matching or {},
    )


def drawn_box(pattern: Pattern, piece: str, point: str) -> Point:
    """Return where a point of a piece lies in the cut list, its arrow along x."""
    items = cut_list(pattern, (Selection("A", "M"),), "shell")
    [shape] = [item.shape for item in items if item.key == f"{piece} M"]
    return next(mark.at_mm for mark in shape.match_points if mark.name == point)
