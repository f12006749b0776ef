"""Lower bounds: proven, sometimes reached, never above what the engine lays."""

import tracemalloc

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from nesting.cloth.spread import Spread
from nesting.lay import LayRequest, lay_pieces
from nesting.plan.bounds import chords, counted_shares, only_wide
from pieces.outline.polygon import FloatArray, area_mm2
from tests.gallery import GALLERY, circle, circle_area_mm2
from tests.small_patterns import TRIANGLE, box, piece, request, shape
from tests.strategies import star_outlines

SHARES = st.lists(st.integers(1, 60), min_size=1, max_size=12)


@given(parts=st.integers(2, 9), weights=SHARES)
def test_the_functions_are_dual_feasible(parts: int, weights: list[int]) -> None:
    """Shares that sum to at most 1 are counted as at most 1."""
    total = max(60, sum(weights))
    shares = np.array(weights) / total

    assert counted_shares(shares, parts=parts).sum() <= 1.0 + 1e-9
    assert only_wide(shares, least=1.0 / parts).sum() <= 1.0 + 1e-9


@given(parts=st.integers(2, 9), shares=st.lists(st.floats(0, 1), min_size=2, max_size=30))
def test_the_functions_never_fall(parts: int, shares: list[float]) -> None:
    """A wider share never counts less: the integral's lower estimate relies on it."""
    rising = np.sort(np.array(shares))

    assert (np.diff(counted_shares(rising, parts=parts)) >= -1e-9).all()
    assert (np.diff(only_wide(rising, least=1.0 / parts)) >= 0).all()


def under_chords(found: tuple[FloatArray, FloatArray]) -> float:
    """Return the area that slabs and the chords at their ends enclose, trapezium by trapezium."""
    slabs, ends = found
    return float((ends.mean(axis=1) * (slabs[:, 1] - slabs[:, 0])).sum())


@pytest.mark.parametrize("shown", GALLERY, ids=lambda shown: shown.name)
def test_chords_add_up_to_the_area(shown: object) -> None:
    """The area is the integral of the chord: trapezium by trapezium."""
    outline: FloatArray = shown.outline  # type: ignore[attr-defined]

    assert under_chords(chords(outline)) == pytest.approx(area_mm2(outline), rel=1e-9)


def test_many_vertices_take_little_memory() -> None:
    """A disc of 3000 vertices: 18 million pairs of an edge and a place, a few at a time."""
    outline = circle(100.0, 3000)
    tracemalloc.start()
    try:
        found = chords(outline)
        _, most_bytes = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()

    assert under_chords(found) == pytest.approx(circle_area_mm2(100.0, 3000), rel=1e-9)
    assert most_bytes < 100e6


@pytest.mark.parametrize(
    ("lay_request", "length_mm", "reason"),
    [
        # 2 x 30 x 50 on 60: 50 mm, filled without a gap
        (request(piece("a", box(30, 50), count=2), width_mm=60.0), 50.0, "area"),
        # one box 100 long on wide cloth
        (request(piece("a", box(30, 100)), width_mm=600.0), 100.0, "longest"),
        # three boxes 55 wide on 100: none beside another, 3 x 40
        (request(piece("a", box(55, 40), count=3), width_mm=100.0), 120.0, "beside"),
        # five boxes 40 wide on 100: two abreast at most, so 5 x 40 / 2
        (request(piece("a", box(40, 40), count=5), width_mm=100.0), 100.0, "beside"),
        # two halves 10 wide and 70 long on one fold
        (
            request(
                piece("a", box(10, 70, on_fold=True), count=2),
                width_mm=400.0,
                spread=Spread.LENGTHWISE,
            ),
            140.0,
            "fold",
        ),
    ],
)
def test_bounds_worked_out_by_hand(lay_request: LayRequest, length_mm: float, reason: str) -> None:
    """The best bound and its reason."""
    bound = lay_pieces(lay_request).lower_bound

    assert bound.length_mm == pytest.approx(length_mm, rel=1e-6)
    assert reason in bound.reason


@settings(max_examples=25)
@given(
    outlines=st.lists(star_outlines(), min_size=1, max_size=4),
    counts=st.lists(st.integers(1, 3), min_size=4, max_size=4),
    spread=st.sampled_from(Spread),
    nap=st.booleans(),
    room=st.floats(1.05, 3.0),
)
def test_no_marker_is_shorter_than_its_bound(
    outlines: list[FloatArray], counts: list[int], spread: Spread, nap: bool, room: float
) -> None:
    """Random garments on cloth spread in every way: bound <= length, and no findings."""
    assume(not (nap and spread is Spread.CROSSWISE))  # refused: the nap of the layers disagrees
    drawn = tuple(
        piece(f"p{number}", shape([tuple(point) for point in outline]), count=count)
        for number, (outline, count) in enumerate(zip(outlines, counts, strict=False))
    )
    widest = max(float(np.hypot(*np.ptp(outline, axis=0))) for outline in outlines)

    result = lay_pieces(request(*drawn, width_mm=2 * room * widest, nap=nap, spread=spread))

    assert {one.code for one in result.findings} <= {"same-hand"}
    assert result.lower_bound.length_mm <= result.marker_length_mm + 1e-6


def test_turning_over_does_not_change_the_bound() -> None:
    """A pair and two as drawn have the same area and the same extents."""
    alike = lay_pieces(request(piece("a", TRIANGLE, count=2), width_mm=70.0)).lower_bound
    pair = lay_pieces(request(piece("a", TRIANGLE, count=2, pair=True), width_mm=70.0)).lower_bound

    assert alike.length_mm == pytest.approx(pair.length_mm)
