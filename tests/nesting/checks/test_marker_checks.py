"""The independent check: a sound marker passes, and each way of spoiling one is named."""

from collections.abc import Callable
from dataclasses import replace

import pytest
import shapely

from nesting.checks import check_marker
from nesting.checks.laid_pieces import overlap_depth_mm
from nesting.cloth.spread import Spread, Stretch
from nesting.lay import lay_pieces
from nesting.marker.marker import Marker
from nesting.marker.placement import Placement
from pieces.finding import Severity
from pieces.grainline import Grain
from tests.small_patterns import TRIANGLE, box, piece, request


@pytest.fixture(scope="module")
def napped() -> Marker:
    """Return a pair of triangles and two boxes on napped cloth, laid open."""
    return lay_pieces(
        request(
            piece("front", TRIANGLE, count=2, pair=True),
            piece("panel", box(30, 50), count=2),
            width_mm=150.0,
            nap=True,
        )
    ).marker


@pytest.fixture(scope="module")
def folded() -> Marker:
    """Return a half back on the fold and a pair of triangles, folded lengthwise."""
    return lay_pieces(
        request(
            piece("back", box(40, 100, on_fold=True)),
            piece("front", TRIANGLE, count=2, pair=True),
            width_mm=300.0,
            spread=Spread.LENGTHWISE,
        )
    ).marker


def codes(marker: Marker) -> set[str]:
    """Return the codes of all findings, all of which must be errors with a sentence."""
    findings = check_marker(marker)
    assert all(finding.severity is Severity.ERROR and finding.sentence for finding in findings)
    return {finding.code for finding in findings}


def changed(marker: Marker, item: str, change: Callable[[Placement], Placement]) -> Marker:
    """Return the marker with the first placement of an item changed."""
    index = next(i for i, at in enumerate(marker.placements) if at.item == item)
    placements = list(marker.placements)
    placements[index] = change(placements[index])
    return replace(marker, placements=tuple(placements))


def test_sound_markers_have_no_findings(napped: Marker, folded: Marker) -> None:
    """What the engine lays passes the check."""
    assert codes(napped) == codes(folded) == set()


def test_a_piece_moved_onto_another_overlaps(napped: Marker) -> None:
    """The first panel laid where the second lies: they overlap by the panel's whole width."""
    second = next(at for at in napped.placements if at.item == "panel M" and at.number == 2)
    spoilt = changed(napped, "panel M", lambda at: replace(second, number=at.number))

    assert "overlap" in codes(spoilt)


@pytest.mark.parametrize(("dx", "dy"), [(-900.0, 0.0), (900.0, 0.0), (0.0, -900.0), (0.0, 900.0)])
def test_a_piece_moved_off_the_cloth_is_outside(napped: Marker, dx: float, dy: float) -> None:
    """Beyond either end and either edge."""
    spoilt = changed(
        napped, "panel M", lambda at: replace(at, x_mm=at.x_mm + dx, y_mm=at.y_mm + dy)
    )

    assert "outside-cloth" in codes(spoilt)


def test_a_piece_turned_by_seven_degrees_is_off_grain(napped: Marker) -> None:
    """Seven degrees, named in the sentence."""
    spoilt = changed(napped, "panel M", lambda at: replace(at, turn_deg=at.turn_deg + 7.0))

    findings = [one for one in check_marker(spoilt) if one.code == "off-grain"]
    assert len(findings) == 1
    assert "7.00 degrees" in findings[0].sentence


def turned_panel(at: Placement) -> Placement:
    """Return the panel, 50 x 30 as it lies, turned by half a turn about its middle."""
    return replace(at, turn_deg=at.turn_deg + 180.0, x_mm=at.x_mm + 50.0, y_mm=at.y_mm + 30.0)


def test_a_piece_turned_half_round_on_napped_cloth_points_the_wrong_way(napped: Marker) -> None:
    """The box turned about its own middle covers the same cloth; only its direction is wrong."""
    assert codes(changed(napped, "panel M", turned_panel)) == {"wrong-direction"}


def test_the_same_half_turn_is_lawful_on_plain_cloth(napped: Marker) -> None:
    """Without nap nothing is wrong with it."""
    plain = replace(napped, bolt=replace(napped.bolt, nap=False))
    assert codes(changed(plain, "panel M", turned_panel)) == set()


