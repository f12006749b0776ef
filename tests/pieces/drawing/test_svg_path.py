"""Path data is read strictly, and every command leads where SVG says."""

import math

import numpy as np
import pytest
import shapely

from pieces.drawing.affine import identity, read_transform
from pieces.drawing.limits import Budget
from pieces.drawing.svg_path import Stroke, flatten_path
from pieces.errors import DrawingError
from pieces.outline.polygon import area_mm2


def strokes(data: str, transform: str = "") -> list[Stroke]:
    """Return the strokes of path data whose unit is a millimetre."""
    return flatten_path(data, read_transform(transform), Budget())


def points(data: str) -> list[list[float]]:
    """Return the points of the one stroke there is."""
    (stroke,) = strokes(data)
    return stroke.points_mm.tolist()


@pytest.mark.parametrize(
    ("data", "expected"),
    [
        ("M1 2L3 4", [[1, 2], [3, 4]]),
        ("m1 2l3 4", [[1, 2], [4, 6]]),
        ("M1,2 3,4 5,6", [[1, 2], [3, 4], [5, 6]]),  # pairs after a move are lines
        ("m1,2 3,4", [[1, 2], [4, 6]]),
        ("M0 0H5V6h-1v-1", [[0, 0], [5, 0], [5, 6], [4, 6], [4, 5]]),
        ("M.5.5L-.5-.5", [[0.5, 0.5], [-0.5, -0.5]]),  # numbers part themselves
        ("M1e1 2E-1L007 1.", [[10, 0.2], [7, 1]]),
    ],
)
def test_lines_lead_where_they_are_told(data: str, expected: list[list[float]]) -> None:
    """Capital letters are places, small ones are steps."""
    assert np.allclose(points(data), expected)


def test_a_closed_path_says_so_and_goes_on_from_its_start() -> None:
    """After Z the pen is back at the start: l1 1 leads from (2, 2) to (3, 3)."""
    first, second = strokes("M2 2h4v4zl1 1")

    assert (first.closed, second.closed) == (True, False)
    assert second.points_mm.tolist() == [[2, 2], [3, 3]]


def test_a_smooth_cubic_mirrors_the_last_handle() -> None:
    """S after C continues in the same direction; after a line its first handle is the pen."""
    told = points("M0 0C0 40 50 40 50 0C50 -40 100 -40 100 0")
    short = points("M0 0C0 40 50 40 50 0S100 -40 100 0")
    assert np.allclose(told, short)

    after_line = points("M0 0L50 0S100 -40 100 0")
    assert np.allclose(after_line, points("M0 0L50 0C50 0 100 -40 100 0"))


def test_a_smooth_quadratic_mirrors_the_last_handle() -> None:
    """T after Q likewise, and T after T goes on mirroring; after a line it is straight."""
    assert np.allclose(points("M0 0Q25 50 50 0T100 0"), points("M0 0Q25 50 50 0Q75 -50 100 0"))
    assert {y for _, y in points("M0 0L5 0T9 0")} == {0}


def test_two_half_arcs_make_a_circle() -> None:
    """Radius 100: the area is 31,416 mm², less at most 0.1 mm all round (62.8 mm²)."""
    (stroke,) = strokes("M100 0A100 100 0 0 1-100 0A100 100 0 0 1 100 0z")

    off = np.abs(np.hypot(*stroke.points_mm.T) - 100.0)
    assert off.max() < 1e-9
    assert 31415.9 - 62.8 < area_mm2(stroke.points_mm) < 31415.93


@pytest.mark.parametrize(("flags", "middle"), [("0 0", -1), ("0 1", 1), ("1 0", -1), ("1 1", 1)])
def test_flags_choose_the_arc(flags: str, middle: int) -> None:
    """From (0, 0) to (60, 0) with r = 50: sweep 1 goes by negative y as SVG draws, y down."""
    arc = np.array(points(f"M0 0A50 50 0 {flags} 60 0"))

    lowest = arc[np.abs(arc[:, 1]).argmax(), 1]
    # the centre is 40 off the chord, so the small arc rises 10 and the large one 90
    assert lowest == pytest.approx(-middle * (90 if flags[0] == "1" else 10), abs=0.1)


