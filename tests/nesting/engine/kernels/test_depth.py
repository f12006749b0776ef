"""The depth of an overlap against shapely, on the whole box of each no-fit polygon."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.engine import Strip, StripItem
from nesting.engine.kernels.depth import is_inside_edges, nearest_on_edge, overlap_depth
from nesting.engine.prepared import PreparedStrip, prepare
from pieces.outline.polygon import FloatArray
from tests import slow_twins
from tests.gallery import COMB, STAR, U_SHAPE
from tests.strategies import skyline_outlines, star_outlines

OUTLINES = st.one_of(star_outlines(), skyline_outlines())
# one outline is drawn in by four units, so a shape with itself is symmetric only to a touch
UNITS = 64.0
PLACES = st.lists(st.tuples(st.floats(-0.1, 1.1), st.floats(-0.1, 1.1)), min_size=12, max_size=12)


def prepared_pair(first: FloatArray, second: FloatArray) -> PreparedStrip:
    """Return two outlines on a strip wide enough for both."""
    widest = max(float(np.hypot(*np.ptp(outline, axis=0))) for outline in (first, second))
    items = (StripItem(name="a", outline=first), StripItem(name="b", outline=second))
    return prepare(Strip(width=2.0 * widest, items=items))


def check_depths(prepared: PreparedStrip, places: list[tuple[float, float]]) -> None:
    """Compare kernel and twin at places given as shares of the no-fit polygon's box."""
    table, grids = prepared.no_fit, prepared.grids.arrays
    a, b = prepared.poses[0][0].shape, prepared.poses[1][0].shape
    low, high = table.starts[a, b]
    left, bottom, right, top = table.boxes[a, b]
    for across, along in places:
        x, y = left + across * (right - left), bottom + along * (top - bottom)
        expected = slow_twins.overlap_depth(x, y, table.edges[low:high])
        assert overlap_depth(a, b, x, y, grids) == pytest.approx(expected, abs=UNITS)
        assert overlap_depth(b, a, -x, -y, grids) == pytest.approx(expected, abs=UNITS)


@settings(max_examples=60)
@given(first=OUTLINES, second=OUTLINES, places=PLACES)
def test_depth_is_the_distance_to_the_boundary_inside_and_zero_outside(
    first: FloatArray, second: FloatArray, places: list[tuple[float, float]]
) -> None:
    """To a touch, wherever the second outline lies, and in either order."""
    check_depths(prepared_pair(first, second), places)


@pytest.mark.parametrize("first", [U_SHAPE, COMB, STAR], ids=lambda shown: shown.name)
def test_depth_on_a_fine_raster_of_hollow_shapes(first: object) -> None:
    """1,600 places over shapes with gaps and reflex corners, where sides are easily confused."""
    steps = np.linspace(0.0, 1.0, 40)
    places = [(float(x), float(y)) for x in steps for y in steps]

    check_depths(prepared_pair(first.outline, COMB.outline), places)  # type: ignore[attr-defined]


@pytest.mark.parametrize(("across", "along"), [(-40, 0.5), (90, 0.5), (0.5, -7), (0.5, 7), (-2, 3)])
def test_nothing_overlaps_far_beyond_the_grid(across: float, along: float) -> None:
    """However many boxes away, and past a corner as past a side."""
    check_depths(prepared_pair(U_SHAPE.outline, COMB.outline), [(across, along)])


def test_nearest_point_of_an_edge() -> None:
    """Above the middle of an edge 10 long: 4 away, halfway; beyond its end: 5 away, at the end."""
    edges = np.array([[0.0, 0.0, 10.0, 0.0, 0.0, 0.0, 0.01]])

    assert nearest_on_edge(5.0, 4.0, edges, 0) == (16.0, 0.5)
    assert nearest_on_edge(13.0, 4.0, edges, 0) == (25.0, 1.0)


def test_inside_by_crossings() -> None:
    """A unit square: its middle is inside, a place beside it is not."""
    square = np.array(
        [
            [0, 0, 1, 0, 0, 0, 1],
            [1, 0, 0, 1, 0, 0, 1],
            [1, 1, -1, 0, 0, 0, 1],
            [0, 1, 0, -1, 0, 0, 1],
        ],
        dtype=float,
    )

    assert is_inside_edges(0.5, 0.5, square)
    assert not is_inside_edges(1.5, 0.5, square)
