"""The cut list: every piece to cut from one cloth, in the frame of the cloth."""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import shapely

from nesting.errors import LayError
from pieces.grainline import Grain, Grainline, Point
from pieces.outline.polygon import FloatArray, bounds_mm
from pieces.outline.transform import place, place_outline
from pieces.pattern import Pattern
from pieces.piece import Piece, PieceShape
from pieces.shaping.unfold import unfold

SAME_SHAPE_MM = 0.05
FOLD_OFF_GRAIN_DEG = 0.1
MOST_PIECES = 5000
"""Pieces that one lay may hold: a single fill of so many takes about a minute."""


@dataclass(frozen=True)
class Selection:
    """One garment or several alike: a view, a size and how many.

    Raises
    ------
    LayError
        If fewer than one garment is asked for.
    """

    view: str
    size: str
    garments: int = 1

    def __post_init__(self) -> None:
        """Refuse an order for nothing."""
        if self.garments < 1:
            raise LayError(f"{self.garments} garments of size {self.size}: ask for at least one")


@dataclass(frozen=True, kw_only=True)
class CutItem:
    """One piece in one size, and how many of it to cut.

    Parameters
    ----------
    key
        Unique in the cut list: piece name and size.
    title
        What is written on the piece.
    size
        Size name.
    grain, one_way
        The piece's rules.
    shape
        The whole piece with its grainline arrow along +x, mm. A half piece is opened out.
    half
        For a half piece whose fold edge runs along the grain: the half with its fold edge on
        y = 0 and its body above, arrow along +x; None for every other piece.
    as_drawn, turned_over
        How many to cut printed side up, and how many mirrored.
    garments
        Numbers of the garments it is cut for, from 1 in the order of the selections; each takes
        an equal share.
    """

    key: str
    title: str
    size: str
    grain: Grain
    one_way: bool
    shape: PieceShape
    half: PieceShape | None
    as_drawn: int
    turned_over: int
    garments: tuple[int, ...] = (1,)

    @property
    def count(self) -> int:
        """Finished pieces to cut."""
        return self.as_drawn + self.turned_over

    def share(self) -> "CutItem":
        """Return what one of its garments takes of it."""
        number = len(self.garments)
        return replace(
            self, as_drawn=self.as_drawn // number, turned_over=self.turned_over // number
        )

    @cached_property
    def is_symmetric(self) -> bool:
        """Whether the piece is its own mirror image across its grainline."""
        outline = self.shape.outline_mm
        mirrored = place_outline(outline, turn_deg=180.0, flipped=True, x=0.0, y=0.0)
        here = shapely.Polygon(outline - outline.min(axis=0))
        there = shapely.Polygon(mirrored - mirrored.min(axis=0))
        return bool(shapely.hausdorff_distance(here, there) <= SAME_SHAPE_MM)


def cut_list(
    pattern: Pattern, selections: tuple[Selection, ...], cloth: str
) -> tuple[CutItem, ...]:
    """Return what to cut from ``cloth`` for all ``selections``, equal pieces added up.

    Raises
    ------
    UnknownNameError
        If the pattern has no such view, size or cloth.
    LayError
        If nothing is cut from this cloth in these views, or more than 5000 pieces.
    PieceError
        If a half piece cannot be opened out about its fold edge.
    """
    items: dict[str, CutItem] = {}
    first = 1
    for selection in selections:
        pattern.size(selection.size)
        garments = tuple(range(first, first + selection.garments))
        first += selection.garments
        for piece in pattern.pieces_for(selection.view, cloth):
            item = _cut_item(piece, selection, cloth, garments)
            before = items.get(item.key)
            items[item.key] = item if before is None else _added(before, item)
    if not items:
        views = ", ".join(sorted({selection.view for selection in selections}))
        raise LayError(
            f'view {views} of "{pattern.name}" cuts nothing from {cloth}; '
            "choose another view or cloth"
        )
    count = sum(item.count for item in items.values())
    if count > MOST_PIECES:
        raise LayError(
            f"{count:,} pieces to cut from {cloth} are more than the {MOST_PIECES:,} that one lay "
            "may hold; check the cut counts, or lay fewer garments at a time"
        )
    return tuple(items.values())


