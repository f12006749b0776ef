"""Bias strips: how much comes out of a square, and how much cloth so many strips take.

The area rule says what would come out if no thread were lost. Published counts of real strips
fall short of it, so the loss is a parameter: see :data:`LOSS_SMALL_SQUARE` and
:data:`LOSS_MANY_JOINS`.
"""

import math

from nesting.reckoning.limits import need_above_zero, need_between, need_not_negative, whole_times
from pieces.measures.shop_step import round_up_to_step_mm
from pieces.measures.units import MM_PER_INCH

LOSS_SMALL_SQUARE = 0.17
"""A 12 in square gave some 60 in of 2 in strip, the area rule says 72 in (ronbd.com)."""
LOSS_MANY_JOINS = 1.0 / 3.0
"""One yard of cloth cut to 1 1/4 in bias strips realised 65 to 68 % of its area (sailrite.com)."""
_MOST_LOSS = 0.9


def strip_length_mm(area_mm2: float, strip_mm: float, *, loss: float = 0.0) -> float:
    r"""Return the length of strip that comes out of an area.

    .. math:: l = \frac{A \cdot (1 - loss)}{w}

    Source: forum FAQ, mydecozo.co.uk; *Continuous bias binding formulas*,
    getasquiltingstudio.com.

    Parameters
    ----------
    area_mm2
        Cloth that is cut up, mm2.
    strip_mm
        Cut width of the strip, mm.
    loss
        Share lost to trimming and joins, 0 to 0.9. None by default, as the sources reckon: then
        the answer is the most that can come out.

    Raises
    ------
    ReckoningError
        If a measure is out of range.

    Examples
    --------
    A square of 500 mm gives 5 m of 50 mm strip:

    >>> strip_length_mm(500.0 * 500.0, 50.0)
    5000.0
    """
    need_above_zero("area", area_mm2, "mm2")
    need_above_zero("strip width", strip_mm)
    need_between("share lost", loss, 0.0, _MOST_LOSS)
    return area_mm2 * (1.0 - loss) / strip_mm


def strip_from_square_mm(
    side_mm: float, strip_mm: float, *, seam_loss_mm: float = 0.0, loss: float = 0.0
) -> float:
    """Return the length of continuous strip that comes out of a square.

    Source: victoryautony.com takes a quarter of an inch off the side for the seams of the tube;
    the others named in this module do not.

    Parameters
    ----------
    side_mm, strip_mm
        Side of the square and cut width of the strip, mm.
    seam_loss_mm
        Taken off the side for the seams that join the strip, mm; 0 as most sources reckon.
    loss
        As for :func:`strip_length_mm`.

    Raises
    ------
    ReckoningError
        If a measure is out of range or the seams eat the whole square.
    """
    need_above_zero("side of the square", side_mm)
    need_not_negative("side lost to seams", seam_loss_mm)
    need_above_zero("side left beside the seams", side_mm - seam_loss_mm)
    return strip_length_mm((side_mm - seam_loss_mm) ** 2, strip_mm, loss=loss)


def square_side_mm(
    length_mm: float, strip_mm: float, *, loss: float = 0.0, step_mm: float = MM_PER_INCH
) -> float:
    r"""Return the side of the square that gives so much bias strip, rounded up.

    .. math:: s = \sqrt{\frac{l \cdot w}{1 - loss}}

    Source: forum FAQ, mydecozo.co.uk; *How much fabric for bias binding*,
    quiltersquestiontime.com.

    Parameters
    ----------
    length_mm, strip_mm
        Length of strip wanted and its cut width, mm.
    loss
        Share lost to trimming and joins. None by default, as the sources reckon; take
        :data:`LOSS_SMALL_SQUARE` to be safe.
    step_mm
        The side is rounded up to this, mm: one inch in the sources.

    Raises
    ------
    ReckoningError
        If a measure is out of range.

    Examples
    --------
    >>> square_side_mm(5000.0, 50.0, step_mm=10.0)
    500.0
    """
    need_above_zero("length of strip", length_mm)
    need_above_zero("strip width", strip_mm)
    need_between("share lost", loss, 0.0, _MOST_LOSS)
    need_above_zero("rounding step", step_mm)
    return round_up_to_step_mm(math.sqrt(length_mm * strip_mm / (1.0 - loss)), step_mm)


def length_across_mm(area_mm2: float, width_mm: float, *, step_mm: float = MM_PER_INCH) -> float:
    """Return how much to buy of a cloth so wide to have an area, rounded up.

    Source: getasquiltingstudio.com turns an 18 in square into 8 in of cloth 42 in wide.

    Raises
    ------
    ReckoningError
        If a measure is not above zero.
    """
    need_above_zero("area", area_mm2, "mm2")
    need_above_zero("width of the cloth", width_mm)
    need_above_zero("rounding step", step_mm)
    return round_up_to_step_mm(area_mm2 / width_mm, step_mm)


def strips_from_width(length_mm: float, width_mm: float) -> int:
    """Return how many strips across the cloth make up a length, rounded up; joins not counted.

    Source: welt cord thread, forum.upholster.com.

    Raises
    ------
    ReckoningError
        If a length is not above zero.

    Examples
    --------
    >>> strips_from_width(2500.0, 1000.0)
    3
    """
    need_above_zero("length of strip", length_mm)
    need_above_zero("width of the cloth", width_mm)
    return whole_times(length_mm, width_mm)


def cloth_for_strips_mm(length_mm: float, width_mm: float, strip_mm: float) -> float:
    """Return the length of cloth from which that many strips are cut, mm.

    Raises
    ------
    ReckoningError
        If a length is not above zero.
    """
    need_above_zero("strip width", strip_mm)
    return strips_from_width(length_mm, width_mm) * strip_mm
