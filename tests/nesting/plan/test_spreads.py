"""What one placement yields in each way of spreading, and what cloth forbids which of them.

Cut counts after Cutting (Sewing & Craft Alliance) and Successful Sewing, lesson 8; nap on a
crosswise fold after the photo-guide chapter Laying Out the Pattern and Textiles and Garment
Construction, Form One. Every length is worked out in the docstring.
"""

from dataclasses import replace

import pytest

from nesting.cloth.bolt import Bolt
from nesting.cloth.flaw import Flaw
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.repeat import Repeat
from nesting.cloth.spread import Spread, Stretch
from nesting.errors import LayError, SpreadRefusedError
from nesting.lay import LayRequest, LayResult, lay_pieces
from nesting.marker.cut_list import cut_list
from nesting.marker.marker import Marker
from nesting.marker.placement import pieces_cut
from nesting.plan.lay_plan import LaidAs, lay_plan
from pieces.grainline import Grain
from pieces.piece import Piece
from tests.small_patterns import ONE, TRIANGLE, box, pattern, piece, request, shape

FOLDED = (Spread.LENGTHWISE, Spread.CROSSWISE, Spread.TURNED, Spread.DOUBLE)
ALONG = (Spread.LENGTHWISE, Spread.DOUBLE)
ACROSS = (Spread.CROSSWISE, Spread.TURNED)


def plan_of(one: Piece, spread: Spread, *, width_mm: float = 800.0) -> list[tuple[str, str, int]]:
    """Return spread, way of lying and copies of all that is planned for one piece."""
    items = cut_list(pattern(one), ONE, "shell")
    plan = lay_plan(items, Bolt(width_mm=width_mm), LayRules(spread))
    return [
        (stretch.spread.value, planned.laid_as.value, planned.copies)
        for stretch in plan
        for planned in stretch.items
    ]


def laid(*pieces: Piece, width_mm: float, spread: Spread, nap: bool = False) -> LayResult:
    """Return a quick lay that the check has nothing against."""
    result = lay_pieces(request(*pieces, width_mm=width_mm, spread=spread, nap=nap))
    assert result.findings == ()
    return result


def cut_of(marker: Marker) -> tuple[int, int]:
    """Return how many pieces as drawn and how many turned over come of a marker."""
    cut = [
        pieces_cut(marker.item_by_key[at.item], at, marker.stretches[at.stretch].spread)
        for at in marker.placements
    ]
    return sum(drawn for drawn, _ in cut), sum(over for _, over in cut)


# The cut-count table, one row a test


@pytest.mark.parametrize("spread", FOLDED)
def test_cut_two_in_two_layers_is_one_placement(spread: Spread) -> None:
    """A pair: one placement, two mirrored pieces."""
    pair = piece("front", TRIANGLE, count=2, pair=True)

    assert plan_of(pair, spread) == [(spread, "both layers", 1)]
    marker = laid(pair, width_mm=800.0, spread=spread).marker
    assert (len(marker.placements), cut_of(marker)) == (1, (1, 1))


def test_cut_two_in_one_layer_is_two_placements_the_second_reversed() -> None:
    """A pair laid open: one as drawn and one turned over."""
    pair = piece("front", TRIANGLE, count=2, pair=True)

    assert plan_of(pair, Spread.OPEN) == [("open", "as drawn", 1), ("open", "turned over", 1)]
    marker = laid(pair, width_mm=800.0, spread=Spread.OPEN).marker
    assert (len(marker.placements), cut_of(marker)) == (2, (1, 1))


@pytest.mark.parametrize("spread", ALONG)
def test_cut_one_on_the_fold_is_one_placement_that_touches_it(spread: Spread) -> None:
    """A half on a fold along the cloth gives the whole piece."""
    back = piece("back", box(40, 100, on_fold=True))

    assert plan_of(back, spread) == [(spread, "on fold", 1)]
    marker = laid(back, width_mm=800.0, spread=spread).marker
    assert cut_of(marker) == (1, 0)


@pytest.mark.parametrize("spread", [Spread.OPEN, *ACROSS])
def test_without_a_fold_along_the_cloth_a_half_is_opened_out_first(spread: Spread) -> None:
    """Wanted once, the whole piece is cut from a single layer."""
    back = piece("back", box(40, 100, on_fold=True))

    assert plan_of(back, spread) == [("open", "as drawn", 1)]


