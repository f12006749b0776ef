"""Bottom-left fill against its slow twin, and its small parts against numpy and shapely."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.engine import Axis, PhaseGroup, PhaseHold, Strip, StripItem
from nesting.engine.fill import Order, fill
from nesting.engine.kernels.bottom_left import ascending
from nesting.engine.kernels.points import crossing, is_deep_inside, snapped, squared_distance
from nesting.engine.no_fit import no_fit_polygon
from nesting.engine.prepared import prepare
from tests import slow_twins
from tests.gallery import STAR, U_SHAPE

COORDINATES = st.floats(-100, 100).map(lambda value: round(value, 3))


@st.composite
def ells(draw: st.DrawFn) -> np.ndarray:
    """Draw an L of whole-number sides, in one of its four quarter turns."""
    wide, high = draw(st.integers(2, 5)), draw(st.integers(2, 5))
    cut_x, cut_y = draw(st.integers(1, wide - 1)), draw(st.integers(1, high - 1))
    points = np.array(
        [(0, 0), (wide, 0), (wide, cut_y), (cut_x, cut_y), (cut_x, high), (0, high)], dtype=float
    )
    for _ in range(draw(st.integers(0, 3))):
        points = points[:, ::-1] * np.array([-1.0, 1.0])
    return points


@settings(max_examples=60)
@given(outlines=st.lists(ells(), min_size=1, max_size=7), width=st.integers(5, 9))
def test_each_piece_goes_where_trying_every_place_would_put_it(
    outlines: list[np.ndarray], width: int
) -> None:
    """On whole-number outlines the fill equals its twin that tries every place from the left."""
    items = tuple(StripItem(name=str(i), outline=o) for i, o in enumerate(outlines))
    prepared = prepare(Strip(width=float(width), items=items))

    filled = fill(
        prepared, Order(prepared.copies, np.ones(len(items)), False, prepared.first_phases)
    )

    expected = slow_twins.fill_on_lattice(prepared, list(range(len(items))), width)
    assert (filled.places / prepared.scale).tolist() == [list(map(float, at)) for at in expected]


@settings(max_examples=60)
@given(
    outlines=st.lists(ells(), min_size=1, max_size=6),
    width=st.integers(6, 9),
    along=st.sampled_from([None, (2, 0), (3, 1), (5, 2)]),
    across=st.sampled_from([None, (1, 0), (2, 1), (2, 0)]),
)
def test_each_held_piece_goes_where_trying_every_allowed_place_would_put_it(
    outlines: list[np.ndarray],
    width: int,
    along: tuple[int, int] | None,
    across: tuple[int, int] | None,
) -> None:
    """With a repeat along, across or both, the fill equals its twin on the places that obey it."""
    combs = [(axis, comb) for axis, comb in ((Axis.ALONG, along), (Axis.ACROSS, across)) if comb]
    groups = tuple(PhaseGroup(axis, every, (float(phase),)) for axis, (every, phase) in combs)
    holds = tuple(PhaseHold(number, 0.0) for number in range(len(groups)))
    # outlines begin at the origin, so the held place is that of the box's corner
    items = tuple(
        StripItem(name=str(i), outline=o - o.min(axis=0), holds={(0.0, False): holds})
        for i, o in enumerate(outlines)
    )
    prepared = prepare(Strip(width=float(width), items=items, groups=groups))

    filled = fill(
        prepared, Order(prepared.copies, np.ones(len(items)), False, prepared.first_phases)
    )

    def allowed(x: int, y: int) -> bool:
        return all(
            (x if axis is Axis.ALONG else y) % every == phase for axis, (every, phase) in combs
        )

    expected = slow_twins.fill_on_lattice(prepared, list(range(len(items))), width, allowed)
    assert (filled.places / prepared.scale).tolist() == [list(map(float, at)) for at in expected]


@given(x=st.floats(-250, 250), y=st.floats(-250, 250), depth=st.floats(0, 20))
def test_deep_inside_agrees_with_shapely(x: float, y: float, depth: float) -> None:
    """The kernel and shapely agree on a no-fit polygon, away from the edge of the answer."""
    rings = no_fit_polygon(U_SHAPE.outline, STAR.outline)
    edges = np.vstack([np.hstack([ring, np.roll(ring, -1, axis=0)]) for ring in rings])
    lines = shapely.linestrings(edges.reshape(-1, 2, 2))
    distance = float(shapely.distance(lines, shapely.Point(x, y)).min())
    if abs(distance - depth) < 1e-6:
        return

    assert is_deep_inside(x, y, edges, depth) == slow_twins.is_deep_inside(x, y, edges, depth)


@given(values=st.lists(COORDINATES, max_size=40))
def test_ascending_is_a_sort(values: list[float]) -> None:
    """The positions returned put the values in order."""
    array = np.array(values, dtype=np.float64)

    assert array[ascending(array)].tolist() == sorted(values)


@given(ends=st.lists(st.tuples(COORDINATES, COORDINATES), min_size=4, max_size=4))
def test_crossing_agrees_with_shapely(ends: list[tuple[float, float]]) -> None:
    """Two segments meet where shapely says, unless they are nearly parallel or just miss."""
    a, b = np.array([*ends[0], *ends[1]]), np.array([*ends[2], *ends[3]])
    one, other = shapely.LineString(ends[:2]), shapely.LineString(ends[2:])
    det = (a[2] - a[0]) * (b[3] - b[1]) - (a[3] - a[1]) * (b[2] - b[0])
    if abs(det) < 1.0:
        return

    x, y, meet = crossing(a, b)

    if meet:
        assert one.distance(shapely.Point(x, y)) < 1e-5
        assert other.distance(shapely.Point(x, y)) < 1e-5
    else:
        assert not one.intersects(other)


@pytest.mark.parametrize(
    ("value", "expected"), [(0.0, 0.0), (31.0, 0.0), (33.0, 64.0), (-33.0, -64.0)]
)
def test_snapped_goes_to_the_nearest_multiple(value: float, expected: float) -> None:
    """Multiples of 64 are 64 apart, so 33 goes up and 31 goes down."""
    assert snapped(value, 64.0) == expected


def test_squared_distance_to_the_inside_and_beyond_the_end_of_a_segment() -> None:
    """(3, 4) is 4 above the segment from 0 to 10 on the x axis; (13, 4) is 3 and 4 past its end."""
    segment = np.array([0.0, 0.0, 10.0, 0.0])

    assert squared_distance(3.0, 4.0, segment) == 16.0
    assert squared_distance(13.0, 4.0, segment) == 25.0
