"""Fits: yes with what is left, or no with what is missing and the ways that were tried."""

from dataclasses import replace

import pytest

from nesting.answers.fits import fits
from nesting.answers.fits.allocation import Sharing
from nesting.answers.fits.fits import FitsAnswer, FitsRequest, Way, WayCode, does_it_fit
from nesting.answers.fits.fits_tables import answer_words, fits_row, pieces_words, way_words
from nesting.answers.fits.sharer import Sharer
from nesting.cloth.bolt import Bolt
from nesting.cloth.spread import Spread
from nesting.lay import LayRequest, lay_pieces
from pieces.measures.units import UnitSystem
from tests.nesting.small_charts import two_by_two
from tests.small_patterns import GARMENT, ONE, QUICK, TRIANGLE, box, piece, request


def asked(lay: LayRequest, *lengths_mm: float) -> FitsAnswer:
    """Return whether a lay fits on lengths of its own cloth."""
    owned = tuple(
        replace(lay.bolt, length_left_mm=length, shop_step_mm=None, units=UnitSystem.METRIC)
        for length in lengths_mm
    )
    return does_it_fit(FitsRequest(lay=lay, owned=owned))


def ways(answer: FitsAnswer, code: WayCode) -> list[Way]:
    """Return the ways of one kind."""
    return [way for way in answer.ways if way.code is code]


def test_a_little_more_than_the_lay_takes_is_enough_and_a_little_less_is_not() -> None:
    """5 % above and 5 % below the laid length."""
    lay = request(*GARMENT, width_mm=130.0)
    taken_mm = lay_pieces(lay).cut_length_mm

    more, less = asked(lay, 1.05 * taken_mm), asked(lay, 0.95 * taken_mm)

    assert more.fits
    assert more.sharing.shares[0].spare_mm == pytest.approx(0.05 * taken_mm)
    assert more.ways == ()
    assert not less.fits
    assert less.sharing.lacking_mm == pytest.approx(0.05 * taken_mm)


def test_other_ways_of_spreading_are_tried_before_it_says_no() -> None:
    """A panel 60 wide and 100 long wanted once, and a pair of strips 20 x 100, on 100 mm.

    Folded, the strips take 100 mm of the fold, then the panel 100 mm opened out: 200. Open, all
    three lie side by side: 60 + 20 + 20 = 100 wide and 100 long.
    """
    pieces = (piece("panel", box(60, 100)), piece("strip", box(20, 100), count=2, pair=True))

    answer = asked(request(*pieces, width_mm=100.0, spread=Spread.LENGTHWISE), 150.0)

    assert answer.fits
    assert answer.sharing.shares[0].spare_mm == pytest.approx(50.0)
    assert answer_words(answer).endswith("is left. Not as you asked, but laid open.")
    assert fits_row(answer)["spread_that_fits"] == "open"


def test_opening_the_cloth_is_a_way_where_that_is_not_enough_either() -> None:
    """The same on 90 mm of length: open, 100 are needed, folded 200."""
    pieces = (piece("panel", box(60, 100)), piece("strip", box(20, 100), count=2, pair=True))

    answer = asked(request(*pieces, width_mm=100.0, spread=Spread.LENGTHWISE), 90.0)

    (way,) = ways(answer, WayCode.OPEN)
    assert answer.sharing.lacking_mm == pytest.approx(110.0)
    assert not way.helps
    assert way.sharing.lacking_mm == pytest.approx(10.0)
    assert ways(asked(request(*pieces, width_mm=100.0), 90.0), WayCode.OPEN) == []


def test_what_is_missing_is_told_for_each_width_on_which_it_goes() -> None:
    """Three panels of 60 x 100: one lies on 100 x 100; two more take 200 of 100 mm, or 100 of 130.

    On the third cloth, 50 mm wide, no panel goes, so nobody is sent to buy that.
    """
    lay = request(piece("panel", box(100, 60), count=3), width_mm=100.0)
    owned = tuple(
        replace(lay.bolt, width_mm=width, length_left_mm=100.0, shop_step_mm=None)
        for width in (100.0, 50.0, 130.0)
    )

    answer = does_it_fit(FitsRequest(lay=replace(lay, search=QUICK), owned=owned))

    assert {one.width_mm for one in answer.sharing.lacking} == {100.0, 130.0}


def test_a_no_is_kept_when_time_is_up_before_the_ways_are_tried() -> None:
    """With hardly any time the answer is still no, what is missing, and how much was left out."""
    lay = request(*GARMENT, width_mm=130.0)
    owned = (replace(lay.bolt, length_left_mm=10.0, shop_step_mm=None),)

    answer = does_it_fit(FitsRequest(lay=lay, owned=owned, seconds=1e-6))

    assert not answer.fits
    assert answer.sharing.lacking_mm is not None
    assert answer.ways == ()
    assert answer.ways_left > 0


def test_the_half_turn_is_tried_on_nap_alone_and_only_if_the_cloth_has_none() -> None:
    """Two triangles 60 x 100 make a rectangle if one is turned: 100 long; else they take more."""
    pieces = (piece("front", TRIANGLE, count=2),)
    answer = asked(request(*pieces, width_mm=60.0, nap=True), 110.0)

    (way,) = ways(answer, WayCode.TURN)
    assert way.helps
    assert "only if the cloth has no nap" in way.condition
    assert "only if the cloth has no nap" in way_words(way, UnitSystem.METRIC)
    assert ways(asked(request(*pieces, width_mm=60.0), 90.0), WayCode.TURN) == []


