"""Markers whose length is worked out by hand, one sentence of arithmetic each."""

import pytest

from nesting.cloth.spread import Spread
from nesting.lay import lay_pieces
from pieces.grainline import Grain
from tests.small_patterns import TRIANGLE, box, piece, request


def test_two_triangles_share_a_rectangle_on_plain_cloth_and_not_with_nap() -> None:
    """Two triangles 60 x 100 on cloth 60 wide: 100 mm with a half turn, 200 mm with nap.

    Both are of one hand, which is asked about and found no fault with.
    """
    triangles = piece("triangle", TRIANGLE, count=2)

    plain = lay_pieces(request(triangles, width_mm=60.0))
    napped = lay_pieces(request(triangles, width_mm=60.0, nap=True))

    assert plain.marker_length_mm == pytest.approx(100.0, abs=0.01)
    assert napped.marker_length_mm == pytest.approx(200.0, abs=0.01)
    assert [one.code for one in plain.findings] == ["same-hand"]
    assert plain.findings == napped.findings


def test_one_way_pieces_keep_one_direction_on_plain_cloth() -> None:
    """The same two triangles flagged one-way need the 200 mm of napped cloth."""
    triangles = piece("triangle", TRIANGLE, count=2, one_way=True)

    result = lay_pieces(request(triangles, width_mm=60.0))

    assert result.marker_length_mm == pytest.approx(200.0, abs=0.01)


def test_a_mirrored_pair_of_triangles_with_nap_takes_two_lengths() -> None:
    """A triangle and its mirror image, both heads up, cannot share 60 mm of width: 200 mm."""
    triangles = piece("triangle", TRIANGLE, count=2, pair=True)

    result = lay_pieces(request(triangles, width_mm=60.0, nap=True))

    assert result.marker_length_mm == pytest.approx(200.0, abs=0.01)
    assert result.findings == ()


def test_a_pair_on_the_fold_takes_the_length_of_one() -> None:
    """A pair of 40 x 100 boxes on cloth 80 wide, folded: one placement 100 mm long."""
    result = lay_pieces(
        request(piece("front", box(40, 100), count=2, pair=True), width_mm=80.0,
                spread=Spread.LENGTHWISE)
    )  # fmt: skip

    assert result.marker_length_mm == pytest.approx(100.0, abs=0.01)
    assert len(result.marker.placements) == 1
    assert result.utilisation == pytest.approx(1.0, abs=1e-4)


def test_half_pieces_lie_along_the_fold_and_open_ones_side_by_side() -> None:
    """Two backs 40 x 100 as halves: 200 mm of fold; opened out, 80 wide each, 160 take 100 mm."""
    backs = piece("back", box(40, 100, on_fold=True), count=2)

    folded = lay_pieces(request(backs, width_mm=160.0, spread=Spread.LENGTHWISE))
    opened = lay_pieces(request(backs, width_mm=160.0))

    assert folded.marker_length_mm == pytest.approx(200.0, abs=0.01)
    assert folded.lower_bound.length_mm == pytest.approx(200.0, abs=0.01)
    assert opened.marker_length_mm == pytest.approx(100.0, abs=0.01)


def test_a_single_piece_on_folded_cloth_goes_to_an_open_stretch() -> None:
    """A pair of 40 x 100 and one asymmetric triangle: 100 mm folded, then 100 mm open."""
    result = lay_pieces(
        request(
            piece("front", box(40, 100), count=2, pair=True),
            piece("pocket", TRIANGLE),
            width_mm=80.0,
            spread=Spread.LENGTHWISE,
        )
    )

    lengths = [stretch.length_mm for stretch in result.marker.stretches]
    assert lengths == pytest.approx([100.0, 100.0], abs=0.01)
    assert [s.spread for s in result.marker.stretches] == [Spread.LENGTHWISE, Spread.OPEN]
    assert result.findings == ()


def test_two_alike_symmetric_pieces_are_cut_through_both_layers() -> None:
    """A box cut 2, no pair: its mirror image is the same box, so the fold takes 100 mm."""
    result = lay_pieces(request(piece("panel", box(40, 100), count=2), width_mm=80.0,
                         spread=Spread.LENGTHWISE))  # fmt: skip

    assert result.marker_length_mm == pytest.approx(100.0, abs=0.01)
    assert result.findings == ()


def test_an_odd_count_leaves_one_for_the_open_stretch() -> None:
    """Three boxes: two through both layers, 100 mm, and one alone, 100 mm."""
    result = lay_pieces(request(piece("panel", box(40, 100), count=3), width_mm=80.0,
                         spread=Spread.LENGTHWISE))  # fmt: skip

    assert result.marker_length_mm == pytest.approx(200.0, abs=0.01)
    assert result.findings == ()


def test_crosswise_grain_lays_a_long_piece_across() -> None:
    """A band 20 x 100, grain along its length: 100 mm lengthwise, 20 mm crosswise."""
    for grain, expected in ((Grain.LENGTHWISE, 100.0), (Grain.CROSSWISE, 20.0)):
        result = lay_pieces(request(piece("band", box(20, 100), grain=grain), width_mm=100.0))
        assert result.marker_length_mm == pytest.approx(expected, abs=0.01)
        assert result.findings == ()


def test_bias_grain_turns_a_square_onto_its_corner() -> None:
    """A 100 mm square at 45 degrees is as long as its diagonal, 141.42 mm."""
    result = lay_pieces(request(piece("patch", box(100, 100), grain=Grain.BIAS), width_mm=150.0))

    assert result.marker_length_mm == pytest.approx(141.4214, abs=0.01)
    assert result.findings == ()


def test_selvages_are_not_laid_upon() -> None:
    """Two boxes 50 x 100 on 100 mm lie side by side; with selvages of 5 mm they cannot."""
    boxes = piece("panel", box(50, 100), count=2)

    whole = lay_pieces(request(boxes, width_mm=100.0))
    narrowed = lay_pieces(request(boxes, width_mm=100.0, selvage_mm=5.0))

    assert whole.marker_length_mm == pytest.approx(100, abs=0.01)
    assert narrowed.marker_length_mm == pytest.approx(200, abs=0.01)
