"""Half pieces are opened out about their fold edge."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given

from pieces.errors import PieceError
from pieces.grainline import Grainline
from pieces.marks import DrillHole, InternalLine, MatchPoint, Notch
from pieces.outline.polygon import area_mm2, bounds_mm
from pieces.outline.transform import turn
from pieces.piece import PieceShape
from pieces.shaping.unfold import fold_run, unfold
from tests.gallery import half_back
from tests.strategies import half_shapes


def vertex_set(points: np.ndarray) -> set[tuple[float, float]]:
    """Return the vertices without their order; minus zero counts as zero."""
    return {(x + 0.0, y + 0.0) for x, y in points.tolist()}


def test_a_half_back_becomes_a_symmetric_back() -> None:
    """The full back is 300 mm wide, twice the area, and its straight hem has no middle vertex.

    The vertex inside the fold edge and the lower end of it go; the neck's lowest point stays.
    """
    full = unfold(half_back())

    assert full.fold_edge_mm is None
    assert vertex_set(full.outline_mm) == {
        (150, 0), (150, 300), (60, 300), (0, 280), (-60, 300), (-150, 300), (-150, 0),
    }  # fmt: skip
    assert area_mm2(full.outline_mm) == 2.0 * area_mm2(half_back().outline_mm)
    assert full.grainline == half_back().grainline


@given(half_shapes())
def test_the_full_piece_is_exactly_symmetric_with_twice_the_area(half: PieceShape) -> None:
    """About a fold along an axis, the mirror image has the very same vertices."""
    full = unfold(half)

    assert vertex_set(full.outline_mm * (1.0, -1.0)) == vertex_set(full.outline_mm)
    assert area_mm2(full.outline_mm) == pytest.approx(2.0 * area_mm2(half.outline_mm))
    assert bounds_mm(full.outline_mm)[3] == bounds_mm(half.outline_mm)[3]


@given(half_shapes())
def test_marks_stand_on_both_sides_and_once_on_the_fold(half: PieceShape) -> None:
    """Each mark off the fold line has its image; one on the line is not doubled."""
    full = unfold(half)

    for before, after in (
        (half.notches, full.notches),
        (half.drill_holes, full.drill_holes),
    ):
        places = [mark.at_mm for mark in before]
        images = [(x, -y) for x, y in places if y != 0.0]
        assert [mark.at_mm for mark in after] == places + images


def test_match_points_and_lines_are_mirrored_with_their_names() -> None:
    """A named point and a dart stand on both sides; a centre line stands once."""
    marked = dataclasses.replace(
        half_back(),
        match_points=(MatchPoint("side", (150.0, 100.0)), MatchPoint("centre", (0.0, 100.0))),
        internal_lines=(
            InternalLine("dart", np.array([(70.0, 0.0), (75.0, 120.0)])),
            InternalLine("centre", np.array([(0.0, 0.0), (0.0, 280.0)])),
        ),
    )
    full = unfold(marked)

    assert [(p.name, p.at_mm) for p in full.match_points] == [
        ("side", (150.0, 100.0)), ("centre", (0.0, 100.0)), ("side", (-150.0, 100.0)),
    ]  # fmt: skip
    assert [line.name for line in full.internal_lines] == ["dart", "centre", "dart"]
    assert full.internal_lines[2].points_mm.tolist() == [[-70.0, 0.0], [-75.0, 120.0]]


@pytest.mark.parametrize("deg", [30.0, 90.0, 211.0])
def test_a_turned_half_opens_out_to_the_turned_full_piece(deg: float) -> None:
    """Opening out and turning can be done in either order."""
    half = half_back()
    ends = turn(np.array(half.fold_edge_mm), deg).tolist()
    turned = dataclasses.replace(
        half,
        outline_mm=turn(half.outline_mm, deg),
        fold_edge_mm=(tuple(ends[0]), tuple(ends[1])),
    )

    expected = turn(unfold(half).outline_mm, deg)
    assert unfold(turned).outline_mm == pytest.approx(expected, abs=1e-9)


def test_the_ends_of_the_fold_edge_may_be_given_in_either_order() -> None:
    """The direction of the fold edge means nothing."""
    half = half_back()
    reverse = dataclasses.replace(half, fold_edge_mm=((0.0, 280.0), (0.0, 0.0)))

    assert unfold(reverse) == unfold(half)


def test_the_fold_run_is_found_with_its_inner_vertices() -> None:
    """The straight run goes from vertex 4 through 5 to vertex 0 of the half back."""
    assert fold_run(half_back().outline_mm, ((0.0, 0.0), (0.0, 280.0))) == (4, 0)
    assert fold_run(half_back().outline_mm, ((0.0, 0.0), (0.0, 279.0))) is None


def test_a_piece_without_fold_edge_is_refused() -> None:
    """A full piece cannot be opened out."""
    full = dataclasses.replace(half_back(), fold_edge_mm=None)

    with pytest.raises(PieceError, match="no fold edge"):
        unfold(full)


@pytest.mark.parametrize(
    ("fold", "sentence"),
    [
        (((0.0, 0.0), (0.0, 200.0)), "no straight edge of the outline"),
        (((0.0, 0.0), (150.0, 300.0)), "no straight edge of the outline"),
        (((5.0, 0.0), (5.0, 280.0)), "no straight edge of the outline"),
        (((0.0, 0.0), (0.0, 0.0)), "no straight edge of the outline"),
        (((0.0, 0.0), (0.0, 140.0)), "must be the whole of its straight edge"),
    ],
)
def test_a_fold_edge_that_does_not_fit_is_refused(fold: object, sentence: str) -> None:
    """The fold edge is a whole straight edge, and the piece lies on one side of its line."""
    half = dataclasses.replace(half_back(), fold_edge_mm=fold)  # type: ignore[arg-type]

    with pytest.raises(PieceError, match=sentence):
        unfold(half)


def test_an_outline_across_the_fold_line_is_refused() -> None:
    """A hook that reaches over the fold line would overlap its own image."""
    hooked = PieceShape(
        outline_mm=np.array([(0, 0), (90, 0), (90, 200), (-30, 200), (-30, 150), (50, 150),
                             (50, 100), (0, 100)], float),
        grainline=Grainline((20.0, 10.0), (20.0, 90.0)),
        fold_edge_mm=((0.0, 0.0), (0.0, 100.0)),
        notches=(Notch((90.0, 100.0)),),
        drill_holes=(DrillHole((45.0, 50.0)),),
    )  # fmt: skip

    with pytest.raises(PieceError, match=r"crosses the fold line at \(-30, 200\)"):
        unfold(hooked)
