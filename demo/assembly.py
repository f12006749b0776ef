"""From drafted shapes to pieces, and the sentences that all four pattern sheets share."""

from collections.abc import Callable, Mapping
from typing import TypeVar

from demo.drafting import Drafted
from pieces.marks import MatchWay
from pieces.piece import Cut, Piece

Measured = TypeVar("Measured")

CAUTIONS = (
    "Scissors, rotary cutters and pins are sharp: cut away from your fingers and count the pins.",
    "An iron and its steam burn: set it on its heel, and switch it off when you leave the table.",
    "Where your workroom, school or theatre has rules of its own, follow those first.",
)
"""Cautions of every sheet; they give way to local rules."""

_MATCHED_BOTH_WAYS = ("centre", "pocket, front end")


def matching(pieces: tuple[Piece, ...]) -> dict[str, MatchWay]:
    """Return what meets both ways on a plaid: centres, and pocket welts with their fronts.

    Everything else meets along the cloth, as if nothing were said.
    """
    shapes = (shape for piece in pieces for shape in piece.shapes.values())
    names = dict.fromkeys(mark.name for shape in shapes for mark in shape.match_points)
    return {name: MatchWay.BOTH for name in names if name.startswith(_MATCHED_BOTH_WAYS)}


def cut(cloth: str, count: int) -> Cut:
    """Return a plain cut count."""
    return Cut(cloth, count)


def pairs(cloth: str, count: int) -> Cut:
    """Return a cut count of which half is cut turned over."""
    return Cut(cloth, count, pair=True)


def drafted_piece(
    table: Mapping[str, Measured],
    draft: Callable[[Measured], Drafted],
    *,
    name: str,
    title: str,
    cuts: tuple[Cut, ...],
    note: str = "",
) -> Piece:
    """Return the piece that ``draft`` draws, with a shape for every row of the table."""
    shapes = {size: draft(measured).shape() for size, measured in table.items()}
    return Piece(name=name, title=title, cuts=cuts, shapes=shapes, note=note)