def _cut_item(piece: Piece, selection: Selection, cloth: str, garments: tuple[int, ...]) -> CutItem:
    cut = piece.cut_for(cloth)
    if cut is None:
        raise LayError(f'piece "{piece.name}" is not cut from {cloth}')
    count = cut.count * selection.garments
    turned_over = count // 2 if cut.pair else 0
    drawn = piece.shape(selection.size)
    return CutItem(
        key=f"{piece.name} {selection.size}",
        title=piece.title,
        size=selection.size,
        grain=piece.grain,
        one_way=piece.one_way,
        shape=_along_grain(drawn if drawn.fold_edge_mm is None else unfold(drawn)),
        half=_half_on_fold(drawn, piece.grain),
        as_drawn=count - turned_over,
        turned_over=turned_over,
        garments=garments,
    )


def _added(first: CutItem, second: CutItem) -> CutItem:
    return replace(
        first,
        as_drawn=first.as_drawn + second.as_drawn,
        turned_over=first.turned_over + second.turned_over,
        garments=first.garments + second.garments,
    )


def _along_grain(shape: PieceShape) -> PieceShape:
    """Return the shape turned so that its arrow points along +x, box corner at the origin."""
    turned = placed_shape(shape, turn_deg=-shape.grainline.angle_deg, flipped=False, x=0.0, y=0.0)
    low_x, low_y, _, _ = bounds_mm(turned.outline_mm)
    return placed_shape(turned, turn_deg=0.0, flipped=False, x=-low_x, y=-low_y)


def _half_on_fold(shape: PieceShape, grain: Grain) -> PieceShape | None:
    """Return the half with its fold edge on y = 0 and body above, if it may lie on such a fold."""
    if shape.fold_edge_mm is None or grain not in (Grain.LENGTHWISE, Grain.FREE):
        return None
    (x0, y0), (x1, y1) = shape.fold_edge_mm
    along_deg = float(np.degrees(np.arctan2(y1 - y0, x1 - x0)))
    off_deg = (along_deg - shape.grainline.angle_deg + 90.0) % 180.0 - 90.0
    if abs(off_deg) > FOLD_OFF_GRAIN_DEG:
        return None
    turn_deg = -shape.grainline.angle_deg - off_deg
    turned = placed_shape(shape, turn_deg=turn_deg, flipped=False, x=0.0, y=0.0)
    fold_y = float(np.mean([point[1] for point in turned.fold_edge_mm or ()]))
    if turned.outline_mm[:, 1].mean() < fold_y:
        turned = placed_shape(turned, turn_deg=180.0, flipped=True, x=0.0, y=0.0)
        fold_y = -fold_y
    low_x = float(turned.outline_mm[:, 0].min())
    return placed_shape(turned, turn_deg=0.0, flipped=False, x=-low_x, y=-fold_y)


def placed_shape(
    shape: PieceShape, *, turn_deg: float, flipped: bool, x: float, y: float
) -> PieceShape:
    """Return the shape and all its marks flipped if said, turned, then moved, mm."""

    def moved(points: FloatArray) -> FloatArray:
        return place(points, turn_deg=turn_deg, flipped=flipped, x=x, y=y)

    def moved_point(point: Point) -> Point:
        placed = moved(np.array([point]))[0]
        return float(placed[0]), float(placed[1])

    fold = shape.fold_edge_mm
    return PieceShape(
        outline_mm=place_outline(shape.outline_mm, turn_deg=turn_deg, flipped=flipped, x=x, y=y),
        grainline=Grainline(
            moved_point(shape.grainline.tail_mm), moved_point(shape.grainline.head_mm)
        ),
        fold_edge_mm=None if fold is None else (moved_point(fold[0]), moved_point(fold[1])),
        notches=tuple(replace(mark, at_mm=moved_point(mark.at_mm)) for mark in shape.notches),
        match_points=tuple(
            replace(mark, at_mm=moved_point(mark.at_mm)) for mark in shape.match_points
        ),
        drill_holes=tuple(
            replace(mark, at_mm=moved_point(mark.at_mm)) for mark in shape.drill_holes
        ),
        internal_lines=tuple(
            replace(line, points_mm=moved(line.points_mm)) for line in shape.internal_lines
        ),
    )
