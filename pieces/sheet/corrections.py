"""Facts about a piece put right: its title, its grainline, whether it is one-way, how many."""

from dataclasses import replace

import numpy as np

from pieces.errors import PieceError
from pieces.grainline import Grainline
from pieces.outline.transform import turn
from pieces.pattern import Pattern
from pieces.piece import Cut, PieceShape

SAME_DEG = 1e-6


def corrected(
    pattern: Pattern,
    name: str,
    *,
    title: str | None = None,
    grain_deg: float | None = None,
    one_way: bool | None = None,
    cuts: tuple[Cut, ...] | None = None,
) -> Pattern:
    """Return a pattern with one piece put right; what is None stays as it is.

    Parameters
    ----------
    pattern, name
        Which piece of which pattern.
    title
        What people call the piece; one that is empty leaves it as it is.
    grain_deg
        Direction of the grainline in the first size, degrees anticlockwise from the x axis of the
        drawing. The arrow is turned about its middle, in every size by as much.
    one_way
        True if every copy must point the same way.
    cuts
        How many to cut from each cloth.

    Raises
    ------
    UnknownNameError
        If there is no such piece.
    PiecesError
        If the piece, or the pattern, contradicts itself then.
    """
    piece = pattern.piece(name)
    shapes = piece.shapes
    if grain_deg is not None:
        if not -360.0 <= grain_deg <= 360.0:
            raise PieceError(
                f'grainline of "{name}" at {grain_deg:g} degrees; give an angle from -360 to 360'
            )
        first = shapes[next(iter(shapes))]
        by_deg = grain_deg - first.grainline.angle_deg
        if abs(by_deg) > SAME_DEG:
            shapes = {size: _turned(shape, by_deg) for size, shape in shapes.items()}
    right = replace(
        piece,
        title=title or piece.title,
        shapes=shapes,
        one_way=piece.one_way if one_way is None else one_way,
        cuts=piece.cuts if cuts is None else cuts,
    )
    return replace(
        pattern, pieces=tuple(right if one.name == name else one for one in pattern.pieces)
    )


def _turned(shape: PieceShape, by_deg: float) -> PieceShape:
    """Return a shape with its arrow turned about its middle."""
    ends = np.array([shape.grainline.tail_mm, shape.grainline.head_mm])
    middle = ends.mean(axis=0)
    tail, head = (turn(ends - middle, by_deg) + middle).tolist()
    return replace(shape, grainline=Grainline(tuple(tail), tuple(head)))
