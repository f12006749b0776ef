"""Circle skirts: from the waist to the two radii, and to the cloth they take in one piece."""

from enum import Enum

from nesting.errors import ReckoningError
from nesting.reckoning.limits import need_above_zero, need_not_negative
from pieces.shaping.shapes import arc_radius_mm


class CirclePart(Enum):
    """How much of a circle the skirt is."""

    FULL = "full"
    HALF = "half"
    THIRD = "third"
    QUARTER = "quarter"

    @property
    def share(self) -> float:
        """Share of the whole circle, 0 to 1."""
        return _SHARES[self]


_SHARES = {
    CirclePart.FULL: 1.0,
    CirclePart.HALF: 1.0 / 2.0,
    CirclePart.THIRD: 1.0 / 3.0,
    CirclePart.QUARTER: 1.0 / 4.0,
}
# Least box around the sector with a straight edge along the cloth, in outer radii: along, across.
_BOXES = {
    CirclePart.FULL: (2.0, 2.0),
    CirclePart.HALF: (2.0, 1.0),
    CirclePart.THIRD: (1.5, 1.0),  # 120 degrees from the edge: 1 to the right, cos 120 = 1/2 left
    CirclePart.QUARTER: (1.0, 1.0),
}


def waist_radius_mm(
    waist_mm: float, part: CirclePart, *, seams_mm: float = 0.0, waist_seam_mm: float = 0.0
) -> float:
    r"""Return the radius at which the waist is cut.

    .. math:: r = \frac{W + seams}{2 \pi \cdot share} - waist\ seam

    Sources: *Circle and half circle skirt formulas*, prettyquirkypants.com; *Circle Skirt
    Formula*, smartpatternmaking.com, which adds the side seams and takes off the waist seam.

    Parameters
    ----------
    waist_mm
        Finished waist along the curve, mm: the arc, not a straight line across it.
    part
        Full, half, third or quarter circle.
    seams_mm
        All seam allowances that the arc must hold, added up, mm.
    waist_seam_mm
        Allowance at the waist edge, taken off the radius, mm.

    Raises
    ------
    ReckoningError
        If a measure is out of range or the seam takes the whole radius.

    Examples
    --------
    >>> round(waist_radius_mm(1000.0, CirclePart.FULL), 2)
    159.15
    """
    need_above_zero("waist", waist_mm)
    need_not_negative("side seams", seams_mm)
    need_not_negative("waist seam", waist_seam_mm)
    radius_mm = arc_radius_mm(waist_mm + seams_mm, 360.0 * part.share) - waist_seam_mm
    if radius_mm <= 0.0:
        raise ReckoningError(
            f"a waist seam of {waist_seam_mm:g} mm leaves no radius for a waist of "
            f"{waist_mm:g} mm; check both measures"
        )
    return radius_mm


def outer_radius_mm(radius_mm: float, length_mm: float, *, hem_mm: float = 0.0) -> float:
    """Return the radius at which the hem is cut: waist radius, length and hem added up.

    Raises
    ------
    ReckoningError
        If a measure is out of range.

    Examples
    --------
    >>> outer_radius_mm(160.0, 600.0, hem_mm=10.0)
    770.0
    """
    need_above_zero("waist radius", radius_mm)
    need_above_zero("length of the skirt", length_mm)
    need_not_negative("hem", hem_mm)
    return radius_mm + length_mm + hem_mm


def cloth_in_one_piece_mm(outer_mm: float, part: CirclePart) -> tuple[float, float]:
    """Return length and width of cloth that hold the skirt in one piece, a straight edge along it.

    By geometry: the box around the sector.

    Raises
    ------
    ReckoningError
        If the radius is not above zero.

    Examples
    --------
    >>> cloth_in_one_piece_mm(800.0, CirclePart.HALF)
    (1600.0, 800.0)
    """
    need_above_zero("outer radius", outer_mm)
    along, across = _BOXES[part]
    return along * outer_mm, across * outer_mm
