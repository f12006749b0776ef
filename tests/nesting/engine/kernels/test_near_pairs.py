"""Half-planes of near pairs: whatever keeps to them does not overlap."""

import numpy as np
from hypothesis import assume, given
from hypothesis import strategies as st

from nesting.engine.kernels.bundles import LEVEL
from nesting.engine.kernels.depth import overlap_depth
from nesting.engine.kernels.near_pairs import MOST_PLANES, free_region, separating_planes
from nesting.engine.kernels.tolerances import TOUCH
from pieces.outline.polygon import FloatArray
from tests.nesting.engine.kernels.test_depth import OUTLINES, prepared_pair

SHARES = st.tuples(st.floats(-0.3, 1.3), st.floats(-0.3, 1.3))


@given(first=OUTLINES, second=OUTLINES, at=SHARES, to=st.lists(SHARES, min_size=25, max_size=25))
def test_a_free_place_stays_free_within_its_planes(
    first: FloatArray,
    second: FloatArray,
    at: tuple[float, float],
    to: list[tuple[float, float]],
) -> None:
    """From any free place, any other place in front of all its planes is free as well."""
    prepared = prepared_pair(first, second)
    grids, starts = prepared.grids.arrays, prepared.grids.edge_starts
    a, b = prepared.poses[0][0].shape, prepared.poses[1][0].shape
    a, b = min(a, b), max(a, b)
    pair = grids.pairs[a, b]
    left, low, right, high = grids.boxes[a, b]
    size = np.array([right - left, high - low])
    here = np.array([left, low]) + np.array(at) * size
    assume(overlap_depth(a, b, here[0], here[1], grids) == 0.0)
    planes = np.empty((MOST_PLANES, 3))

    count = free_region(
        here[0], here[1], grids.edges[slice(*starts[pair])], 10 * size.max(), planes
    )

    assert count >= 1
    assert (planes[:count, :LEVEL] @ here >= planes[:count, LEVEL] - TOUCH).all()
    for share in to:
        there = np.array([left, low]) + np.array(share) * size
        if count < MOST_PLANES and (planes[:count, :LEVEL] @ there >= planes[:count, LEVEL]).all():
            assert overlap_depth(a, b, there[0], there[1], grids) <= TOUCH


def test_pairs_out_of_reach_are_left_out() -> None:
    """Two boxes a long way apart have no planes within a short reach, and one within a long one."""
    box = np.array([(0, 0), (2, 0), (2, 2), (0, 2)], dtype=float)
    prepared = prepared_pair(box, box * 1.5)
    shapes = np.array([poses[0].shape for poses in prepared.poses])
    places = np.array([[0.0, 0.0], [10.0, 0.0]]) * prepared.scale

    def pairs_within(reach: float) -> list[list[int]]:
        grids = prepared.grids
        near, _ = separating_planes(
            shapes, places, reach * prepared.scale, grids.arrays, grids.edge_starts
        )
        return sorted(sorted(pair) for pair in near.tolist())

    assert pairs_within(1.0) == []
    assert pairs_within(9.0) == [[0, 1]]
