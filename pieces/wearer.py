"""For whom a pattern is, where that calls for care: children, by age and kind of garment."""

from dataclasses import dataclass
from enum import StrEnum

from pieces.errors import PatternError


class GarmentKind(StrEnum):
    """What a garment for a child is, as the cautions for children divide it."""

    SLEEPWEAR = "sleepwear"
    UPPER_OUTERWEAR = "upper outerwear"
    OTHER_CLOTHING = "other clothing"
    NOT_CLOTHING = "not clothing"


OLDEST_CHILD_YEARS = 17


@dataclass(frozen=True)
class ChildWearer:
    """That a pattern is for children: of which age, and what kind of garment.

    Parameters
    ----------
    youngest_years, oldest_years
        Ages the sizes are for, 0 to 17.
    garment
        What it is.

    Raises
    ------
    PatternError
        If the ages are out of order or out of range.
    """

    youngest_years: int
    oldest_years: int
    garment: GarmentKind = GarmentKind.OTHER_CLOTHING

    def __post_init__(self) -> None:
        """Refuse ages that are no child's."""
        if not 0 <= self.youngest_years <= self.oldest_years <= OLDEST_CHILD_YEARS:
            raise PatternError(
                f"ages {self.youngest_years} to {self.oldest_years} are no range for a child; "
                f"give the youngest, then the oldest, from 0 to {OLDEST_CHILD_YEARS}"
            )
