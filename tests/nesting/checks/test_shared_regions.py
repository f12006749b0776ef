"""Outlines that are a hair's breadth somewhere, far from the origin: judged, never refused."""

import numpy as np
import pytest
import shapely

from nesting.checks.laid_pieces import overlap_depth_mm
from nesting.checks.own_places import moved, same_outline
from nesting.marker.placement import Placement


def far(points: list[tuple[float, float]], turn_deg: float, y_mm: float) -> shapely.Polygon:
    """Return an outline turned, and moved nine kilometres away."""
    return shapely.Polygon(moved(points, Placement("a", 1, 0, turn_deg, False, 9e6, 9e6 + y_mm)))


def test_hair_thin_outlines_far_away_are_judged() -> None:
    """Some of them cross themselves there by rounding; the depth is found all the same."""
    rng = np.random.default_rng(1)
    crossing = 0
    for _ in range(400):
        hair = 10.0 ** rng.uniform(-12, -6)
        points = [(0.0, 0.0), (100.0, 0.0), (100.0, hair), (50.0, hair / 3), (0.0, 80.0)]
        first, second = (
            far(points, rng.uniform(0.0, 360.0), rng.uniform(0.0, 30.0)) for _ in range(2)
        )
        crossing += not (first.is_valid and second.is_valid)

        assert 0.0 <= overlap_depth_mm(first, second) <= 100.0
        same_outline(*(shapely.get_coordinates(one)[:-1] for one in (first, second)))

    assert crossing > 0


@pytest.mark.parametrize("turn_deg", [0.0, 33.0, 200.0])
def test_a_known_depth_is_found_far_away(turn_deg: float) -> None:
    """Two boxes that share a strip 2 mm wide, to the digits that are left there."""
    first = far([(0, 0), (10, 0), (10, 10), (0, 10)], turn_deg, 0.0)
    second = far([(8, 0), (20, 0), (20, 10), (8, 10)], turn_deg, 0.0)

    assert overlap_depth_mm(first, second) == pytest.approx(2.0, rel=0.02)
