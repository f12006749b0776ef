"""Shrinkage from a swatch: measured before and after washing, along and across.

AATCC TM135 gives the change as ``(after - before) / before`` in per cent, below zero for cloth that
shrinks, length and width separately and to a tenth of a per cent. Shrinkage here is the same
number with the other sign, as a share. A swatch of your own cloth beats every table.
"""

from nesting.errors import ReckoningError
from nesting.reckoning.limits import need_above_zero, need_between

MOST_GROWTH = 0.05
"""Cloth that grew by more than a twentieth was measured wrongly: our own limit."""
MOST_SHRINKAGE = 0.5
"""Nothing sold as dress cloth loses more than half; sources name 20 % for unshrunk cotton."""


def shrinkage_share(
    before_mm: float, after_mm: float, *, most_growth: float = MOST_GROWTH
) -> float:
    r"""Return the shrinkage of a swatch as a share; below zero if it grew a little.

    .. math:: s = \frac{before - after}{before}

    Source: AATCC TM135, *Dimensional Changes of Fabrics after Home Laundering*.

    Parameters
    ----------
    before_mm, after_mm
        The same distance on the swatch before and after washing and drying, mm. Mark it well
        inside the edges, and make it long: 20 cm show one per cent as 2 mm.
    most_growth
        Growth beyond this share is taken for a mistake.

    Raises
    ------
    ReckoningError
        If a length is not above zero, the swatch grew beyond the limit, or lost more than half.

    Examples
    --------
    >>> shrinkage_share(200.0, 190.0)
    0.05
    """
    need_above_zero("swatch before washing", before_mm)
    need_above_zero("swatch after washing", after_mm)
    need_between("allowed growth", most_growth, 0.0, 1.0)
    share = (before_mm - after_mm) / before_mm
    if share < -most_growth - 1e-12:
        raise ReckoningError(
            f"the swatch grew from {before_mm:g} to {after_mm:g} mm, {-share:.1%}, and more than "
            f"{most_growth:.1%} is not believed; measure again, or check that before and after "
            "are not swapped"
        )
    if share > MOST_SHRINKAGE:
        raise ReckoningError(
            f"the swatch shrank from {before_mm:g} to {after_mm:g} mm, {share:.1%}, and more than "
            f"{MOST_SHRINKAGE:.0%} is not believed; check both measures and their units"
        )
    return share


def change_percent(before_mm: float, after_mm: float) -> float:
    """Return the dimensional change as AATCC TM135 reports it, per cent to the nearest tenth.

    Raises
    ------
    ReckoningError
        As for :func:`shrinkage_share`.

    Examples
    --------
    >>> change_percent(500.0, 485.0)
    -3.0
    """
    return round(-100.0 * shrinkage_share(before_mm, after_mm), 1) + 0.0


def length_before_washing_mm(needed_mm: float, share: float) -> float:
    r"""Return how much unwashed cloth leaves a length after washing.

    .. math:: l = \frac{needed}{1 - s}

    Adding the share to the length gives too little: 5 % of a longer cloth is more. Cloth that
    grows is not bought shorter, since the next wash may take it back.

    Parameters
    ----------
    needed_mm
        Length that must be there after washing, mm.
    share
        From :func:`shrinkage_share`.

    Raises
    ------
    ReckoningError
        If the length is not above zero, or the share is beyond what is believed.

    Examples
    --------
    >>> length_before_washing_mm(1900.0, 0.05)
    2000.0
    """
    need_above_zero("length needed", needed_mm)
    need_between("shrinkage", share, -1.0, MOST_SHRINKAGE)
    return needed_mm / (1.0 - max(share, 0.0))


def width_after_washing_mm(width_mm: float, share: float) -> float:
    """Return the usable width that washing leaves; growth is not counted on.

    Raises
    ------
    ReckoningError
        If the width is not above zero, or the share is beyond what is believed.

    Examples
    --------
    >>> width_after_washing_mm(1000.0, 0.03)
    970.0
    """
    need_above_zero("width", width_mm)
    need_between("shrinkage", share, -1.0, MOST_SHRINKAGE)
    return width_mm * (1.0 - max(share, 0.0))
