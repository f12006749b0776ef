"""Seam allowance lies outside by what was asked, and corners meet."""

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from pieces.errors import ShapeError
from pieces.grainline import Grainline
from pieces.marks import MatchPoint, Notch
from pieces.outline.polygon import FloatArray, area_mm2, bounds_mm
from pieces.piece import PieceShape
from pieces.shaping.seam import add_seam
from pieces.shaping.shapes import rectangle, ring
from pieces.shaping.unfold import unfold
from tests.strategies import outlines

ARROW = Grainline((10.0, 10.0), (10.0, 40.0))


def plain(outline: FloatArray) -> PieceShape:
    """Return a shape without marks."""
    return PieceShape(outline_mm=outline, grainline=ARROW)


def test_a_rectangle_grows_on_every_side() -> None:
    """100 by 50 with 10 all round is 120 by 70, corners square."""
    sewn = add_seam(plain(rectangle(100.0, 50.0).outline_mm), [10.0] * 4)

    assert area_mm2(sewn.outline_mm) == pytest.approx(120 * 70)
    assert len(sewn.outline_mm) == 4
    (line,) = sewn.internal_lines
    assert line.name == "sew line"
    assert line.points_mm.tolist() == [[0, 0], [100, 0], [100, 50], [0, 50], [0, 0]]


def test_every_edge_has_its_own_allowance() -> None:
    """Bottom 30, right 10, top 0, left 15: from -15 to 110 and from -30 to 50."""
    sewn = add_seam(plain(rectangle(100.0, 50.0).outline_mm), [30.0, 10.0, 0.0, 15.0])

    assert bounds_mm(sewn.outline_mm) == pytest.approx((-15, -30, 110, 50))
    assert area_mm2(sewn.outline_mm) == pytest.approx(125 * 80)


def test_a_dented_corner_is_followed() -> None:
    """An L of three squares of 100, 10 all round: 220² less a dent of 100²: 38,400 mm²."""
    points = [(0, 0), (200, 0), (200, 100), (100, 100), (100, 200), (0, 200)]
    sewn = add_seam(plain(np.array(points, dtype=float)), [10.0] * 6)

    assert area_mm2(sewn.outline_mm) == pytest.approx(220 * 220 - 100 * 100)


def test_a_sharp_corner_is_cut_off() -> None:
    """A needle of 1 in 20 would run out by 200 mm; it stays within four allowances."""
    points = [(0.0, 0.0), (400.0, -10.0), (400.0, 10.0)]
    sewn = add_seam(plain(np.array(points)), [10.0] * 3)

    left, _, right, _ = bounds_mm(sewn.outline_mm)
    assert -40.0 <= left <= -0.2
    assert right == pytest.approx(410.0)


def test_the_hem_of_a_ring_grows_by_its_radius() -> None:
    """A half ring from 100 to 300 with a hem of 20 reaches 320, its waist stays at 100."""
    figure = ring(100.0, 300.0, 180.0)
    widths = [20.0 if name == "hem" else 0.0 for name in figure.edges]
    sewn = add_seam(plain(figure.outline_mm), widths)

    radii = np.hypot(*sewn.outline_mm.T)
    assert radii.max() == pytest.approx(320.0, abs=0.11)
    assert radii.min() == pytest.approx(100.0, abs=1e-3)


def test_notches_move_out_and_match_points_stay() -> None:
    """A notch belongs on the cut edge, a match point on the seam line."""
    shape = replace(
        plain(rectangle(100.0, 50.0).outline_mm),
        notches=(Notch((100.0, 25.0)),),
        match_points=(MatchPoint("side", (100.0, 25.0)),),
    )
    sewn = add_seam(shape, [10.0] * 4)

    assert sewn.notches[0].at_mm == pytest.approx((110.0, 25.0))
    assert sewn.match_points == shape.match_points


def test_a_fold_edge_gets_none_and_can_be_opened() -> None:
    """Half a trapezoid, slanting at the fold's ends, opens to its whole."""
    half = replace(
        plain(np.array([(0.0, 0.0), (80.0, 20.0), (60.0, 150.0), (0.0, 140.0)])),
        fold_edge_mm=((0.0, 140.0), (0.0, 0.0)),
    )
    sewn = add_seam(half, [10.0] * 4)

    assert sewn.outline_mm[:, 0].min() == pytest.approx(0.0)
    opened = unfold(sewn)
    assert area_mm2(opened.outline_mm) == pytest.approx(2 * area_mm2(sewn.outline_mm))


@settings(max_examples=60)
@given(outlines, st.floats(1.0, 30.0))
def test_every_point_within_the_allowance_is_inside(outline: FloatArray, width: float) -> None:
    """The cut edge is nowhere nearer than the allowance, nor further than four times it."""
    shape = plain(outline)
    sewn = add_seam(shape, [width] * len(shape.outline_mm))

    inner, outer = shapely.polygons(shape.outline_mm), shapely.polygons(sewn.outline_mm)
    assert shapely.distance(inner, shapely.boundary(outer)) >= width - 0.01
    corners = shapely.points(sewn.outline_mm)  # a narrow notch is closed, so its floor lies deep
    assert shapely.distance(inner, corners).max() <= 4.0 * width + 0.01


@pytest.mark.parametrize("widths", [[10.0] * 3, [-1.0] * 4, [math.nan] * 4, [501.0] * 4])
def test_impossible_allowances_are_refused(widths: list[float]) -> None:
    """One for each edge, from nothing to half a metre."""
    with pytest.raises(ShapeError):
        add_seam(plain(rectangle(100.0, 50.0).outline_mm), widths)