def test_one_piece_from_another_cloth() -> None:
    """Three panels of 100 mm and a strip beside nothing: without the panels 50 mm are enough.

    On 100 mm: panels 100 wide take 300, the belt of 100 x 50 another 50. Of 310 mm the belt is
    too much and without it all fits; without the panels it fits as well, and is the dearer way.
    """
    pieces = (piece("panel", box(100, 100), count=3), piece("belt", box(100, 50)))

    answer = asked(request(*pieces, width_mm=100.0), 310.0)

    helping = [way.sentence for way in ways(answer, WayCode.OTHER_CLOTH) if way.helps]
    assert helping == [
        'cut "Belt" M (1 piece) from another cloth',
        'cut "Panel" M (3 pieces) from another cloth',
    ]


def test_the_next_smaller_size() -> None:
    """View B in L is a panel of 200 mm, in M of 100; there is nothing smaller than M."""
    lay = replace(
        request(piece("panel", box(40, 100)), width_mm=100.0),
        pattern=two_by_two(),
        selections=(replace(ONE[0], view="B", size="L"),),
    )

    answer = asked(lay, 150.0)

    (way,) = ways(answer, WayCode.SMALLER)
    assert way.helps
    assert way.sentence == "cut size M"
    smallest = replace(lay, selections=(replace(lay.selections[0], size="M"),))
    assert ways(asked(smallest, 90.0), WayCode.SMALLER) == []


def test_ways_that_help_stand_first() -> None:
    """And among them the cheapest, in the order of the codes."""
    answer = asked(request(*GARMENT, width_mm=130.0, nap=True), 150.0)

    helps = [way.helps for way in answer.ways]
    assert helps == sorted(helps, reverse=True)
    codes = [list(WayCode).index(way.code) for way in answer.ways if way.helps]
    assert codes == sorted(codes)
    assert {way.code for way in answer.ways} == {WayCode.TURN, WayCode.OTHER_CLOTH}


def test_no_way_lacks_more_than_the_whole(monkeypatch: pytest.MonkeyPatch) -> None:
    """Leaving a piece out or turning one cannot take more, however briefly that was searched."""
    searched_long = fits.share_out

    def searched_briefly(sharer: Sharer, **how: bool) -> Sharing:
        found = searched_long(sharer, **how)
        longer_mm = 500.0 if how.get("only_whole") else 0.0
        more = (replace(one, length_mm=one.length_mm + longer_mm) for one in found.lacking)
        return replace(found, lacking=tuple(more))

    monkeypatch.setattr(fits, "share_out", searched_briefly)
    lay = request(*GARMENT, width_mm=130.0, nap=True)

    answer = asked(lay, 0.5 * lay_pieces(lay).cut_length_mm)

    lacked = [way.sharing.lacking_mm for way in answer.ways if not way.helps]
    assert lacked
    assert set(lacked) == {answer.sharing.lacking_mm}


def test_every_way_that_helps_is_a_checked_lay() -> None:
    """No way is guessed: each has its marker, clean and within the length."""
    answer = asked(request(*GARMENT, width_mm=130.0, nap=True), 170.0)

    assert any(way.helps for way in answer.ways)
    for way in answer.ways:
        for share in way.sharing.shares if way.helps else ():
            assert share.result is not None
            assert share.result.findings == ()
            assert share.spare_mm >= 0.0


def test_the_answer_in_words() -> None:
    """On one cloth, shared out over two, not enough of one, and of two.

    Three panels 100 wide and 100 long on cloth 100 wide.
    """
    lay = request(piece("panel", box(100, 100), count=3), width_mm=100.0)

    told = [
        answer_words(asked(lay, *lengths))
        for lengths in ((350.0,), (100.0, 350.0), (100.0, 200.0), (250.0,), (100.0, 120.0))
    ]

    assert told[0] == "Yes, it fits. 5 cm (1.97 in) is left."
    assert told[1].startswith("Yes, it fits, all of it on 35 cm (13.78 in) of 10 cm (3.94 in). ")
    assert told[2] == "Yes, it fits, shared out over 2 lengths of cloth."
    assert told[3] == "No, it does not fit: 5 cm (1.97 in) is missing."
    assert told[4] == (
        "No, it does not fit: what is left over would take another 10 cm (3.94 in) of 10 cm."
    )


def test_a_piece_too_wide_is_told_as_such() -> None:
    """The panel is 35 wide, the cloth 30."""
    answer = asked(request(*GARMENT, width_mm=30.0), 900.0)

    assert answer_words(answer) == "No, it does not fit: a piece is wider than the cloth."
    assert fits_row(answer)["lacking_mm"] is None
    assert "Front" in pieces_words(answer.sharing.left_over)


def test_plain_values() -> None:
    """Pieces by cloth, what is left over, and each way."""
    lay = replace(request(piece("panel", box(100, 100), count=3), width_mm=100.0), search=QUICK)

    row = fits_row(asked(lay, 250.0))

    assert (row["fits"], row["lacking_mm"]) == (False, pytest.approx(50.0))
    assert row["remnants"][0]["pieces"] == [{"piece": "Panel", "size": "M", "count": 2}]
    assert row["left_over"] == [{"piece": "Panel", "size": "M", "count": 1}]
    assert isinstance(lay.bolt, Bolt)
