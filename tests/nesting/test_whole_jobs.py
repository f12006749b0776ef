"""Whole jobs: whatever pattern, bolt and spread, the marker is right or the refusal is a sentence.

Every marker is judged by :mod:`nesting.checks`, which shares no geometry with the engine, and by a
second judge that reads the marker file alone and shares nothing with either. The laws say how the
answers to two questions must relate.
"""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings

from nesting.cloth.bolt import Bolt
from nesting.errors import NestingError
from nesting.lay import LayRequest, LayResult, judged, lay_pieces
from nesting.marker.marker_file import format_marker, parse_marker
from pieces.errors import PiecesError
from pieces.finding import Finding, Severity
from pieces.grainline import Grainline, Point
from pieces.piece import Piece, PieceShape
from tests.second_judge import faults
from tests.whole_jobs import jobs

SLOW = settings(max_examples=15, suppress_health_check=[HealthCheck.too_slow])


def errors(findings: tuple[Finding, ...]) -> list[Finding]:
    """Return what forbids cutting; a match given up on the bias is a warning."""
    return [finding for finding in findings if finding.severity is Severity.ERROR]


def laid_or_refused(job: LayRequest) -> LayResult | None:
    """Return what was laid, or None for a refusal that says something."""
    try:
        return lay_pieces(job)
    except (NestingError, PiecesError) as refusal:
        said = str(refusal)
    assert len(said) > 20
    return None


def with_points(job: LayRequest, moved: np.ndarray, times: float) -> LayRequest:
    """Return the job with every point of every piece enlarged and then moved."""

    def at(point: Point) -> Point:
        x, y = (np.array(point) * times + moved).tolist()
        return x, y

    def changed(shape: PieceShape) -> PieceShape:
        fold = shape.fold_edge_mm
        return replace(
            shape,
            outline_mm=shape.outline_mm * times + moved,
            grainline=Grainline(at(shape.grainline.tail_mm), at(shape.grainline.head_mm)),
            fold_edge_mm=None if fold is None else (at(fold[0]), at(fold[1])),
            match_points=tuple(
                replace(point, at_mm=at(point.at_mm)) for point in shape.match_points
            ),
        )

    def moved_piece(piece: Piece) -> Piece:
        return replace(piece, shapes={size: changed(one) for size, one in piece.shapes.items()})

    pieces = tuple(moved_piece(piece) for piece in job.pattern.pieces)
    return replace(job, pattern=replace(job.pattern, pieces=pieces))


def twice(bolt: Bolt) -> Bolt:
    """Return a bolt on which everything is twice as long and twice as wide."""
    repeat = bolt.repeat
    return replace(
        bolt,
        width_mm=2.0 * bolt.width_mm,
        selvage_mm=2.0 * bolt.selvage_mm,
        end_allowance_mm=2.0 * bolt.end_allowance_mm,
        repeat=repeat
        and replace(
            repeat,
            along_mm=repeat.along_mm and 2.0 * repeat.along_mm,
            across_mm=repeat.across_mm and 2.0 * repeat.across_mm,
        ),
        flaws=tuple(
            replace(
                flaw,
                at_mm=2.0 * flaw.at_mm,
                across_mm=2.0 * flaw.across_mm,
                long_mm=2.0 * flaw.long_mm,
                wide_mm=2.0 * flaw.wide_mm,
            )
            for flaw in bolt.flaws
        ),
    )


@SLOW
@given(job=jobs())
def test_every_marker_can_be_cut(job: LayRequest) -> None:
    """Nothing is found, the bound holds, and the marker file says the same when read back."""
    result = laid_or_refused(job)
    if result is None:
        return

    assert errors(result.findings) == []
    assert result.marker_length_mm >= result.lower_bound.length_mm * (1 - 1e-9)
    written = format_marker(result.marker)
    assert judged(parse_marker(written), job.asked()) == result.findings
    assert faults(written) == []


@pytest.mark.slow
@SLOW
@given(job=jobs())
def test_where_a_piece_is_drawn_changes_nothing(job: LayRequest) -> None:
    """Patterns drawn elsewhere on the paper take the same cloth."""
    result = laid_or_refused(job)
    assume(result is not None)

    moved = laid_or_refused(with_points(job, np.array([512.0, -256.0]), 1.0))

    assert result is not None
    assert moved is not None
    assert moved.marker_length_mm == pytest.approx(result.marker_length_mm, abs=1e-3)


@pytest.mark.slow
@SLOW
@given(job=jobs())
def test_twice_the_size_takes_twice_the_length(job: LayRequest) -> None:
    """Pieces, cloth and all distances doubled: the same marker, doubled."""
    result = laid_or_refused(job)
    assume(result is not None)
    larger = replace(
        with_points(job, np.zeros(2), 2.0),
        bolt=twice(job.bolt),
        rules=replace(job.rules, gap_mm=2.0 * job.rules.gap_mm),
    )

    doubled = laid_or_refused(larger)

    assert result is not None
    assert doubled is not None
    assert doubled.marker_length_mm == pytest.approx(2.0 * result.marker_length_mm, abs=1e-3)


@SLOW
@given(job=jobs())
def test_the_order_of_the_pieces_bounds_alike(job: LayRequest) -> None:
    """Pieces listed the other way round: as valid, and never below the same bound."""
    result = laid_or_refused(job)
    pieces = tuple(reversed(job.pattern.pieces))
    other = laid_or_refused(replace(job, pattern=replace(job.pattern, pieces=pieces)))

    assert (result is None) == (other is None)
    if result is not None and other is not None:
        assert errors(other.findings) == []
        assert other.lower_bound.length_mm == pytest.approx(result.lower_bound.length_mm)
