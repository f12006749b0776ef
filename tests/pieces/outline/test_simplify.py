"""Simplified outlines hold the original and are hardly larger."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from pieces.errors import OutlineError
from pieces.outline.polygon import FloatArray, area_mm2, as_outline, bounds_mm
from pieces.outline.simplify import simplify_outward
from pieces.outline.transform import turn
from tests.gallery import GALLERY, Shown, circle
from tests.strategies import angles_deg, outlines

tolerances = st.sampled_from([0.01, 0.2, 5.0, 60.0])


@settings(deadline=None, max_examples=100)
@given(outlines, tolerances, angles_deg)
def test_the_result_holds_the_original(outline: FloatArray, tolerance: float, deg: float) -> None:
    """Nothing of the original sticks out, and no point is further off than the tolerance."""
    outline = turn(outline, deg)
    simple = simplify_outward(outline, tolerance)

    before, after = shapely.polygons(outline), shapely.polygons(simple)
    assert shapely.area(before - after) <= 1e-9 * before.area
    assert _furthest_mm(after, before) <= tolerance + 1e-9
    assert len(simple) <= len(outline)
    assert np.array_equal(as_outline(simple), simple)


def _furthest_mm(after: shapely.Polygon, before: shapely.Polygon) -> float:
    """Return how far points along the border of the grown polygon are from the original."""
    border = after.exterior
    along = np.linspace(0.0, border.length, 1000)
    points = [*shapely.line_interpolate_point(border, along), *shapely.points(border.coords)]
    return float(shapely.distance(before, np.array(points)).max())


def test_a_circle_of_many_vertices_loses_half_of_them() -> None:
    """Half of the 100 edges of a circle of 100 mm go.

    Over an edge of 6.28 mm whose neighbours lean by 3.6 degrees, they meet 0.198 mm high.
    """
    assert len(simplify_outward(circle(100.0, 100))) == 50


def test_a_circle_as_coarse_as_the_tolerance_stays() -> None:
    """A circle of 200 mm in 100 edges has nothing to spare.

    Over an edge of 12.57 mm the neighbours would meet 0.395 mm high, twice the tolerance.
    """
    outline = circle(200.0, 100)

    assert np.array_equal(simplify_outward(outline, 0.2), outline)


def test_a_finer_circle_loses_a_third_at_least() -> None:
    """A circle of 200 mm in 200 edges loses at least a third of its vertices."""
    assert len(simplify_outward(circle(200.0, 200))) <= 133


@pytest.mark.parametrize("shown", GALLERY[:-1], ids=lambda shown: shown.name)
def test_outlines_with_sharp_corners_stay(shown: Shown) -> None:
    """Where every vertex matters, the outline comes back as it was."""
    assert simplify_outward(shown.outline).tobytes() == shown.outline.tobytes()


def test_vertices_on_straight_edges_go() -> None:
    """A square with a vertex in the middle of each side becomes the square, bit for bit."""
    dotted = [(0, 0), (50, 0), (100, 0), (100, 50), (100, 100), (50, 100), (0, 100), (0, 50)]

    simple = simplify_outward(as_outline(dotted))
    assert simple.tolist() == [[0, 0], [100, 0], [100, 100], [0, 100]]


def test_a_dent_is_filled_and_a_bump_is_kept() -> None:
    """A 0.1 mm dent is filled; a 0.1 mm bump, cut off, would make the piece smaller."""
    dent = as_outline([(0, 0), (50, 0.1), (100, 0), (100, 80), (0, 80)])
    bump = as_outline([(0, 0), (50, -0.1), (100, 0), (100, 80), (0, 80)])

    assert area_mm2(simplify_outward(dent)) == 8000.0
    assert area_mm2(simplify_outward(bump)) >= area_mm2(bump)
    assert bounds_mm(simplify_outward(bump))[1] <= -0.1


def test_the_sides_of_a_narrow_slit_do_not_grow_into_one_another() -> None:
    """Of two shallow bulges that face each other 0.1 mm apart, not both may come to a point.

    Each side rises by 0.15 over 20 mm and is flat for 20 mm; run on, its slopes meet 0.075
    higher, and both together would need 0.15 mm. Something is saved all the same.
    """
    right = [(100.2, 80), (100.05, 60), (100.05, 40), (100.2, 20)]
    left = [(99.8, 20), (99.95, 40), (99.95, 60), (99.8, 80)]
    outline = as_outline([(0, 0), (200, 0), (200, 90), (110, 90), *right, *left, (90, 90), (0, 90)])

    simple = simplify_outward(outline)
    assert len(simple) < len(outline)
    assert shapely.area(shapely.polygons(outline) - shapely.polygons(simple)) <= 1e-9 * 18_000


def test_the_fold_edge_stays_on_its_line() -> None:
    """A fold edge next to shallow corners is not run over, if it is named.

    Both ends lean by 0.1 / 100; over 100 mm of fold edge the neighbours meet 0.05 mm outside.
    """
    points = [(0.1, 0), (0, 100), (0, 200), (0.1, 300), (80, 300), (80, 0)]
    outline = as_outline(points)

    fold = ((0.0, 100.0), (0.0, 200.0))
    assert bounds_mm(simplify_outward(outline))[0] == pytest.approx(-0.05)
    assert bounds_mm(simplify_outward(outline, fold_edge_mm=fold))[0] == 0.0


@pytest.mark.parametrize("tolerance", [0.0, -1.0, math.nan, math.inf])
def test_a_tolerance_that_is_none_is_refused(tolerance: float) -> None:
    """The tolerance is above zero."""
    with pytest.raises(OutlineError, match="must be above zero"):
        simplify_outward(circle(100.0, 12), tolerance)
