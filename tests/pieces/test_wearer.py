"""For whom a pattern is."""

import pytest

from pieces.errors import PatternError
from pieces.wearer import ChildWearer, GarmentKind


def test_a_garment_is_other_clothing_if_nothing_is_said() -> None:
    """The kind with the fewest special rules, and still clothing."""
    assert ChildWearer(2, 4).garment is GarmentKind.OTHER_CLOTHING


@pytest.mark.parametrize("ages", [(-1, 3), (8, 3), (0, 18)])
def test_ages_of_no_child_are_refused(ages: tuple[int, int]) -> None:
    """From 0 to 17, the youngest first."""
    with pytest.raises(PatternError, match="no range for a child; give the youngest, then"):
        ChildWearer(*ages)
