"""Curves become vertices within the tolerance; the true deviation is measured."""

import itertools
from collections.abc import Callable

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from pieces.errors import OutlineError
from pieces.outline.curves import flatten_arc, flatten_cubic, flatten_quadratic, flatten_smooth
from pieces.outline.polygon import FloatArray

SLACK = 1e-6
thousandths = st.integers(-2_000_000, 2_000_000).map(lambda number: number / 1000.0)
points_mm = st.tuples(thousandths, thousandths)


def deviation_mm(curve: FloatArray, vertices: FloatArray) -> float:
    """Return how far the finely sampled curve strays from the chain of lines, mm."""
    chain = shapely.linestrings(vertices)
    return float(shapely.distance(chain, shapely.points(curve)).max())


def cubic_at(control: FloatArray, t: FloatArray) -> FloatArray:
    """Evaluate a cubic by repeated interpolation: the slow way, from first principles."""
    layer = [np.broadcast_to(point, (len(t), 2)) for point in control]
    while len(layer) > 1:
        layer = [a + (b - a) * t[:, None] for a, b in itertools.pairwise(layer)]
    return layer[0]


FINE = np.linspace(0.0, 1.0, 2001)


@settings(deadline=None, max_examples=60)
@given(st.lists(points_mm, min_size=4, max_size=4), st.sampled_from([0.1, 1.0, 20.0]))
def test_a_cubic_is_within_tolerance(control: list[tuple[float, float]], tolerance: float) -> None:
    """No point of a cubic Bézier curve is further off than the tolerance; the ends are exact."""
    vertices = flatten_cubic(control, tolerance_mm=tolerance)

    curve = cubic_at(np.array(control), FINE)
    assert deviation_mm(curve, vertices) <= tolerance + SLACK
    assert vertices[0].tolist() == list(control[0])
    assert vertices[-1].tolist() == list(control[-1])


@settings(deadline=None, max_examples=60)
@given(st.lists(points_mm, min_size=3, max_size=3), st.sampled_from([0.1, 1.0, 20.0]))
def test_a_quadratic_is_within_tolerance(
    control: list[tuple[float, float]], tolerance: float
) -> None:
    """The same holds for a quadratic Bézier curve."""
    vertices = flatten_quadratic(control, tolerance_mm=tolerance)

    assert deviation_mm(cubic_at(np.array(control), FINE), vertices) <= tolerance + SLACK
    assert vertices[-1].tolist() == list(control[-1])


def test_the_number_of_vertices_is_not_wasteful() -> None:
    """A parabola over a chord of 200 mm, 50 mm high, needs 16 lines for 0.2 mm.

    Each of n equal steps strays by 50 / n² at most: 50 / 256 = 0.195.
    """
    vertices = flatten_quadratic([(0, 0), (100, 100), (200, 0)], tolerance_mm=0.2)

    assert len(vertices) - 1 == 16


@given(st.floats(1.0, 2000.0), st.floats(-400.0, 400.0), st.floats(1.0, 360.0), st.booleans())
def test_an_arc_is_within_tolerance(
    radius: float, start: float, sweep: float, clockwise: bool
) -> None:
    """An arc's vertices lie on the circle, and its lines stray by at most 0.1 mm."""
    end = start - sweep if clockwise else start + sweep
    vertices = flatten_arc((30.0, -20.0), radius, start_deg=start, end_deg=end)

    angles = np.radians(start + (end - start) * FINE)
    curve = (30.0, -20.0) + radius * np.column_stack((np.cos(angles), np.sin(angles)))
    assert deviation_mm(curve, vertices) <= 0.1 + SLACK
    assert np.linalg.norm(vertices - (30.0, -20.0), axis=1) == pytest.approx(radius)
    assert vertices[[0, -1]] == pytest.approx(curve[[0, -1]])


def test_a_quarter_circle_ends_without_dust() -> None:
    """A quarter circle of 100 mm runs from exactly (100, 0) to exactly (0, 100)."""
    vertices = flatten_arc((0, 0), 100.0, start_deg=0.0, end_deg=90.0)

    assert vertices[0].tolist() == [100.0, 0.0]
    assert vertices[-1].tolist() == [0.0, 100.0]


@settings(deadline=None)
@given(st.lists(points_mm, min_size=2, max_size=8, unique=True), st.booleans())
def test_a_smooth_curve_passes_through_its_points(
    through: list[tuple[float, float]], closed: bool
) -> None:
    """Every point given is a vertex, in order, and a closed curve ends where it starts."""
    closed = closed and len(through) > 2
    vertices = flatten_smooth(through, closed=closed, tolerance_mm=1.0).tolist()

    found = [vertices.index(list(point)) for point in through]
    assert found == sorted(found)
    assert vertices[-1] == list(through[0] if closed else through[-1])


def test_a_smooth_curve_through_a_straight_line_is_straight() -> None:
    """Uneven points on a line give a curve on that line that never turns back."""
    x = flatten_smooth([(0, 0), (1, 0), (50, 0), (300, 0)])

    assert np.abs(x[:, 1]).max() == 0.0
    assert (np.diff(x[:, 0]) > 0).all()


def test_a_smooth_curve_through_a_circle_is_nearly_round() -> None:
    """Through 24 points on a circle of 100 mm the closed curve stays within 0.2 mm of it."""
    angles = 2.0 * np.pi * np.arange(24) / 24
    points = 100.0 * np.column_stack((np.cos(angles), np.sin(angles)))
    radii = np.linalg.norm(flatten_smooth(points, closed=True, tolerance_mm=0.01), axis=1)

    assert np.abs(radii - 100.0).max() < 0.2


def test_a_smooth_curve_has_no_corner() -> None:
    """Finely flattened, the direction turns by a few degrees at most at each vertex."""
    vertices = flatten_smooth([(0, 0), (100, 80), (120, 200), (400, 220)], tolerance_mm=1e-4)

    steps = np.diff(vertices, axis=0)
    headings = np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))
    assert np.degrees(np.abs(np.diff(headings))).max() < 3.0


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (lambda: flatten_cubic([(0, 0), (1, 1)]), "has 2 points; it needs 4"),
        (lambda: flatten_cubic([(0, 0)] * 4, tolerance_mm=0.0), "tolerance is 0 mm"),
        (lambda: flatten_cubic([(0, 0), (9e9, 0), (0, 9e9), (0, 0)]), "more than 100,000"),
        (lambda: flatten_quadratic([(0, 0), (1, float("nan")), (1, 1)]), "finite numbers"),
        (lambda: flatten_smooth([(0, 0), (0, 0)]), "at least two different points"),
        (lambda: flatten_smooth([(0, 0), (1, 0)], closed=True), "three to close"),
        (lambda: flatten_smooth([]), "finite numbers"),
        (lambda: flatten_arc((0, 0), 0.0, start_deg=0, end_deg=90), "must be above zero"),
        (lambda: flatten_arc((0, 0), 10.0, start_deg=5, end_deg=5), "through 0 degrees"),
        (lambda: flatten_arc((0, 0), 10.0, start_deg=0, end_deg=361), "through 361 degrees"),
        (lambda: flatten_arc((0, 0), 10.0, start_deg=0, end_deg=float("nan")), "nan degrees"),
        (lambda: flatten_arc("ab", 10.0, start_deg=0, end_deg=90), "pairs"),
    ],
)
def test_what_is_no_curve_is_refused(call: Callable[[], object], sentence: str) -> None:
    """A refusal names the number that is wrong."""
    with pytest.raises(OutlineError, match=sentence):
        call()
