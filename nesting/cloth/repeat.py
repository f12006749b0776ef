"""The repeat of stripes, checks and plaids, and the words for what is matched on it."""

from dataclasses import dataclass
from enum import StrEnum

from nesting.errors import BoltError


class Axis(StrEnum):
    """The two directions in which a design may repeat."""

    ALONG = "along"
    ACROSS = "across"


@dataclass(frozen=True, kw_only=True)
class Repeat:
    """The distance after which the design of a cloth begins again.

    A check may repeat differently along and across (Sewing with Stripes, Checks, and Plaids, PNW
    187, Pacific Northwest Extension), so there are two numbers.

    Parameters
    ----------
    along_mm
        Along the bolt, mm, or None where nothing repeats: crosswise stripes, or a plaid.
    across_mm
        Across the bolt, mm, or None: lengthwise stripes, or a plaid.
    even
        True if the design is its own mirror image about its main stripe, both ways. Then a piece
        may be turned top to bottom.

    Raises
    ------
    BoltError
        If both are None, or one is not a number above zero.
    """

    along_mm: float | None = None
    across_mm: float | None = None
    even: bool = True

    def __post_init__(self) -> None:
        """Refuse a repeat of nothing."""
        if self.along_mm is None and self.across_mm is None:
            raise BoltError("a repeat needs a length along or across; give one of them or both")
        for axis in Axis:
            length_mm = self.length_mm(axis)
            if length_mm is not None and not 0.0 < length_mm < float("inf"):
                raise BoltError(f"repeat {axis} of {length_mm} mm is not a number above zero")

    def length_mm(self, axis: Axis) -> float | None:
        """Return the repeat along or across, mm, or None where nothing repeats.

        Examples
        --------
        >>> Repeat(along_mm=100.0).length_mm(Axis.ALONG)
        100.0
        """
        return self.along_mm if axis is Axis.ALONG else self.across_mm


@dataclass(frozen=True)
class GivenUp:
    """A match that cannot hold beside the others, and so is left out.

    Parameters
    ----------
    item
        Key of the cut item.
    point
        Name of its match point.
    axis
        The direction in which it is not matched.
    why
        The reason, for people.
    """

    item: str
    point: str
    axis: Axis
    why: str = ""


def off_phase_mm(difference_mm: float, repeat_mm: float) -> float:
    """Return how far a difference is from a whole number of repeats, at most half a repeat, mm.

    Examples
    --------
    Two places 203 mm apart on a repeat of 100 mm are 3 mm off each other, and 198 mm are 2 mm:

    >>> off_phase_mm(203.0, 100.0), off_phase_mm(198.0, 100.0)
    (3.0, -2.0)
    """
    return (difference_mm + repeat_mm / 2.0) % repeat_mm - repeat_mm / 2.0
