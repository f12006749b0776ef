"""The grainline: how a piece must lie to the threads of the cloth."""

import math
from dataclasses import dataclass
from enum import StrEnum

from pieces.errors import PieceError

Point = tuple[float, float]


class Grain(StrEnum):
    """Which way the grainline arrow lies on the cloth.

    An arrow that a pattern prints lies along the warp, slanted or not. A piece that is said to be
    cut on the bias has no arrow of its own: what points up its drawing lies at 45 degrees to the
    threads, and its arrow here only says which way that is.
    """

    LENGTHWISE = "lengthwise"
    CROSSWISE = "crosswise"
    BIAS = "bias"
    FREE = "free"


@dataclass(frozen=True)
class Grainline:
    """The arrow drawn on a piece, from tail to head; the head is the top of the garment.

    Parameters
    ----------
    tail_mm, head_mm
        End points in the coordinates of the piece's outline, mm.

    Raises
    ------
    PieceError
        If the two points are less than 1 mm apart: such an arrow has no direction.
    """

    tail_mm: Point
    head_mm: Point

    def __post_init__(self) -> None:
        """Refuse an arrow too short to have a direction."""
        length_mm = math.dist(self.tail_mm, self.head_mm)
        if not length_mm >= 1.0:
            raise PieceError(
                f"grainline from {self.tail_mm} to {self.head_mm} is {length_mm:g} mm long; "
                "it needs at least 1 mm to have a direction"
            )

    @property
    def angle_deg(self) -> float:
        """Direction of the arrow, degrees anticlockwise from +x, in (-180, 180].

        Examples
        --------
        >>> Grainline((0.0, 0.0), (0.0, 50.0)).angle_deg
        90.0
        """
        (x0, y0), (x1, y1) = self.tail_mm, self.head_mm
        return math.degrees(math.atan2(y1 - y0, x1 - x0))