@pytest.mark.parametrize("spread", ACROSS)
def test_two_halves_opened_out_are_cut_by_one_placement(spread: Spread) -> None:
    """Two whole backs lie one upon the other."""
    backs = piece("back", box(40, 100, on_fold=True), count=2)

    assert plan_of(backs, spread) == [(spread, "both layers", 1)]


@pytest.mark.parametrize("spread", FOLDED)
def test_cut_one_is_cut_from_a_single_layer(spread: Spread) -> None:
    """A piece without symmetry wanted once lies as drawn, behind the fold."""
    assert plan_of(piece("pocket", TRIANGLE), spread) == [("open", "as drawn", 1)]


def test_cut_one_in_one_layer_is_one_placement_printed_side_up() -> None:
    """The other face would give the mirror image."""
    assert plan_of(piece("pocket", TRIANGLE), Spread.OPEN) == [("open", "as drawn", 1)]


@pytest.mark.parametrize("spread", FOLDED)
def test_cut_four_in_two_layers_is_two_placements(spread: Spread) -> None:
    """Two pairs."""
    four = piece("cuff", TRIANGLE, count=4, pair=True)

    assert plan_of(four, spread) == [(spread, "both layers", 2)]


def test_cut_four_in_one_layer_is_two_up_and_two_reversed() -> None:
    """Two pairs, each piece by itself."""
    four = piece("cuff", TRIANGLE, count=4, pair=True)

    assert plan_of(four, Spread.OPEN) == [("open", "as drawn", 2), ("open", "turned over", 2)]


@pytest.mark.parametrize("spread", FOLDED)
def test_an_odd_count_wastes_no_layer(spread: Spread) -> None:
    """Of three straps two lie upon each other, and the third lies in a single layer."""
    straps = piece("strap", box(40, 100), count=3)

    assert plan_of(straps, spread) == [(spread, "both layers", 1), ("open", "as drawn", 1)]


def test_an_odd_count_in_one_layer_is_as_many_placements() -> None:
    """Three straps, three placements."""
    assert plan_of(piece("strap", box(40, 100), count=3), Spread.OPEN) == [("open", "as drawn", 3)]


@pytest.mark.parametrize(("spread", "wide"), [(Spread.LENGTHWISE, 410.0), (Spread.DOUBLE, 210.0)])
@pytest.mark.parametrize("on_fold", [False, True])
def test_a_piece_beyond_the_fold_is_cut_single(spread: Spread, wide: float, on_fold: bool) -> None:
    """Half of 800 mm is 400, a quarter 200: what is wider lies on cloth that is opened out."""
    if on_fold:
        assert plan_of(piece("back", box(wide, 100, on_fold=True)), spread) == [
            ("open", "as drawn", 1)
        ]
    else:
        pair = piece("front", box(wide, 100), count=2, pair=True)
        assert plan_of(pair, spread) == [("open", "as drawn", 1), ("open", "turned over", 1)]


# How long each is


def test_a_crosswise_fold_takes_twice_what_lies_on_the_table() -> None:
    """A pair of boxes 60 x 100 on cloth 60 wide: 100 mm of table, 200 mm of cloth."""
    pair = piece("front", box(60, 100), count=2, pair=True)

    result = laid(pair, width_mm=60.0, spread=Spread.CROSSWISE)

    assert result.marker_length_mm == pytest.approx(200.0, abs=0.01)
    assert result.marker.stretches[0].table_mm == pytest.approx(100.0, abs=0.01)
    assert result.utilisation == pytest.approx(1.0, abs=1e-4)
    assert result.lower_bound.length_mm == pytest.approx(200.0, abs=0.01)


def test_turned_cloth_takes_as_much_and_may_have_nap() -> None:
    """The same pair on napped cloth that is cut across: 200 mm."""
    pair = piece("front", box(60, 100), count=2, pair=True)

    result = laid(pair, width_mm=60.0, spread=Spread.TURNED, nap=True)

    assert result.marker_length_mm == pytest.approx(200.0, abs=0.01)
    assert cut_of(result.marker) == (1, 1)


