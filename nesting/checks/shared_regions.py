"""Regions that outlines share, or do not, for any outline that a file may hold.

Far from the origin the last digits of a coordinate are a millionth of a millimetre, and an outline
that was drawn as a hair's breadth may cross itself there. Shapely refuses such outlines; they are
tidied up first, on a grid of a millionth of a millimetre, which no check can see.
"""

from collections.abc import Callable

import shapely
from shapely.geometry.base import BaseGeometry

_GRID_MM = 1e-6


def shared_by(first: BaseGeometry, second: BaseGeometry) -> BaseGeometry:
    """Return what two regions share."""
    return _safely(shapely.intersection, first, second)


def not_shared(first: BaseGeometry, second: BaseGeometry) -> BaseGeometry:
    """Return what is in one of two regions and not in the other."""
    return _safely(shapely.symmetric_difference, first, second)


def together(first: BaseGeometry, second: BaseGeometry) -> BaseGeometry:
    """Return what is in either of two regions."""
    return _safely(shapely.union, first, second)


def _safely(
    combine: Callable[..., BaseGeometry], first: BaseGeometry, second: BaseGeometry
) -> BaseGeometry:
    try:
        return combine(first, second)
    except shapely.errors.GEOSException:
        tidy = (shapely.buffer(one, 0.0) for one in (first, second))
        return combine(*tidy, grid_size=_GRID_MM)
