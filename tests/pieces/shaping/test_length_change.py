"""A piece is made longer or shorter along its grain, and stays itself across it."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from pieces.errors import ShapeError
from pieces.grainline import Grainline
from pieces.marks import DrillHole, InternalLine, Notch
from pieces.outline.polygon import FloatArray, area_mm2, bounds_mm
from pieces.piece import PieceShape
from pieces.shaping.length_change import change_length
from pieces.shaping.shapes import rectangle
from tests.strategies import star_outlines

UP = Grainline((50.0, 20.0), (50.0, 180.0))


def box() -> PieceShape:
    """Return a box of 100 by 200 with a mark above and one below its middle."""
    return PieceShape(
        outline_mm=rectangle(100.0, 200.0).outline_mm,
        grainline=UP,
        fold_edge_mm=((0.0, 0.0), (0.0, 200.0)),
        notches=(Notch((100.0, 50.0)), Notch((100.0, 150.0))),
        drill_holes=(DrillHole((30.0, 150.0)),),
        internal_lines=(InternalLine("dart", np.array([(60.0, 80.0), (60.0, 160.0)])),),
    )


def test_lengthening_moves_what_lies_beyond_the_line() -> None:
    """30 mm put in at y = 100."""
    longer = change_length(box(), (0.0, 100.0), 30.0)

    assert bounds_mm(longer.outline_mm) == (0, 0, 100, 230)
    assert [mark.at_mm for mark in longer.notches] == [(100, 50), (100, 180)]
    assert longer.drill_holes[0].at_mm == (30, 180)
    assert longer.internal_lines[0].points_mm[[0, -1]].tolist() == [[60, 80], [60, 190]]
    assert longer.fold_edge_mm == ((0, 0), (0, 230))
    assert longer.grainline.head_mm == (50, 210)


def test_shortening_takes_out_evenly_over_a_stretch() -> None:
    """20 mm out of the 80 mm above y = 100: a mark half way there moves by half."""
    marked = replace(box(), drill_holes=(DrillHole((30.0, 140.0)),))
    shorter = change_length(marked, (0.0, 100.0), -20.0)

    assert bounds_mm(shorter.outline_mm) == pytest.approx((0, 0, 100, 180))
    assert shorter.drill_holes[0].at_mm == pytest.approx((30, 130))


def test_a_slanted_edge_gets_a_straight_strip() -> None:
    """A triangle cut apart at half its height: a strip of 50 by 10 adds 500 mm²."""
    triangle = PieceShape(
        outline_mm=np.array([(0.0, 0.0), (100.0, 0.0), (0.0, 100.0)]),
        grainline=Grainline((10.0, 10.0), (10.0, 40.0)),
    )
    longer = change_length(triangle, (0.0, 50.0), 10.0)

    assert area_mm2(longer.outline_mm) == pytest.approx(5500.0)


def test_a_corner_on_the_line_is_cut_as_well() -> None:
    """A kite whose widest corners lie on the line gets a strip of 100 by 10."""
    kite = PieceShape(
        outline_mm=np.array([(50.0, 0.0), (100.0, 50.0), (50.0, 150.0), (0.0, 50.0)]),
        grainline=Grainline((50.0, 10.0), (50.0, 60.0)),
    )
    longer = change_length(kite, (0.0, 50.0), 10.0)

    assert area_mm2(longer.outline_mm) == pytest.approx(7500.0 + 1000.0)


@given(star_outlines(), st.floats(-60.0, 80.0), st.floats(0.0, 360.0))
def test_the_extent_along_the_grain_changes_by_just_that(
    outline: FloatArray, by_mm: float, angle: float
) -> None:
    """And across the grain by nothing, whichever way the arrow points."""
    along = np.array([np.cos(np.radians(angle)), np.sin(np.radians(angle))])
    head = (float(50.0 * along[0]), float(50.0 * along[1]))
    shape = PieceShape(outline_mm=outline, grainline=Grainline((0.0, 0.0), head))
    stretch = 120.0 if by_mm < 0 else 0.0
    heights = shape.outline_mm @ along
    assume(heights.min() < -1.0 and heights.max() > stretch + 1.0)

    changed = change_length(shape, (0.0, 0.0), by_mm, blend_mm=stretch)

    across = np.array([-along[1], along[0]])
    spans = [np.ptp(one.outline_mm @ along) for one in (shape, changed)]
    widths = [np.ptp(one.outline_mm @ across) for one in (shape, changed)]
    assert spans[1] - spans[0] == pytest.approx(by_mm, abs=1e-6)
    assert widths[1] == pytest.approx(widths[0], abs=1e-6)


@pytest.mark.parametrize(
    ("at_y", "by_mm", "blend_mm"),
    [(-5.0, 10.0, None), (250.0, 10.0, None), (100.0, -50.0, None), (100.0, -50.0, 40.0)],
)
def test_impossible_changes_are_refused(at_y: float, by_mm: float, blend_mm: float | None) -> None:
    """A line beside the piece, or more taken out than there is."""
    with pytest.raises(ShapeError):
        change_length(box(), (0.0, at_y), by_mm, blend_mm=blend_mm)