def test_what_is_single_follows_the_halved_cloth() -> None:
    """A pair 60 x 100 takes 200 mm, and a pocket 60 x 50 behind it 50 mm: 250 mm in all."""
    pair, pocket = piece("front", box(60, 100), count=2, pair=True), piece("pocket", box(60, 50))

    result = laid(pair, pocket, width_mm=60.0, spread=Spread.CROSSWISE)

    assert result.marker_length_mm == pytest.approx(250.0, abs=0.01)
    assert [one.spread for one in result.marker.stretches] == [Spread.CROSSWISE, Spread.OPEN]
    assert result.marker.stretches[1].start_mm == pytest.approx(200.0, abs=0.01)


def test_on_a_double_fold_halves_lie_on_either_fold() -> None:
    """Two backs 40 x 100 as halves on cloth 160 wide: one on each fold, 100 mm.

    A lengthwise fold has only one fold, so they lie one after another: 200 mm.
    """
    backs = piece("back", box(40, 100, on_fold=True), count=2)

    double = laid(backs, width_mm=160.0, spread=Spread.DOUBLE)
    single = laid(backs, width_mm=160.0, spread=Spread.LENGTHWISE)

    assert double.marker_length_mm == pytest.approx(100.0, abs=0.01)
    assert single.marker_length_mm == pytest.approx(200.0, abs=0.01)
    edges = sorted(at.y_mm for at in double.marker.placements)
    assert edges == pytest.approx([0.0, 80.0], abs=0.01)
    assert double.lower_bound.length_mm == pytest.approx(100.0, abs=0.01)


@pytest.mark.parametrize("nap", [False, True])
def test_halves_on_both_folds_point_the_same_way_on_napped_cloth(nap: bool) -> None:
    """Halves narrowing to the head, one on each fold: the check sees to their direction."""
    half = shape([(0, 0), (40, 0), (20, 100), (0, 100)], fold_edge_mm=((0.0, 0.0), (0.0, 100.0)))
    tail = piece("back", half, count=4)

    result = laid(tail, width_mm=160.0, spread=Spread.DOUBLE, nap=nap)

    assert result.marker_length_mm == pytest.approx(200.0, abs=0.01)


def test_no_piece_crosses_the_middle_of_a_double_fold() -> None:
    """Pairs 60 wide on cloth 400 wide: bands of 100 take one each, where 200 would take three.

    Six pairs: three after another on each band, 300 mm; lengthwise three abreast, 200 mm.
    """
    pairs = piece("front", box(60, 100), count=12, pair=True)

    double = laid(pairs, width_mm=400.0, spread=Spread.DOUBLE)
    single = laid(pairs, width_mm=400.0, spread=Spread.LENGTHWISE)

    assert double.marker_length_mm == pytest.approx(300.0, abs=0.01)
    assert single.marker_length_mm == pytest.approx(200.0, abs=0.01)


def test_one_way_pieces_on_plain_cloth_stay_off_a_crosswise_fold() -> None:
    """It turns one layer end for end, so they lie single; cut and turned they may lie double."""
    pair = piece("front", TRIANGLE, count=2, pair=True, one_way=True)

    assert [lies for _, lies, _ in plan_of(pair, Spread.CROSSWISE)] == ["as drawn", "turned over"]
    assert plan_of(pair, Spread.TURNED) == [("turned", "both layers", 1)]


@pytest.mark.parametrize("grain", [Grain.CROSSWISE, Grain.BIAS, Grain.FREE])
@pytest.mark.parametrize("spread", FOLDED)
def test_pieces_of_every_grain_go_through_both_layers(grain: Grain, spread: Spread) -> None:
    """The check reckons the direction in each layer by itself."""
    pair = piece("patch", TRIANGLE, count=2, pair=True, grain=grain)

    result = laid(pair, width_mm=1000.0, spread=spread)

    assert [planned.laid_as for planned in _planned(result)] == [LaidAs.BOTH_LAYERS]


def _planned(result: LayResult) -> list[object]:
    marker = result.marker
    plan = lay_plan(marker.items, marker.bolt, marker.rules)
    return [planned for stretch in plan for planned in stretch.items]


