"""The convolution gives the no-fit polygon: held against shapely on random outlines."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from nesting.engine.kernels.convolution import closed_walks, convolution_segments, inset
from nesting.engine.no_fit import no_fit_polygon
from pieces.outline.polygon import FloatArray, as_outline
from tests.gallery import GALLERY, U_SHAPE
from tests.strategies import skyline_outlines, star_outlines

OUTLINES = st.one_of(star_outlines(), skyline_outlines())


def region(rings: tuple[FloatArray, ...]) -> shapely.Geometry:
    """Return the region between rings: outer ones anticlockwise, holes clockwise."""
    outer = shapely.union_all([shapely.Polygon(r) for r in rings if shapely.LinearRing(r).is_ccw])
    holes = [shapely.Polygon(r) for r in rings if not shapely.LinearRing(r).is_ccw]
    return shapely.difference(outer, shapely.union_all(holes)) if holes else outer


@given(first=OUTLINES, second=OUTLINES)
def test_as_many_segments_leave_each_node_as_enter_it(
    first: FloatArray, second: FloatArray
) -> None:
    """The convolution is made of closed walks: every node is left as often as it is entered."""
    a, b = (np.rint(np.array(each) * 1000).astype(np.int64) for each in (first, second))

    segments = convolution_segments(a, -b)

    nodes = len(a) * len(b)
    left = np.bincount(segments[:, 0], minlength=nodes)
    entered = np.bincount(segments[:, 1], minlength=nodes)
    assert np.array_equal(left, entered)
    walked, starts = closed_walks(segments, nodes)
    assert starts[0] == 0
    assert starts[-1] == len(segments) == len(walked)


@given(
    first=OUTLINES,
    second=OUTLINES,
    places=st.lists(st.tuples(st.floats(-1, 1), st.floats(-1, 1)), min_size=20, max_size=20),
)
def test_inside_means_overlap_and_outside_means_none(
    first: FloatArray, second: FloatArray, places: list[tuple[float, float]]
) -> None:
    """B overlaps A exactly where its reference point lies inside their no-fit polygon."""
    no_fit = region(no_fit_polygon(first, second))
    low, high = np.array(no_fit.bounds[:2]), np.array(no_fit.bounds[2:])
    fixed = shapely.Polygon(first)
    for place in places:
        at = (low + high) / 2 + np.array(place) * (high - low) * 0.6
        if no_fit.boundary.distance(shapely.Point(at)) < 1e-3:
            continue
        overlap = shapely.intersection(fixed, shapely.Polygon(second + at)).area > 1e-9
        assert overlap == bool(shapely.contains_xy(no_fit, *at))


@given(first=OUTLINES, second=OUTLINES)
def test_on_the_boundary_outlines_touch_and_just_inside_they_overlap(
    first: FloatArray, second: FloatArray
) -> None:
    """Halfway along each edge of the no-fit polygon they touch; a step inwards they overlap."""
    fixed = shapely.Polygon(first)
    no_fit = region(no_fit_polygon(first, second))
    for ring in no_fit_polygon(first, second):
        ends = np.roll(ring, -1, axis=0)
        for start, end in zip(ring[:8], ends[:8], strict=False):
            middle, along = (start + end) / 2, end - start
            length = float(np.hypot(*along))
            if length < 1.0:
                continue
            moving = shapely.Polygon(second + middle)
            assert shapely.distance(fixed, moving) < 1e-3
            assert shapely.buffer(shapely.intersection(fixed, moving), -1e-3).is_empty
            inwards = middle + np.array([-along[1], along[0]]) / length * 0.01
            if not shapely.contains_xy(no_fit.buffer(-0.005), *inwards):
                continue
            inner = shapely.intersection(fixed, shapely.Polygon(second + inwards))
            assert inner.area > 0


@pytest.mark.parametrize("shown", GALLERY, ids=lambda shown: shown.name)
def test_no_fit_polygons_of_two_orders_are_opposite(shown: object) -> None:
    """NFP(B, A) is NFP(A, B) turned by 180 degrees about the origin."""
    outline = shown.outline  # type: ignore[attr-defined]
    one = region(no_fit_polygon(outline, U_SHAPE.outline))
    other = region(no_fit_polygon(U_SHAPE.outline, outline))

    opposite = shapely.affinity.scale(other, -1, -1, origin=(0, 0))

    assert shapely.symmetric_difference(one, opposite).area < 1e-3 * one.area


def test_a_slot_that_fits_exactly_stays_open() -> None:
    """A 100 x 150 block slides into the U's 100 x 150 gap: its end place lies on the boundary.

    The gap of U_SHAPE goes from x 50 to 150 and down to y 50; the block's reference point is its
    lower left corner, so the end place is (50, 50).
    """
    block = as_outline([(0, 0), (100, 0), (100, 150), (0, 150)])

    no_fit = region(no_fit_polygon(U_SHAPE.outline, block))

    assert no_fit.boundary.distance(shapely.Point(50, 50)) < 1e-4
    assert no_fit.boundary.distance(shapely.Point(50, 120)) < 1e-4


def test_a_place_enclosed_on_all_sides_is_found_as_a_hole() -> None:
    """A ring nearly closed by a 1 mm slit holds a 40 mm square inside, though no way leads in.

    The cavity is 60 x 60, so the square's reference point may move 20 x 20: a hole of 400 mm2.
    """
    cage = as_outline(
        [
            (0, 0), (100, 0), (100, 100), (51, 100), (51, 80), (80, 80), (80, 20), (20, 20),
            (20, 80), (50, 80), (50, 100), (0, 100),
        ]
    )  # fmt: skip
    square = as_outline([(0, 0), (40, 0), (40, 40), (0, 40)])

    holes = [ring for ring in no_fit_polygon(cage, square) if not shapely.LinearRing(ring).is_ccw]

    assert len(holes) == 1
    assert shapely.Polygon(holes[0]).area == pytest.approx(400.0, rel=1e-4)


def test_inset_moves_every_edge_in_by_the_step() -> None:
    """A square of 1000 units drawn in by 4 is a square of 992."""
    square = np.array([[0, 0], [1000, 0], [1000, 1000], [0, 1000]], dtype=np.int64)

    assert inset(square, 4).tolist() == [[4, 4], [996, 4], [996, 996], [4, 996]]


def test_inset_leaves_an_outline_too_thin_to_draw_in() -> None:
    """A sliver 6 units high has nothing left after 4 from each side, so it stays."""
    sliver = np.array([[0, 0], [1000, 0], [1000, 6], [0, 6]], dtype=np.int64)

    assert inset(sliver, 4).tolist() == sliver.tolist()
