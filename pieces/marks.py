"""Marks carried by a piece: notches, match points, drill holes and internal lines."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from pieces.errors import PieceError
from pieces.grainline import Point
from pieces.outline.polygon import FloatArray


@dataclass(frozen=True)
class Notch:
    """A small mark on the cut edge that tells which edges meet.

    Parameters
    ----------
    at_mm
        Place on the outline, mm.
    """

    at_mm: Point


@dataclass(frozen=True)
class MatchPoint:
    """A named point on the seam line; points of one name must meet in the pattern of the cloth.

    Parameters
    ----------
    name
        The same name on two pieces says that these points are sewn together.
    at_mm
        Place on the seam line, mm.
    """

    name: str
    at_mm: Point


class MatchWay(StrEnum):
    """In which directions the points of one name meet in a design that repeats.

    A point not told of is matched along: at a side seam a match across cannot hold in general,
    if one at the centre is to hold as well.
    """

    ALONG = "along"
    ACROSS = "across"
    BOTH = "both"
    NONE = "none"


def match_way(matching: Mapping[str, MatchWay], name: str) -> MatchWay:
    """Return how the points called ``name`` are matched: along, if nothing is said of them.

    Examples
    --------
    >>> match_way({}, "side at waist").value
    'along'
    """
    return matching.get(name, MatchWay.ALONG)


@dataclass(frozen=True)
class DrillHole:
    """A point marked inside a piece, for a pocket corner or a dart tip.

    Parameters
    ----------
    at_mm
        Place inside the outline, mm.
    """

    at_mm: Point


@dataclass(frozen=True, eq=False)
class InternalLine:
    """A line drawn on a piece and not cut, such as a dart leg or a pocket place.

    Parameters
    ----------
    name
        What the line is for.
    points_mm
        Vertices, shape (n, 2), n at least 2, mm. Kept read-only.

    Raises
    ------
    PieceError
        If there are fewer than two points or one is not a finite pair.
    """

    name: str
    points_mm: FloatArray

    def __post_init__(self) -> None:
        """Copy the points, check them and make them read-only."""
        points = np.array(self.points_mm, dtype=np.float64)
        if points.ndim != 2 or points.shape[1] != 2 or len(points) < 2:
            raise PieceError(f'internal line "{self.name}" needs at least two (x, y) points')
        if not np.isfinite(points).all():
            raise PieceError(f'internal line "{self.name}" has a point that is not a finite number')
        points.setflags(write=False)
        object.__setattr__(self, "points_mm", points)

    def __eq__(self, other: object) -> bool:
        """Compare name and every coordinate exactly."""
        if not isinstance(other, InternalLine):
            return NotImplemented
        return self.name == other.name and np.array_equal(self.points_mm, other.points_mm)

    def __hash__(self) -> int:
        """Hash by name and number of points."""
        return hash((self.name, len(self.points_mm)))
