"""One line or point of a drawing in mm, with the part it plays, before pieces are made of them."""

from dataclasses import dataclass

import numpy as np

from pieces.drawing.drawing import Fact
from pieces.drawing.labels import Role
from pieces.grainline import Point
from pieces.outline.polygon import FloatArray


@dataclass(frozen=True, eq=False, kw_only=True)
class Mark:
    """A line or a point as it was drawn.

    Parameters
    ----------
    points_mm
        Shape (n, 2), mm, y up; one point alone for a point.
    closed
        Whether the end is joined to the start.
    role
        The part it plays, or None if nothing says so.
    name
        Name of the match point, internal line or piece, or empty.
    size
        Size of the piece it names, or empty.
    group
        Number of the piece group it stands in, or None.
    """

    points_mm: FloatArray
    closed: bool = False
    role: Role | None = None
    name: str = ""
    size: str = ""
    group: int | None = None

    @property
    def middle_mm(self) -> Point:
        """The middle of its box: a small circle, cross or square stands for this point."""
        x, y = (0.5 * (self.points_mm.min(axis=0) + self.points_mm.max(axis=0))).tolist()
        return x, y

    def chain_mm(self) -> FloatArray:
        """Return its points, the first repeated at the end of a closed line, shape (m, 2)."""
        if not self.closed or np.array_equal(self.points_mm[0], self.points_mm[-1]):
            return self.points_mm
        return np.concatenate((self.points_mm, self.points_mm[:1]))


@dataclass(frozen=True, kw_only=True)
class Writing:
    """A text of the form ``Identifier: value``, where it stands, and in which piece group."""

    fact: Fact
    at_mm: Point
    group: int | None = None


@dataclass(frozen=True, kw_only=True)
class Group:
    """A group of a drawing that is one piece.

    Parameters
    ----------
    name, size
        As its label says, or empty.
    facts
        From its attributes.
    origin_mm
        Where the origin of the piece's own coordinates lies on the page, mm.
    """

    name: str = ""
    size: str = ""
    facts: tuple[Fact, ...] = ()
    origin_mm: Point = (0.0, 0.0)


@dataclass(frozen=True, kw_only=True)
class Marks:
    """All that was read of a drawing."""

    marks: tuple[Mark, ...]
    words: tuple[Writing, ...] = ()
    groups: tuple[Group, ...] = ()
    facts: tuple[Fact, ...] = ()
    notes: tuple[str, ...] = ()
