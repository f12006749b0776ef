"""No-fit polygons against the facts of Minkowski sums and sixteen worked pairs.

Facts: de Berg, Cheong, van Kreveld & Overmars, *Computational Geometry*, 3rd ed., chapter 13;
Schneider, *Convex Bodies: The Brunn-Minkowski Theory* (perimeters add, mixed area; both recalled
from memory and confirmed by the worked values). The worked values were computed exactly by hand
rules: edges of both outlines in order of their direction.
"""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from nesting.engine.no_fit import no_fit_polygon
from pieces.outline.polygon import FloatArray, area_mm2, bounds_mm
from tests.gallery import circle

PIECES = {
    "R5": [(0, 0), (5, 0), (5, 3), (0, 3)],
    "R2": [(0, 0), (2, 0), (2, 1), (0, 1)],
    "T": [(0, 0), (4, 0), (0, 3)],
    "S1": [(0, 0), (1, 0), (1, 1), (0, 1)],
    "RH": [(0, 0), (2, -2), (4, 0), (2, 2)],
    "SQ3": [(0, 0), (3, 0), (3, 3), (0, 3)],
    "TR": [(0, 0), (4, 0), (2, 3)],
}

# first, second, area of the no-fit polygon, its vertices, its perimeter
WORKED = [
    ("R5", "R5", 60, 4, 32),
    ("R5", "R2", 28, 4, 22),
    ("R5", "T", 48, 5, 28),
    ("R5", "RH", 55, 8, 27.3137),
    ("R5", "TR", 48, 6, 27.2111),
    ("R2", "T", 18, 5, 18),
    ("T", "T", 36, 6, 24),
    ("T", "S1", 14, 5, 16),
    ("T", "RH", 36, 7, 23.3137),
    ("T", "TR", 36, 6, 23.2111),
    ("RH", "RH", 32, 4, 22.6274),
    ("RH", "SQ3", 41, 8, 23.3137),
    ("RH", "TR", 34, 7, 22.5248),
    ("SQ3", "SQ3", 36, 4, 24),
    ("SQ3", "TR", 36, 6, 23.2111),
    ("TR", "TR", 36, 6, 22.4222),
]


def _perimeter(outline: FloatArray) -> float:
    return shapely.Polygon(outline).length


def outline(name: str) -> FloatArray:
    """Return one of the pieces as an array."""
    return np.array(PIECES[name], dtype=np.float64)


def only_ring(first: FloatArray, second: FloatArray) -> FloatArray:
    """Return the single ring of the no-fit polygon of two convex outlines."""
    (ring,) = no_fit_polygon(first, second)
    return ring


def corners(ring: FloatArray) -> int:
    """Count the vertices where a ring really bends."""
    simple = shapely.simplify(shapely.Polygon(ring), 1e-6)
    return len(simple.exterior.coords) - 1


@pytest.mark.parametrize(("first", "second", "area", "vertices", "perimeter"), WORKED)
def test_sixteen_worked_pairs(
    first: str, second: str, area: float, vertices: int, perimeter: float
) -> None:
    """Area, vertices and perimeter of A + (-B).

    T with TR gives 36; the sum without the reflection would give 30.
    """
    ring = only_ring(outline(first), outline(second))

    assert area_mm2(ring) == pytest.approx(area, rel=1e-6)
    assert corners(ring) == vertices
    assert _perimeter(ring) == pytest.approx(perimeter, abs=1e-4)
    added = _perimeter(outline(first)) + _perimeter(outline(second))
    assert _perimeter(ring) == pytest.approx(added, rel=1e-6)


@given(
    sides=st.tuples(*(st.floats(0.5, 20.0) for _ in range(4))),
)
def test_two_rectangles_give_the_rectangle_of_added_sides(
    sides: tuple[float, float, float, float],
) -> None:
    """NFP of a x b and c x d is (a + c) x (b + d)."""
    a, b, c, d = sides
    first = np.array([(0, 0), (a, 0), (a, b), (0, b)])
    second = np.array([(0, 0), (c, 0), (c, d), (0, d)])

    low_x, low_y, high_x, high_y = bounds_mm(only_ring(first, second))

    assert (high_x - low_x, high_y - low_y) == pytest.approx((a + c, b + d), rel=1e-6)


@st.composite
def convex(draw: st.DrawFn) -> FloatArray:
    """Draw a convex outline: the hull of random points."""
    points = draw(
        st.lists(st.tuples(st.integers(0, 60), st.integers(0, 60)), min_size=3, max_size=12)
    )
    hull = shapely.convex_hull(shapely.MultiPoint(points))
    if hull.geom_type != "Polygon" or hull.area < 1.0:
        return outline("T")
    return np.array(shapely.orient_polygons(hull).exterior.coords)[:-1]


@given(first=convex(), second=convex())
def test_area_is_both_areas_and_twice_the_mixed_area(first: FloatArray, second: FloatArray) -> None:
    """area(A - B) = A + B + 2 V(A, -B), and V from edge lengths times the other's support.

    V(P, Q) is half the sum over Q's edges of their length times P's support along their normal.
    """
    ring = only_ring(first, second)
    reflected = -second
    edges = np.roll(reflected, -1, axis=0) - reflected
    lengths = np.hypot(edges[:, 0], edges[:, 1])
    normals = np.column_stack((edges[:, 1], -edges[:, 0])) / lengths[:, None]
    support = (first @ normals.T).max(axis=0)
    mixed = float((lengths * support).sum()) / 2

    expected = area_mm2(first) + area_mm2(second) + 2 * mixed

    assert area_mm2(ring) == pytest.approx(expected, rel=1e-4)
    assert _perimeter(ring) == pytest.approx(_perimeter(first) + _perimeter(second), rel=1e-4)


@given(first=convex(), second=convex())
def test_brunn_and_minkowski(first: FloatArray, second: FloatArray) -> None:
    """The root of the sum's area is at least the sum of the roots."""
    ring = only_ring(first, second)

    roots = math.sqrt(area_mm2(first)) + math.sqrt(area_mm2(second))

    assert math.sqrt(area_mm2(ring)) >= roots * (1 - 1e-6)


@given(shape=convex())
def test_rogers_and_shephard(shape: FloatArray) -> None:
    """A shape's no-fit polygon with itself has 4 to 6 times its area (6 for a triangle)."""
    times = area_mm2(only_ring(shape, shape)) / area_mm2(shape)

    assert 4 * (1 - 1e-5) <= times <= 6 * (1 + 1e-5)


def test_steiner_with_a_fine_polygon_for_the_disc() -> None:
    """area(P + disc r) = A + r x perimeter + pi r2, with 720 vertices for the disc."""
    disc = circle(2.0, 720)

    ring = only_ring(outline("SQ3"), disc)

    assert area_mm2(ring) == pytest.approx(9 + 2 * 12 + math.pi * 4, rel=1e-4)
