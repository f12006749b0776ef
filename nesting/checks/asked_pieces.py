"""What garments take of a cloth, read off the pattern sheet by the judge itself."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from nesting.marker.cut_list import CutItem, Selection
from pieces.pattern import Pattern
from pieces.piece import Piece, PieceShape

_FOR_WHOM = " for "
"""An order tells its pieces apart by what stands behind this, on key and size."""


@dataclass(frozen=True)
class Wanted:
    """One piece in one size, and how many of it some garments take.

    Parameters
    ----------
    piece, size
        Which.
    shape
        As it is drawn on the sheet: the half, for a piece on the fold.
    as_drawn, turned_over
        How many each way up.
    garments
        Numbers of the garments that take it, from 1 in the order of the selections.
    """

    piece: Piece
    size: str
    shape: PieceShape
    as_drawn: int
    turned_over: int
    garments: frozenset[int]

    @property
    def key(self) -> tuple[str, str]:
        """Piece and size."""
        return self.piece.name, self.size

    @property
    def label(self) -> str:
        """What people call it."""
        return f"{self.piece.title} {self.size}"


def wanted_pieces(
    pattern: Pattern, selections: Sequence[Selection], cloth: str
) -> dict[tuple[str, str], Wanted]:
    """Return what the garments take of one cloth, by piece and size.

    Parameters
    ----------
    pattern, selections, cloth
        The selections name views and sizes that the pattern has.
    """
    pieces = {piece.name: piece for piece in pattern.pieces}
    views = {view.name: view.pieces for view in pattern.views}
    counts: dict[tuple[str, str], list[int]] = {}
    garments: dict[tuple[str, str], set[int]] = {}
    before = 0
    for one in selections:
        numbers = range(before + 1, before + one.garments + 1)
        before += one.garments
        for name in views[one.view]:
            for cut in pieces[name].cuts:
                if cut.cloth != cloth:
                    continue
                over = cut.count / 2 if cut.pair else 0
                total = counts.setdefault((name, one.size), [0, 0])
                total[0] += int(one.garments * (cut.count - over))
                total[1] += int(one.garments * over)
                garments.setdefault((name, one.size), set()).update(numbers)
    return {
        (name, size): Wanted(
            piece=pieces[name],
            size=size,
            shape=pieces[name].shapes[size],
            as_drawn=drawn,
            turned_over=over,
            garments=frozenset(garments[name, size]),
        )
        for (name, size), (drawn, over) in counts.items()
    }


def wanted_of(item: CutItem, wanted: Iterable[Wanted]) -> Wanted | None:
    """Return which of the pieces wanted an item of a cut list is, or None.

    Its key is piece and size, and its size the size, each perhaps with a word for whom it is cut.
    """
    fitting = [
        one
        for one in wanted
        if _is_called(item.key, f"{one.piece.name} {one.size}") and _is_called(item.size, one.size)
    ]
    return max(fitting, key=lambda one: len(one.piece.name) + len(one.size), default=None)


def _is_called(found: str, name: str) -> bool:
    return found == name or found.startswith(name + _FOR_WHOM)
