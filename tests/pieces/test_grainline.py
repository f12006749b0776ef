"""The grainline arrow."""

import pytest

from pieces.errors import PieceError
from pieces.grainline import Grainline


@pytest.mark.parametrize(
    ("head", "angle_deg"),
    [((60.0, 20.0), 0.0), ((10.0, 70.0), 90.0), ((-40.0, 20.0), 180.0), ((60.0, 70.0), 45.0)],
)
def test_the_angle_is_that_of_the_head_seen_from_the_tail(
    head: tuple[float, float], angle_deg: float
) -> None:
    """Angles run anticlockwise from +x."""
    assert Grainline((10.0, 20.0), head).angle_deg == pytest.approx(angle_deg)


@pytest.mark.parametrize("head", [(0.0, 0.0), (0.0, 0.999), (float("nan"), 5.0)])
def test_an_arrow_without_direction_is_refused(head: tuple[float, float]) -> None:
    """An arrow of less than 1 mm, or to nowhere, has no direction."""
    with pytest.raises(PieceError, match="at least 1 mm"):
        Grainline((0.0, 0.0), head)