def test_radii_too_small_are_grown() -> None:
    """A half circle over 100 with r = 1 is a half circle of radius 50."""
    arc = np.array(points("M0 0A1 1 0 0 1 100 0"))

    assert np.allclose(np.hypot(arc[:, 0] - 50.0, arc[:, 1]), 50.0)


def test_an_arc_without_radius_is_a_line() -> None:
    """As SVG says, and an arc to where it starts is nothing."""
    assert points("M0 0A0 5 0 0 1 10 0") == [[0, 0], [10, 0]]


def test_arc_flags_need_no_gaps() -> None:
    """Flags are one letter each."""
    assert points("M0 0a5 5 0 0110 0") == points("M0 0a5 5 0 0 1 10 0")


@pytest.mark.parametrize("scale", [1.0, 10.0, 25.4])
def test_curves_stay_within_a_tenth_after_scaling(scale: float) -> None:
    """The tolerance is one of the piece, not of the drawing."""
    data = "M0 0C0 80 100 80 100 0Q130 -40 160 0A30 50 30 0 0 220 0"
    (coarse,) = strokes(data, f"scale({scale})")
    (fine,) = strokes(data, "scale(1000)")

    chain = shapely.linestrings(coarse.points_mm)
    truth = shapely.points(fine.points_mm / 1000.0 * scale)
    assert shapely.distance(chain, truth).max() <= 0.1 + 1e-6


@pytest.mark.parametrize(
    "data",
    [
        "L1 1",
        "M1",
        "M1 2L3",
        "M0 0 5",
        "M0 0zz5 5",
        "M0 0X5 5",
        "M0 0A5 5 0 2 1 9 9",
        "M0 0A5 5 0 0 1 9",
        "M0 0L1e400 0",
        "M0 0L2e9 0",
        "M0 0L--1 0",
        "M0 0 & 5",
        "M0 0C1 1 2 2",
        "0 0L5 5",
    ],
)
def test_malformed_data_is_refused(data: str) -> None:
    """A path drawn half would make a wrong piece."""
    with pytest.raises(DrawingError):
        strokes(data)


@pytest.mark.slow
def test_a_path_of_a_million_points_is_refused() -> None:
    """The limit is 200,000 points for the whole drawing."""
    with pytest.raises(DrawingError, match="more than 200,000 points"):
        strokes("M0 0" + "l1 0" * 1_000_000)


def test_an_arc_round_the_world_is_refused() -> None:
    """Within 0.1 mm an arc of radius 10,000 km would need half a million points."""
    with pytest.raises(DrawingError):
        strokes("M0 0A1e9 1e9 0 1 1 1 0", "scale(1e4)")


def test_the_identity_moves_nothing() -> None:
    """The start of every walk."""
    (stroke,) = flatten_path("M3 4L5 6", identity(), Budget())

    assert stroke.points_mm.tolist() == [[3, 4], [5, 6]]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("", (1, 0)),
        ("translate(3)", (4, 0)),
        ("translate(3, 4)", (4, 4)),
        ("scale(2 3)", (2, 0)),
        ("rotate(90)", (0, 1)),
        ("rotate(180, 2, 1)", (3, 2)),
        ("matrix(0 1 -1 0 5 6)", (5, 7)),
        ("skewY(45)", (1, 1)),
        ("skewX(45)", (1, 0)),
        (" translate(1,1) , scale(2) ", (3, 1)),
        ("scale(-1 1)translate(1)", (-2, 0)),
    ],
)
def test_transforms_move_a_point(text: str, expected: tuple[float, float]) -> None:
    """The point (1, 0), worked out by hand; the last call acts first."""
    moved = read_transform(text) @ np.array([1.0, 0.0, 1.0])

    assert moved[:2] == pytest.approx(expected)
    assert math.isclose(moved[2], 1.0)


@pytest.mark.parametrize(
    "text", ["spin(3)", "scale(", "rotate(1 2)", "scale(a)", "scale(1e999)", "x" * 20_000]
)
def test_unknown_transforms_are_refused(text: str) -> None:
    """A shape must not lie somewhere else in silence."""
    with pytest.raises(DrawingError):
        read_transform(text)
