"""The agreed form of an outline, and its measures."""

import numpy as np
import pytest
from hypothesis import given

from pieces.errors import OutlineError
from pieces.outline.polygon import (
    FloatArray,
    area_mm2,
    as_outline,
    bounds_mm,
    reversed_order,
    signed_area_mm2,
)
from tests.gallery import GALLERY, SQUARE, Shown
from tests.strategies import outlines


@pytest.mark.parametrize("shown", GALLERY, ids=lambda shown: shown.name)
def test_gallery_outlines_are_good_and_have_their_area(shown: Shown) -> None:
    """Every outline of the gallery is taken as it is and has the area worked out by hand."""
    outline = as_outline(shown.outline)

    assert outline.tobytes() == shown.outline.tobytes()
    assert area_mm2(outline) == pytest.approx(shown.area_mm2, rel=1e-12)


@given(outlines)
def test_a_good_outline_comes_back_bit_for_bit(points: FloatArray) -> None:
    """Bringing an outline into form twice changes nothing the second time."""
    once = as_outline(points)

    assert as_outline(once).tobytes() == once.tobytes()


@given(outlines)
def test_clockwise_vertices_are_reversed_from_the_same_start(points: FloatArray) -> None:
    """The same polygon written clockwise gives the same outline."""
    assert as_outline(reversed_order(points)).tobytes() == as_outline(points).tobytes()


def test_repeats_and_the_closing_vertex_are_dropped() -> None:
    """Vertices repeated in place, and the first one at the end, say nothing new."""
    written = [(0, 0), (0, 0), (100, 0), (100, 100), (100, 100), (0, 100), (0, 0), (0, 0)]

    assert as_outline(written).tolist() == SQUARE.outline.tolist()


def test_vertices_on_a_straight_edge_are_kept() -> None:
    """A vertex in the middle of an edge may carry a meaning, so it stays."""
    assert len(as_outline([(0, 0), (50, 0), (100, 0), (100, 100)])) == 4


def test_the_outline_is_a_read_only_copy() -> None:
    """Nobody can move a vertex behind the back of a piece."""
    points = np.array(SQUARE.outline)
    outline = as_outline(points)
    points[0] = (50.0, 50.0)

    assert outline[0].tolist() == [0.0, 0.0]
    with pytest.raises(ValueError, match="read-only"):
        outline[0, 0] = 1.0


@pytest.mark.parametrize(
    ("points", "sentence"),
    [
        ([(0, 0), (240, 680), (240, 0), (0, 680)], r"crosses itself near \(120, 340\) mm"),
        ([(0, 0), (40, 0), (40, 40), (20, 0), (0, 40)], r"touches itself near \(20, 0\) mm"),
        ([(0, 0), (10, 0), (20, 0)], "encloses no area"),
        ([(0, 0), (10, 0), (0, 0)], "2 different vertices; it needs at least 3"),
        ([], "list of"),
        ([1, 2, 3], "list of"),
        ([(0, 0, 0), (1, 0, 0), (0, 1, 0)], "list of"),
        ([(0, 0), (1,)], "pairs of numbers"),
        ([("a", "b"), (1, 0), (0, 1)], "pairs of numbers"),
        ([(0, 0), (1, float("nan")), (0, 1)], r"vertex 2 is \(1, nan\)"),
        ([(0, 0), (float("inf"), 0), (0, 1)], "must be finite"),
        ([(0, 0), (1e12, 0), (0, 1)], "check the units"),
    ],
)
def test_what_is_no_outline_is_refused(points: object, sentence: str) -> None:
    """A refusal says what is wrong and where."""
    with pytest.raises(OutlineError, match=sentence):
        as_outline(points)  # type: ignore[arg-type]


def test_the_unit_of_a_refusal_can_be_left_out() -> None:
    """Outlines without a unit are refused without naming one."""
    with pytest.raises(OutlineError, match=r"near \(1, 1\)$"):
        as_outline([(0, 0), (2, 2), (2, 0), (0, 2)], unit="")


def test_measures_of_a_triangle() -> None:
    """A 3-4-5 triangle: area 6, and the sign tells the direction."""
    triangle = np.array([[1.0, 1.0], [4.0, 1.0], [4.0, 5.0]])

    assert signed_area_mm2(triangle) == 6.0
    assert signed_area_mm2(triangle[::-1]) == -6.0
    assert bounds_mm(triangle) == (1.0, 1.0, 4.0, 5.0)


def test_area_far_from_the_origin_keeps_its_digits() -> None:
    """A 1 mm square a thousand kilometres away still has 1 mm²."""
    far = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]]) + 1e9 / 2

    assert area_mm2(far) == 1.0