def test_a_piece_left_out_is_missing_and_one_too_many_is_extra(napped: Marker) -> None:
    """Counts are compared with the cut list."""
    without = replace(napped, placements=tuple(at for at in napped.placements if at.number != 2))
    doubled = replace(napped, placements=(*napped.placements, napped.placements[0]))

    assert "missing-copies" in codes(without)
    assert {"extra-copies", "overlap"} <= codes(doubled)


def test_a_pair_cut_twice_the_same_way_round_is_unmirrored(napped: Marker) -> None:
    """Two right fronts and no left one: the flipped copy laid as drawn."""
    over = next(i for i, at in enumerate(napped.placements) if at.item == "front M" and at.flipped)
    placements = list(napped.placements)
    placements[over] = replace(placements[over], flipped=False, turn_deg=0.0)

    assert "unmirrored-pair" in codes(replace(napped, placements=tuple(placements)))


def test_a_half_piece_moved_off_its_fold_is_off_the_fold(folded: Marker) -> None:
    """Five millimetres up, and the fold edge would be cut open."""
    spoilt = changed(folded, "back M", lambda at: replace(at, y_mm=at.y_mm + 5.0))

    assert "off-fold" in codes(spoilt)


def test_a_wrong_length_is_told(napped: Marker) -> None:
    """The length written in the marker must be where its last piece ends."""
    assert codes(replace(napped, length_mm=napped.length_mm + 30.0)) == {"wrong-length"}
    stretch = napped.stretches[0]
    gap = (Stretch(stretch.spread, 0.0, stretch.length_mm - 10.0),)
    assert "wrong-length" in codes(replace(napped, stretches=gap))
    late = (Stretch(stretch.spread, 25.4, stretch.length_mm),)
    sentences = [one.sentence for one in check_marker(replace(napped, stretches=late))]
    assert (
        "stretch 1 of the lay begins at 1 in (2.5 cm), and must begin at the cut end of the cloth"
        in sentences
    )


def test_pieces_the_cut_list_does_not_have_are_told(napped: Marker) -> None:
    """A placement of an unknown item, or in a stretch that does not exist."""
    stray = replace(napped.placements[0], item="sleeve M")
    assert "unknown-piece" in codes(replace(napped, placements=(*napped.placements, stray)))
    assert "unknown-piece" in codes(changed(napped, "panel M", lambda at: replace(at, stretch=3)))


def test_a_bias_piece_laid_straight_is_off_its_grain() -> None:
    """A patch to be cut on the bias, laid along the grain: 45 degrees off."""
    patch = piece("patch", box(100, 100), grain=Grain.BIAS)
    marker = lay_pieces(request(patch, width_mm=150.0)).marker

    spoilt = changed(marker, "patch M", lambda at: replace(at, turn_deg=0.0, x_mm=0.0, y_mm=0.0))

    sentences = [one.sentence for one in check_marker(spoilt) if one.code == "off-grain"]
    assert len(sentences) == 1
    assert "45.00 degrees" in sentences[0]


@pytest.mark.parametrize(
    ("first", "second", "depth_mm"),
    [
        ((0, 0, 10, 10), (10, 0, 20, 10), 0.0),  # touching
        ((0, 0, 10, 10), (8, 0, 20, 10), 2.0),  # a strip two wide
        ((0, 0, 10, 10), (7, 7, 20, 20), 3.0),  # a corner three by three
        ((0, 0, 10, 10), (2, 2, 5, 5), 3.0),  # one inside the other
    ],
)
def test_depth_of_overlap(first: tuple[int, ...], second: tuple[int, ...], depth_mm: float) -> None:
    """The widest disc in what two boxes share: worked out by eye."""
    depth = overlap_depth_mm(shapely.box(*first), shapely.box(*second))

    assert depth == pytest.approx(depth_mm, rel=0.01, abs=1e-6)


def test_a_long_shallow_overlap_is_judged_by_its_depth_not_its_area() -> None:
    """A metre long and 0.005 mm deep is 5 mm2 of area and still only a touch."""
    shared = overlap_depth_mm(shapely.box(0, 0, 1000, 10), shapely.box(0, 9.995, 1000, 20))

    assert shared == pytest.approx(0.005, rel=0.02)
    deeper = overlap_depth_mm(shapely.box(0, 0, 1000, 10), shapely.box(0, 9.95, 1000, 20))
    assert deeper == pytest.approx(0.05, rel=0.02)
