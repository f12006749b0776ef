"""A pattern piece: its shape in each size, and how many to cut of each cloth."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from pieces.errors import PieceError, UnknownNameError, cut_short, listed
from pieces.grainline import Grain, Grainline, Point
from pieces.marks import DrillHole, InternalLine, MatchPoint, Notch
from pieces.outline.polygon import FloatArray, as_outline

FoldEdge = tuple[Point, Point]


@dataclass(frozen=True, eq=False, kw_only=True)
class PieceShape:
    """One piece in one size, in the coordinates of its own drawing, mm.

    Parameters
    ----------
    outline_mm
        The cut edge, shape (n, 2): see :func:`pieces.outline.polygon.as_outline`. Kept read-only.
    grainline
        The arrow; its head points to the top of the garment.
    fold_edge_mm
        For a half piece, the two ends of the straight edge that lies on a fold and is not cut.
    notches, match_points, drill_holes, internal_lines
        Marks, in the order they were drawn.

    Raises
    ------
    OutlineError
        If the outline is not simple, not finite, or has no area.
    """

    outline_mm: FloatArray
    grainline: Grainline
    fold_edge_mm: FoldEdge | None = None
    notches: tuple[Notch, ...] = ()
    match_points: tuple[MatchPoint, ...] = ()
    drill_holes: tuple[DrillHole, ...] = ()
    internal_lines: tuple[InternalLine, ...] = ()

    def __post_init__(self) -> None:
        """Bring the outline into the agreed form."""
        object.__setattr__(self, "outline_mm", as_outline(self.outline_mm))

    def __eq__(self, other: object) -> bool:
        """Compare every coordinate and mark exactly."""
        if not isinstance(other, PieceShape):
            return NotImplemented
        return np.array_equal(self.outline_mm, other.outline_mm) and self._marks() == other._marks()

    def __hash__(self) -> int:
        """Hash by marks and number of vertices."""
        return hash((self._marks(), len(self.outline_mm)))

    def _marks(self) -> tuple[object, ...]:
        return (
            self.grainline,
            self.fold_edge_mm,
            self.notches,
            self.match_points,
            self.drill_holes,
            self.internal_lines,
        )


@dataclass(frozen=True)
class Cut:
    """How many of a piece to cut from one cloth.

    Parameters
    ----------
    cloth
        Name of the cloth, such as ``"shell"``.
    count
        Finished pieces, at least 1. A half piece on a fold counts as one when opened out.
    pair
        True if half of them are cut turned over (mirrored), as for a left and a right front.

    Raises
    ------
    PieceError
        If the count is below 1, or a pair is asked for with an odd count.
    """

    cloth: str
    count: int
    pair: bool = False

    def __post_init__(self) -> None:
        """Refuse counts that cannot be cut."""
        if self.count < 1:
            raise PieceError(f'cut count for cloth "{self.cloth}" is {self.count}; cut at least 1')
        if self.pair and self.count % 2:
            raise PieceError(
                f'cut count for cloth "{self.cloth}" is {self.count} as mirrored pairs; '
                "pairs need an even count"
            )


@dataclass(frozen=True, kw_only=True)
class Piece:
    """A pattern piece in all its sizes.

    Parameters
    ----------
    name
        Short word, unique in the pattern.
    title
        What is written on the piece, for people.
    grain
        How the grainline lies on the cloth.
    one_way
        True if every copy must point the same way even on plain cloth.
    cuts
        One entry for each cloth the piece is cut from.
    shapes
        A shape for each size name.
    note
        Anything the cutter should read.

    Raises
    ------
    PieceError
        If there is no shape or no cut, a cloth is named twice, or a half piece is asked for as
        mirrored pairs (opened out it is its own mirror image).
    """

    name: str
    title: str
    cuts: tuple[Cut, ...]
    shapes: Mapping[str, PieceShape]
    grain: Grain = Grain.LENGTHWISE
    one_way: bool = False
    note: str = ""

    def __post_init__(self) -> None:
        """Check the counts against the shapes and freeze the table of shapes."""
        object.__setattr__(self, "shapes", MappingProxyType(dict(self.shapes)))
        if not self.shapes:
            raise PieceError(f'piece "{self.name}" has no shape in any size')
        cloths = [cut.cloth for cut in self.cuts]
        if not cloths:
            raise PieceError(f'piece "{self.name}" is cut from no cloth; give a cut count')
        if len(set(cloths)) < len(cloths):
            raise PieceError(f'piece "{self.name}" names one cloth twice in its cut counts')
        on_fold = any(shape.fold_edge_mm is not None for shape in self.shapes.values())
        if on_fold and any(cut.pair for cut in self.cuts):
            raise PieceError(
                f'piece "{self.name}" is a half piece on a fold and also asked for as a pair; '
                "opened out it is its own mirror image, so give a plain count"
            )

    def __hash__(self) -> int:
        """Hash by name and cuts."""
        return hash((self.name, self.cuts))

    def shape(self, size: str) -> PieceShape:
        """Return the shape in ``size``.

        Raises
        ------
        UnknownNameError
            If the piece has no such size.
        """
        try:
            return self.shapes[size]
        except KeyError:
            raise UnknownNameError(
                f'piece "{self.name}" has no size "{cut_short(size)}"; it has {listed(self.shapes)}'
            ) from None

    def cut_for(self, cloth: str) -> Cut | None:
        """Return the cut count for ``cloth``, or None if the piece is not cut from it."""
        return next((cut for cut in self.cuts if cut.cloth == cloth), None)
