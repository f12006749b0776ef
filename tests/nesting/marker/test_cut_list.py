"""The cut list: counts, the frame of the cloth, half pieces and symmetry."""

import numpy as np
import pytest

from nesting.errors import LayError
from nesting.marker.cut_list import CutItem, Selection, cut_list
from pieces.errors import UnknownNameError
from pieces.grainline import Grain
from pieces.outline.polygon import area_mm2
from pieces.piece import Piece
from tests.small_patterns import ONE, TRIANGLE, box, pattern, piece, shape


def only(drawn: Piece) -> CutItem:
    """Return the single cut item of a pattern of one piece."""
    (item,) = cut_list(pattern(drawn), ONE, "shell")
    return item


def test_pairs_are_half_as_drawn_and_half_turned_over() -> None:
    """Cut 4 as pairs, for three garments: six as drawn, six turned over."""
    drawn = pattern(piece("front", TRIANGLE, count=4, pair=True))

    (item,) = cut_list(drawn, (Selection("A", "M", 3),), "shell")

    assert (item.as_drawn, item.turned_over, item.count) == (6, 6, 12)


def test_equal_pieces_of_several_selections_are_added_up() -> None:
    """Two selections of the same view and size make one item of two."""
    (item,) = cut_list(pattern(piece("front", TRIANGLE)), ONE + ONE, "shell")

    assert item.count == 2


def test_an_item_knows_its_garments_and_what_each_takes() -> None:
    """Three garments and one more take a pair each: eight pieces, two for every garment."""
    drawn = pattern(piece("front", TRIANGLE, count=2, pair=True))

    (item,) = cut_list(drawn, (Selection("A", "M", 3), *ONE), "shell")

    assert item.garments == (1, 2, 3, 4)
    assert (item.as_drawn, item.turned_over) == (4, 4)
    share = item.share()
    assert (share.as_drawn, share.turned_over) == (1, 1)


def test_a_lay_holds_five_thousand_pieces_and_no_more() -> None:
    """50 of a piece for 100 garments are 5000; 51 are 5100, and the refusal tells both numbers."""
    hundred = (Selection("A", "M", 100),)

    (item,) = cut_list(pattern(piece("tab", TRIANGLE, count=50)), hundred, "shell")
    assert item.count == 5000
    with pytest.raises(LayError, match="5,100 pieces to cut from shell are more than the 5,000"):
        cut_list(pattern(piece("tab", TRIANGLE, count=51)), hundred, "shell")


def test_the_arrow_points_along_the_cloth() -> None:
    """A piece drawn upright is turned so that its arrow points along +x; its area is kept."""
    item = only(piece("front", TRIANGLE))

    assert item.shape.grainline.angle_deg == pytest.approx(0.0)
    assert np.ptp(item.shape.outline_mm, axis=0).tolist() == [100.0, 60.0]
    assert area_mm2(item.shape.outline_mm) == pytest.approx(3000.0)


@pytest.mark.parametrize("left", [True, False])
def test_a_half_piece_has_its_fold_on_zero_and_its_body_above(left: bool) -> None:
    """Whichever side of its fold the half was drawn on, it lies above y = 0; opened, both sides."""
    points = [(0, 0), (40, 0), (30, 100), (0, 100)]
    if not left:
        points = [(-x, y) for x, y in points]
    drawn = shape(points, fold_edge_mm=((0.0, 0.0), (0.0, 100.0)), arrow=((0, 10), (0, 60)))

    item = only(piece("back", drawn))

    half = item.half.outline_mm
    assert half[:, 1].min() == pytest.approx(0.0, abs=1e-9)
    assert half[:, 1].max() == pytest.approx(40.0)
    assert item.half.grainline.angle_deg == pytest.approx(0.0)
    assert np.ptp(item.shape.outline_mm, axis=0).tolist() == pytest.approx([100.0, 80.0])


def test_a_fold_across_the_grain_cannot_lie_on_a_lengthwise_fold() -> None:
    """A half whose fold edge runs across its arrow has no half to lay, only the whole piece."""
    drawn = shape([(0, 0), (80, 0), (80, 50), (0, 50)], fold_edge_mm=((0.0, 0.0), (80.0, 0.0)))

    item = only(piece("yoke", drawn))

    assert item.half is None
    assert np.ptp(item.shape.outline_mm, axis=0).tolist() == pytest.approx([100.0, 80.0])


def test_crosswise_halves_have_no_place_on_a_lengthwise_fold() -> None:
    """A crosswise piece lies across the cloth, and so does its fold edge."""
    item = only(piece("back", box(40, 100, on_fold=True), grain=Grain.CROSSWISE))

    assert item.half is None


def test_symmetry_is_across_the_grainline_alone() -> None:
    """A box is its own mirror image; a triangle is not; nor is a kite pointing sideways."""
    kite = shape([(0, 50), (30, 0), (90, 50), (30, 100)], arrow=((40, 20), (40, 80)))

    assert only(piece("box", box(40, 100))).is_symmetric
    assert not only(piece("triangle", TRIANGLE)).is_symmetric
    assert not only(piece("kite", kite)).is_symmetric


def test_unknown_names_and_empty_orders_are_refused() -> None:
    """View, size and cloth must exist, and at least one garment be asked for."""
    drawn = pattern(piece("front", TRIANGLE))

    with pytest.raises(UnknownNameError, match='"B"'):
        cut_list(drawn, (Selection("B", "M"),), "shell")
    with pytest.raises(UnknownNameError, match='"XS"'):
        cut_list(drawn, (Selection("A", "XS"),), "shell")
    with pytest.raises(UnknownNameError, match='"felt"'):
        cut_list(drawn, ONE, "felt")
    with pytest.raises(LayError, match="at least one"):
        Selection("A", "M", 0)
