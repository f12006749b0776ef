"""A folded marker written as an open one: the independent check judges both."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.checks import check_marker
from nesting.cloth.bolt import Bolt
from nesting.cloth.flaw import Flaw
from nesting.cloth.repeat import Repeat
from nesting.cloth.spread import Spread
from nesting.engine import pack
from nesting.errors import DoesNotFitError
from nesting.lay import LayRequest, LayResult, lay_pieces
from nesting.lay.best_spread import lay_best, lay_each
from nesting.lay.strips import start_for, strip_for
from nesting.lay.unfolding import unfolded
from nesting.marker.cut_list import cut_list
from nesting.marker.measure import piece_area_mm2
from nesting.plan.lay_plan import lay_plan
from tests.matched_patterns import boxed, matched_pattern
from tests.small_patterns import TRIANGLE, box, piece, request, shape

FOLDED = (Spread.LENGTHWISE, Spread.CROSSWISE, Spread.TURNED, Spread.DOUBLE)
HALF = shape([(0, 0), (40, 0), (20, 100), (0, 100)], fold_edge_mm=((0.0, 0.0), (0.0, 100.0)))
KITE = shape([(0, 50), (30, 0), (60, 50), (30, 100)])


def garment(spread: Spread, *, nap: bool = False, width_mm: float = 400.0) -> LayRequest:
    """Return pairs, halves, a single piece and three straps to be spread so."""
    return request(
        piece("front", TRIANGLE, count=4, pair=True),
        piece("back", HALF, count=2),
        piece("pocket", TRIANGLE),
        piece("strap", KITE, count=3),
        piece("patch", TRIANGLE, count=2, pair=True, one_way=True),
        width_mm=width_mm,
        nap=nap,
        spread=spread,
    )


@pytest.mark.parametrize(
    ("spread", "nap"),
    [
        *((spread, False) for spread in (Spread.OPEN, *FOLDED)),
        *((spread, True) for spread in (Spread.LENGTHWISE, Spread.TURNED, Spread.DOUBLE)),
    ],
)
def test_the_open_marker_is_lawful_and_as_long(spread: Spread, nap: bool) -> None:
    """Same length, same bolt, same pieces, and nothing for the check to find."""
    folded = lay_pieces(garment(spread, nap=nap))
    assert folded.findings == ()

    opened = unfolded(folded.marker)

    assert check_marker(opened) == ()
    assert opened.length_mm == folded.marker.length_mm
    assert [one.spread for one in opened.stretches] == [Spread.OPEN]
    assert math.isclose(piece_area_mm2(opened), piece_area_mm2(folded.marker), rel_tol=1e-9)


@pytest.mark.parametrize("spread", FOLDED)
def test_the_open_search_can_begin_from_it(spread: Spread) -> None:
    """Every copy of the open plan has its place, in a pose that the open plan allows."""
    folded = lay_pieces(garment(spread)).marker
    opened = unfolded(folded)
    plan = lay_plan(opened.items, opened.bolt, opened.rules)

    start = start_for(plan, 0, opened)

    assert start is not None
    strip = strip_for(plan[0], opened.bolt, opened.rules)
    packing = pack(strip, effort="quick", workers=1, start=start)
    assert packing.length <= opened.length_mm + 0.5
    assert start_for(lay_plan(folded.items, folded.bolt, folded.rules), 0, opened) is None


@pytest.mark.parametrize("spread", [Spread.LENGTHWISE, Spread.DOUBLE])
def test_matches_and_flaws_are_kept(spread: Spread) -> None:
    """Stripes lie where they lay, so pieces that matched match, and what kept off a flaw does."""
    pattern = matched_pattern(
        boxed("front", pair=True, side=(0.0, 30.0)), boxed("back", pair=True, side=(0.0, 50.0))
    )
    flaw = Flaw(at_mm=50.0, across_mm=130.0, long_mm=20.0, wide_mm=30.0)
    asked = replace(
        request(piece("front", TRIANGLE), width_mm=500.0, spread=spread),
        pattern=pattern,
        bolt=Bolt(width_mm=500.0, repeat=Repeat(along_mm=70.0), flaws=(flaw,)),
    )
    folded = lay_pieces(asked)
    assert folded.findings == ()

    assert check_marker(unfolded(folded.marker)) == ()


def test_where_each_layer_comes_to_lie() -> None:
    """A pair 100 mm from the fold of cloth 400 wide lies 300 mm and 100 mm from its lower edge."""
    marker = lay_pieces(
        request(
            piece("front", box(40, 100), count=2, pair=True),
            width_mm=400.0,
            spread=Spread.LENGTHWISE,
        )
    ).marker
    [at] = marker.placements
    moved = replace(marker, placements=(replace(at, y_mm=at.y_mm + 100.0),))

    first, second = unfolded(moved).placements

    # the box is 40 high: one layer from 300 to 340, the other from 100 down to 60
    assert first.y_mm == pytest.approx(at.y_mm + 300.0)
    assert (second.flipped, second.turn_deg) == (not at.flipped, (180.0 - at.turn_deg) % 360.0)
    assert second.y_mm == pytest.approx(200.0 - at.y_mm - 100.0)


@settings(max_examples=15, deadline=None)
@given(
    sizes=st.lists(
        st.tuples(
            st.floats(20.0, 90.0), st.floats(20.0, 90.0), st.sampled_from(["pair", "half", "one"])
        ),
        min_size=1,
        max_size=4,
    ),
    nap=st.booleans(),
    width_mm=st.sampled_from([190.0, 260.0, 400.0]),
)
def test_every_fold_is_at_least_as_long_as_open_cloth(
    sizes: list[tuple[float, float, str]], nap: bool, width_mm: float
) -> None:
    """The open search begins from the folded markers, so it never ends longer."""
    pieces = [
        piece(
            f"p{number}",
            box(wide, high, on_fold=kind == "half"),
            count=1 if kind == "one" else 2,
            pair=kind == "pair",
        )
        for number, (wide, high, kind) in enumerate(sizes)
    ]
    asked = request(*pieces, width_mm=width_mm, nap=nap, spread=Spread.BEST)

    tried = lay_each(asked, cut_list(asked.pattern, asked.selections, asked.cloth))

    lengths = {one.spread: one.result.marker_length_mm for one in tried if one.result is not None}
    assert lengths[Spread.OPEN] == min(lengths.values())
    for one in tried:
        assert one.result is None or one.result.findings == ()
        assert (one.result is None) is bool(one.refusal)


def best_of(asked: LayRequest) -> LayResult:
    """Return the best way to spread what is asked."""
    return lay_best(asked, cut_list(asked.pattern, asked.selections, asked.cloth))


def test_the_open_search_goes_on_from_the_fold_and_may_find_less() -> None:
    """A pair of triangles 60 x 100 on cloth 120 wide.

    On the fold one placement takes 100 mm, and so does any open lay of the two: 120 mm are full.
    With a pocket besides, the fold takes 100 + 100; open, a triangle and a flipped one share a
    box with the pocket beside them, never more.
    """
    pair, pocket = piece("front", TRIANGLE, count=2, pair=True), piece("pocket", TRIANGLE)

    result = best_of(request(pair, pocket, width_mm=120.0, spread=Spread.BEST))

    took = {one.spread: one.marker_length_mm for one in result.tried}
    folded, opened = took[Spread.LENGTHWISE], took[Spread.OPEN]
    assert folded == pytest.approx(200.0, abs=0.01)
    assert opened is not None
    assert opened < 199.0
    assert result.marker.rules.spread is Spread.OPEN


def test_turned_takes_what_crosswise_takes_where_nothing_has_a_direction() -> None:
    """The layers are the same geometry, so the marker of one serves the other."""
    result = best_of(
        request(piece("front", TRIANGLE, count=4, pair=True), width_mm=150.0, spread=Spread.BEST)
    )

    took = {one.spread: one.marker_length_mm for one in result.tried}
    crosswise, turned = took[Spread.CROSSWISE], took[Spread.TURNED]
    assert crosswise is not None
    assert turned is not None
    assert turned <= crosswise


def test_best_says_why_a_way_is_refused() -> None:
    """Napped cloth, and nothing that goes on a double fold: both have their reason."""
    result = best_of(
        request(piece("front", box(60, 100), count=2, pair=True), width_mm=120.0, nap=True,
                spread=Spread.BEST)
    )  # fmt: skip

    refusals = {one.spread: one.refusal for one in result.tried}
    assert list(refusals) == [
        Spread.OPEN, Spread.LENGTHWISE, Spread.CROSSWISE, Spread.TURNED, Spread.DOUBLE
    ]  # fmt: skip
    assert "end for end" in refusals[Spread.CROSSWISE]
    assert "no piece would be cut through both layers" in refusals[Spread.DOUBLE]
    assert refusals[Spread.OPEN] == refusals[Spread.LENGTHWISE] == refusals[Spread.TURNED] == ""


def test_best_of_nothing_that_fits_is_the_refusal_of_open_cloth() -> None:
    """A box 150 wide on cloth 120 wide."""
    with pytest.raises(DoesNotFitError, match=r"needs 5\.91 in across the cloth"):
        best_of(request(piece("front", box(150, 200)), width_mm=120.0, spread=Spread.BEST))