def test_both_orders_of_the_stretches_are_tried_around_a_flaw() -> None:
    """A flaw over the whole width from 40 to 50 mm, a pair 100 long and a pocket 40 long.

    Folded first, the pair begins at 50 and the pocket ends at 50 + 100 + 40 = 190; the pocket
    first ends at 40, and the pair lies from 50 to 150.
    """
    flaw = Flaw(at_mm=40.0, across_mm=0.0, long_mm=10.0, wide_mm=120.0)
    asked = request(
        piece("front", box(60, 100), count=2, pair=True),
        piece("pocket", box(120, 40)),
        width_mm=120.0,
        spread=Spread.LENGTHWISE,
    )
    asked = replace(asked, bolt=replace(asked.bolt, flaws=(flaw,)))

    result = lay_pieces(asked)

    assert result.findings == ()
    assert result.marker_length_mm == pytest.approx(150.0, abs=0.01)
    assert [one.spread for one in result.marker.stretches] == [Spread.OPEN, Spread.LENGTHWISE]


def test_flaws_are_gone_around_on_a_double_fold() -> None:
    """Bands of 100 mm; a flaw in the lower quarter comes to lie in the lower band alone.

    A flaw 10 long at 0, from 90 to 100 across on cloth 400 wide, touches the fold at 100: two
    pairs 90 x 100, one in each band. The lower begins behind the flaw, at 10: 110 mm.
    """
    flaw = Flaw(at_mm=0.0, across_mm=80.0, long_mm=10.0, wide_mm=20.0)
    asked = request(
        piece("front", box(90, 100), count=4, pair=True), width_mm=400.0, spread=Spread.DOUBLE
    )

    result = lay_pieces(replace(asked, bolt=replace(asked.bolt, flaws=(flaw,))))

    assert result.findings == ()
    assert result.marker_length_mm == pytest.approx(110.0, abs=0.01)


# What is refused, and the way out


def refusal(bolt: Bolt, spread: Spread) -> str:
    """Return why a bolt may not be spread so."""
    asked = request(piece("front", TRIANGLE, count=2, pair=True), width_mm=100.0, spread=spread)
    with pytest.raises(SpreadRefusedError) as caught:
        lay_pieces(replace(asked, bolt=bolt))
    return str(caught.value)


def test_nap_on_a_crosswise_fold_is_refused_and_turning_named() -> None:
    """The fold reverses one layer end for end."""
    sentence = refusal(Bolt(width_mm=800.0, nap=True), Spread.CROSSWISE)

    assert "end for end" in sentence
    assert "(turned)" in sentence


@pytest.mark.parametrize("spread", ACROSS)
@pytest.mark.parametrize(
    "bolt",
    [
        Bolt(width_mm=800.0, repeat=Repeat(along_mm=100.0)),
        Bolt(width_mm=800.0, flaws=(Flaw(at_mm=0.0, across_mm=0.0, long_mm=10.0, wide_mm=10.0),)),
    ],
)
def test_stripes_and_flaws_on_halved_cloth_are_refused(bolt: Bolt, spread: Spread) -> None:
    """Where they come to lie in the under layer depends on where the cloth is halved."""
    sentence = refusal(bolt, spread)

    assert "depends on where the cloth is halved" in sentence
    assert "fold the cloth lengthwise, or lay it open" in sentence


def test_a_repeat_across_on_a_double_fold_is_refused() -> None:
    """At each fold the stripes come out differently."""
    bolt = Bolt(width_mm=800.0, repeat=Repeat(across_mm=100.0))

    assert "lay it open" in refusal(bolt, Spread.DOUBLE)


def test_best_is_no_way_to_lie() -> None:
    """Neither a plan nor a stretch can be spread best, and the message says so."""
    with pytest.raises(LayError, match="no way to lie"):
        lay_plan((), Bolt(width_mm=800.0), LayRules(Spread.BEST))
    with pytest.raises(LayError, match="name the way it lies"):
        Stretch(Spread.BEST, 0.0, 100.0)


def test_a_request_of_the_best_is_a_lay_that_names_its_way() -> None:
    """The marker that comes of it can be written, read and checked like any other."""
    asked: LayRequest = request(
        piece("front", box(60, 100), count=2, pair=True), width_mm=120.0, spread=Spread.BEST
    )

    result = lay_pieces(asked)

    assert result.marker.rules.spread in FOLDED
    assert result.marker_length_mm == pytest.approx(100.0, abs=0.01)
