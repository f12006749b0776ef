"""A marker spoilt a thousand times over costs the judge no more than it tells."""

from collections import Counter
from dataclasses import replace

import pytest
import shapely

from nesting.checks import check_marker, enough, near_checks
from nesting.checks.laid_pieces import overlap_depth_mm
from nesting.lay import lay_pieces
from nesting.marker.marker import Marker
from tests.small_patterns import TRIANGLE, piece, request


@pytest.fixture(scope="module")
def marker() -> Marker:
    """Return a triangle and a pair, laid open."""
    pieces = piece("front", TRIANGLE, count=2, pair=True), piece("pocket", TRIANGLE)
    return lay_pieces(request(*pieces, width_mm=150.0)).marker


def copied(marker: Marker, times: int) -> Marker:
    """Return the marker with its first piece laid so many times on one spot."""
    return replace(marker, placements=(marker.placements[0],) * times)


@pytest.mark.parametrize("times", [1000, 6000])
def test_copies_on_one_spot_are_compared_no_more_than_they_are_told(
    marker: Marker, times: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A thousand copies are half a million pairs; a hundred overlaps are told, and that is all."""
    measured: list[int] = []

    def counted(first: shapely.Polygon, second: shapely.Polygon) -> float:
        measured.append(1)
        return overlap_depth_mm(first, second)

    monkeypatch.setattr(near_checks, "overlap_depth_mm", counted)

    findings = check_marker(copied(marker, times))

    codes = Counter(one.code for one in findings)
    assert codes["overlap"] == enough.MOST_FINDINGS + 1
    assert len(measured) == enough.MOST_FINDINGS + 1
    assert sum(codes.values()) < 4 * enough.MOST_FINDINGS
    [last] = [one.sentence for one in findings if "more of this kind" in one.sentence]
    assert "stops after 100" in last


def test_pairs_that_touch_and_do_not_overlap_are_bounded_as_well(
    marker: Marker, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After so many neighbours the check says that it stops, without having found a fault."""
    monkeypatch.setattr(near_checks, "MOST_PAIRS", 50)
    monkeypatch.setattr(near_checks, "_depth_mm", lambda *_: 0.0)

    findings = [one for one in check_marker(copied(marker, 200)) if one.code == "overlap"]

    assert len(findings) == 1
    assert "more than 50 pairs" in findings[0].sentence


def test_what_is_larger_than_any_lay_is_not_looked_at(
    marker: Marker, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By the number of pieces, and by the corners of their outlines."""
    assert [one.code for one in check_marker(copied(marker, 10_001))] == ["too-large"]
    monkeypatch.setattr(enough, "MOST_CORNERS", 100)
    assert [one.code for one in check_marker(copied(marker, 34))] == ["too-large"]
    assert [one.code for one in check_marker(marker)] == []


def test_boxes_that_do_not_meet_are_not_intersected(
    marker: Marker, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Depth by boxes comes first: of pieces side by side no outline is intersected."""
    calls: list[int] = []
    monkeypatch.setattr(near_checks, "overlap_depth_mm", lambda *_: calls.append(1) or 0.0)
    apart = tuple(
        replace(marker.placements[0], x_mm=marker.placements[0].x_mm + 200.0 * number)
        for number in range(50)
    )

    check_marker(replace(marker, placements=apart))

    assert calls == []
