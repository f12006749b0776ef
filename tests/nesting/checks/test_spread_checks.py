"""The independent check knows every way of spreading: each way of spoiling one is named."""

from dataclasses import replace

import numpy as np
import pytest

from nesting.answers.compare import compare_bolts, widened
from nesting.checks import check_marker
from nesting.checks.plies import layers_at
from nesting.cloth.bolt import Bolt
from nesting.cloth.flaw import Flaw
from nesting.cloth.repeat import Repeat
from nesting.cloth.spread import Spread, Stretch
from nesting.lay import lay_pieces
from nesting.marker.marker import Marker
from nesting.marker.marker_file import format_marker, parse_marker
from nesting.plan.flaw_places import flaw_places
from tests.small_patterns import TRIANGLE, box, piece, request

FOLDED = (Spread.LENGTHWISE, Spread.CROSSWISE, Spread.TURNED, Spread.DOUBLE)


def pair_on(spread: Spread, *, width_mm: float = 400.0) -> Marker:
    """Return a pair of triangles and a half back, spread so."""
    marker = lay_pieces(
        request(
            piece("front", TRIANGLE, count=2, pair=True),
            piece("back", box(40, 100, on_fold=True)),
            width_mm=width_mm,
            spread=spread,
        )
    ).marker
    assert check_marker(marker) == ()
    return marker


def codes(marker: Marker) -> set[str]:
    """Return the codes of all findings."""
    return {finding.code for finding in check_marker(marker)}


def moved(marker: Marker, item: str, dx: float, dy: float) -> Marker:
    """Return the marker with the first placement of an item moved."""
    [index, *_] = [i for i, at in enumerate(marker.placements) if at.item == item]
    placements = list(marker.placements)
    at = placements[index]
    placements[index] = replace(at, x_mm=at.x_mm + dx, y_mm=at.y_mm + dy)
    return replace(marker, placements=tuple(placements))


@pytest.mark.parametrize("spread", FOLDED)
def test_a_marker_is_read_as_it_was_written(spread: Spread) -> None:
    """The file knows every way of spreading."""
    marker = pair_on(spread)

    read = parse_marker(format_marker(marker))

    assert read.rules.spread is spread
    assert read.stretches == marker.stretches
    assert read.placements == marker.placements
    assert check_marker(read) == ()


@pytest.mark.parametrize("spread", [Spread.CROSSWISE, Spread.TURNED])
def test_a_piece_beyond_the_place_where_the_cloth_is_halved_is_outside(spread: Spread) -> None:
    """The front moved on by half of its length reaches over the fold, or the cut."""
    marker = pair_on(spread)

    spoilt = moved(marker, "front M", 50.0, 0.0)

    sentences = [one.sentence for one in check_marker(spoilt) if one.code == "outside-cloth"]
    assert len(sentences) == 1
    assert "beyond the place where the cloth is halved" in sentences[0]


def test_a_piece_across_the_middle_of_a_double_fold_is_told() -> None:
    """A box 90 wide in a band of 100, moved up by 50: it reaches 40 mm over the middle."""
    marker = lay_pieces(
        request(
            piece("front", box(90, 100), count=2, pair=True), width_mm=400.0, spread=Spread.DOUBLE
        )
    ).marker
    [at] = marker.placements
    low_mm = replace(at, y_mm=at.y_mm + 50.0)

    assert codes(replace(marker, placements=(low_mm,))) == {"across-middle"}


def test_a_half_may_lie_on_either_fold_and_nowhere_between() -> None:
    """Ten millimetres off, the fold edge would be cut open."""
    marker = pair_on(Spread.DOUBLE)

    for dy in (10.0, -10.0):
        assert "off-fold" in codes(moved(marker, "back M", 0.0, dy))


def test_a_crosswise_fold_of_napped_cloth_points_the_wrong_way() -> None:
    """Cut and turned, both layers run with the nap; folded there, the under layer runs against."""
    turned = lay_pieces(
        request(
            piece("front", TRIANGLE, count=2, pair=True),
            width_mm=400.0,
            nap=True,
            spread=Spread.TURNED,
        )
    ).marker
    [stretch] = turned.stretches

    folded = replace(turned, stretches=(replace(stretch, spread=Spread.CROSSWISE),))

    assert codes(turned) == set()
    assert codes(folded) == {"wrong-direction"}


@pytest.mark.parametrize("spread", FOLDED)
def test_a_wrong_length_of_cloth_is_told(spread: Spread) -> None:
    """Halved cloth is twice as long as the table is; other cloth is as long."""
    marker = pair_on(spread)
    short = tuple(replace(one, length_mm=one.length_mm / 2.0) for one in marker.stretches)

    assert "wrong-length" in codes(replace(marker, stretches=short))
    assert codes(replace(marker, length_mm=marker.length_mm + 30.0)) == {"wrong-length"}


@pytest.mark.parametrize(
    ("spread", "heights"),
    [
        (Spread.OPEN, [(10.0, 20.0)]),
        (Spread.LENGTHWISE, [(10.0, 420.0), (10.0, 380.0)]),
        (Spread.DOUBLE, [(10.0, 220.0), (10.0, 180.0)]),
        # the fold is at 150, so x = 10 lies 140 behind it as well
        (Spread.CROSSWISE, [(10.0, 20.0), (290.0, 20.0)]),
        # cut at 150 and turned: 10 mm from the cut, from the other selvage
        (Spread.TURNED, [(10.0, 20.0), (160.0, 780.0)]),
    ],
)
def test_where_a_point_of_the_table_comes_from(
    spread: Spread, heights: list[tuple[float, float]]
) -> None:
    """The point (10, 20) on 300 mm of cloth 800 mm wide, one place for each layer."""
    layers = layers_at(Stretch(spread, 0.0, 300.0), Bolt(width_mm=800.0), 20.0)

    places = [tuple(layer.on_cloth(np.array([(10.0, 20.0)]))[0].tolist()) for layer in layers]

    assert np.array(places) == pytest.approx(np.array(heights))
    assert [layer.is_mirrored for layer in layers] == [False, True][: len(layers)]


def test_above_the_middle_of_a_double_fold_the_other_selvage_lies() -> None:
    """At 300 of a table 400 high: 500 below, and 1000 - 300 = 700 on top of it, on 800 mm."""
    layers = layers_at(Stretch(Spread.DOUBLE, 0.0, 300.0), Bolt(width_mm=800.0), 300.0)

    heights = [layer.on_cloth(np.array([(0.0, 300.0)]))[0, 1] for layer in layers]

    assert heights == [500.0, 700.0]


@pytest.mark.parametrize(
    ("across", "wide", "places"),
    [
        # quarters of 200: the lower fold lies at 200, the upper one at 600
        (150.0, 20.0, [(30.0, 50.0)]),
        (190.0, 30.0, [(0.0, 10.0), (0.0, 20.0)]),
        (590.0, 30.0, [(390.0, 400.0), (380.0, 400.0)]),
        (700.0, 50.0, [(250.0, 300.0)]),
        (300.0, 20.0, [(100.0, 120.0)]),
    ],
)
def test_where_a_flaw_lies_on_a_double_fold(
    across: float, wide: float, places: list[tuple[float, float]]
) -> None:
    """On 800 mm of cloth: mirrored on the outer quarters, and on both sides of a fold it meets."""
    flaw = Flaw(at_mm=5.0, across_mm=across, long_mm=10.0, wide_mm=wide)

    found = flaw_places(Bolt(width_mm=800.0, flaws=(flaw,)), Spread.DOUBLE)

    heights = sorted((one.y0_mm, one.y1_mm) for one in found)
    assert np.array(heights) == pytest.approx(np.array(sorted(places)))


@pytest.mark.parametrize(
    ("spread", "at_mm", "across_mm"),
    [
        # the front lies at the start of the table; its second layer is where layers_at says
        (Spread.CROSSWISE, 195.0, 30.0),
        (Spread.TURNED, 105.0, 370.0),
        (Spread.DOUBLE, 5.0, 30.0),
    ],
)
def test_a_flaw_in_the_under_layer_is_found(spread: Spread, at_mm: float, across_mm: float) -> None:
    """A box 90 x 100 in the lower left corner of cloth 400 wide; the flaw lies under it."""
    marker = lay_pieces(
        request(piece("front", box(90, 100), count=2, pair=True), width_mm=400.0, spread=spread)
    ).marker
    flaw = Flaw(at_mm=at_mm, across_mm=across_mm, long_mm=2.0, wide_mm=2.0)

    spoilt = replace(marker, bolt=replace(marker.bolt, flaws=(flaw,)))

    assert codes(spoilt) == {"on-flaw"}


def test_stripes_along_match_on_a_double_fold() -> None:
    """Along the cloth a double fold changes nothing: the check finds the match it asked for."""
    asked = request(
        piece("front", box(90, 100), count=4, pair=True), width_mm=400.0, spread=Spread.DOUBLE
    )

    result = lay_pieces(replace(asked, bolt=replace(asked.bolt, repeat=Repeat(along_mm=70.0))))

    assert result.findings == ()


def test_a_double_marker_moves_with_its_upper_fold_to_a_wider_bolt() -> None:
    """On cloth 440 mm wide the upper fold lies 20 mm higher, and what lay there follows it."""
    marker = lay_pieces(
        request(
            piece("back", box(40, 100, on_fold=True), count=2), width_mm=160.0, spread=Spread.DOUBLE
        )
    ).marker

    wider = widened(marker, replace(marker.bolt, width_mm=200.0))

    assert check_marker(wider) == ()
    assert max(at.y_mm for at in wider.placements) == pytest.approx(100.0)


def test_comparing_spreads_that_a_bolt_forbids_gives_rows_with_the_reason() -> None:
    """Napped cloth is not folded crosswise; plain cloth beside it is."""
    pair = piece("front", TRIANGLE, count=2, pair=True)
    plain, napped = (
        request(pair, width_mm=400.0, nap=nap, spread=Spread.CROSSWISE) for nap in (False, True)
    )

    rows = compare_bolts((plain, napped))

    assert rows[0].result is not None
    assert rows[1].result is None
    assert "end for end" in rows[1].refusal
