"""The independent check on cloth with a design, flaws and an end, by markers laid by hand."""

from collections.abc import Mapping
from dataclasses import replace

import pytest

from nesting.checks import check_marker
from nesting.cloth.bolt import Bolt
from nesting.cloth.flaw import Flaw
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.repeat import Axis, GivenUp, Repeat
from nesting.cloth.spread import Spread, Stretch
from nesting.marker.cut_list import Selection, cut_list
from nesting.marker.marker import Marker
from nesting.marker.placement import Placement
from pieces.finding import Severity
from pieces.marks import MatchWay
from pieces.piece import Piece
from tests.matched_patterns import boxed, matched_pattern

STRIPES = Repeat(along_mm=100.0)
LENGTHWISE_STRIPES = Repeat(across_mm=100.0)


def front_and_back() -> tuple[Piece, ...]:
    """Return a front with its side 30 mm from the foot, and a back with its at 50 mm."""
    return boxed("front", side=(0.0, 30.0)), boxed("back", side=(0.0, 50.0))


def pair_with_centre() -> tuple[Piece, ...]:
    """Return a pair of fronts whose centre is 10 mm from the left edge as drawn."""
    return (boxed("front", pair=True, centre=(10.0, 100.0)),)


def laid(
    pieces: tuple[Piece, ...],
    bolt: Bolt,
    *placements: Placement,
    spread: Spread = Spread.OPEN,
    matching: Mapping[str, MatchWay] | None = None,
    garments: int = 1,
) -> Marker:
    """Return a marker of boxes 200 long and 60 wide, as long as its last piece reaches.

    The arrow of a box runs along x in the cut list, so a point that is drawn at (x, y) lies y
    along and 60 - x across, from the corner where the placement puts it.
    """
    pattern = matched_pattern(*pieces, matching=matching)
    selections = (Selection("A", "M", garments),)
    reached = max(
        at.x_mm + (200.0 if (at.turn_deg == 180.0) is at.flipped else 0.0) for at in placements
    )
    return Marker(
        pattern=pattern.name,
        cloth="shell",
        selections=selections,
        bolt=bolt,
        rules=LayRules(spread),
        items=cut_list(pattern, selections, "shell"),
        stretches=(Stretch(spread, 0.0, reached),),
        placements=placements,
        length_mm=reached,
        matching=pattern.matching,
    )


def codes(marker: Marker) -> list[str]:
    """Return the codes of all findings."""
    return [one.code for one in check_marker(marker)]


def plain(item: str, x: float, y: float, *, garment: int = 0, number: int = 1) -> Placement:
    """Return a piece as drawn, its lower left corner at (x, y)."""
    return Placement(f"{item} M", number, 0, 0.0, False, x, y, garment)


def turned(item: str, x: float, y: float) -> Placement:
    """Return a piece turned top to bottom, its lower left corner at (x, y)."""
    return Placement(f"{item} M", 1, 0, 180.0, False, x + 200.0, y + 60.0)


def mirrored(item: str, x: float, y: float) -> Placement:
    """Return a mirrored copy with its top up the cloth, its lower left corner at (x, y)."""
    return Placement(f"{item} M", 2, 0, 180.0, True, x, y + 60.0)


def test_sides_at_one_phase_pass() -> None:
    """The front's side at 0 + 30, the back's at 80 + 50 = 130: one repeat of 100 mm apart."""
    bolt = Bolt(width_mm=200.0, repeat=STRIPES)

    assert codes(laid(front_and_back(), bolt, plain("front", 0, 0), plain("back", 80, 100))) == []


def test_sides_at_two_phases_are_told_with_how_far_and_which_pieces() -> None:
    """The back 12 mm too far up: its side at 142, 12 mm off."""
    bolt = Bolt(width_mm=200.0, repeat=STRIPES)

    [found] = check_marker(
        laid(front_and_back(), bolt, plain("front", 0, 0), plain("back", 92, 90))
    )

    assert (found.code, found.severity) == ("repeat-not-matched", Severity.ERROR)
    assert found.pieces == ("Front M no. 1", "Back M no. 1")
    assert "is 12.0 mm off the match along the cloth, on a repeat of 3.94 in" in found.sentence


@pytest.mark.parametrize(("off_mm", "expected"), [(0.45, []), (0.55, ["repeat-not-matched"])])
def test_half_a_millimetre_is_let_pass(off_mm: float, expected: list[str]) -> None:
    """And no more."""
    bolt = Bolt(width_mm=200.0, repeat=STRIPES)
    marker = laid(front_and_back(), bolt, plain("front", 0, 0), plain("back", 80 + off_mm, 100))

    assert codes(marker) == expected


def test_the_repeat_shrinks_with_the_cloth() -> None:
    """Stripes 100 mm apart in the shop are 90 mm apart after a loss of a tenth: 30 and 120."""
    bolt = Bolt(width_mm=200.0, repeat=STRIPES, shrink_along=0.1)

    assert codes(laid(front_and_back(), bolt, plain("front", 0, 0), plain("back", 70, 100))) == []
    unshrunk = laid(front_and_back(), bolt, plain("front", 0, 0), plain("back", 80, 100))
    assert codes(unshrunk) == ["repeat-not-matched"]


def test_points_matched_in_no_way_or_across_need_not_meet_along() -> None:
    """What the pattern sheet says decides."""
    bolt = Bolt(width_mm=200.0, repeat=STRIPES)
    for way in (MatchWay.NONE, MatchWay.ACROSS):
        marker = laid(front_and_back(), bolt, plain("front", 0, 0), plain("back", 92, 100),
                      matching={"side": way})  # fmt: skip
        assert codes(marker) == []


def test_a_match_given_up_is_a_warning_and_no_error() -> None:
    """The file says which, and why; the person hears of it."""
    bolt = Bolt(width_mm=200.0, repeat=STRIPES)
    spoilt = laid(front_and_back(), bolt, plain("front", 0, 0), plain("back", 92, 100))

    given_up = replace(spoilt, given_up=(GivenUp("back M", "side", Axis.ALONG, "it cannot be"),))

    [found] = check_marker(given_up)
    assert (found.code, found.severity) == ("match-given-up", Severity.WARNING)
    assert found.sentence == '"side" of Back M is not matched along the cloth: it cannot be'


def test_a_turned_piece_shows_an_even_design_mirrored() -> None:
    """The only mirrored pair settles where the axis lies; a second one must fit it.

    Front upright with side at 30 and hem at 100; back turned with side at 150 and hem at 100 of
    its own 200. At x = 200 the back has its side at 250 and its hem at 300. The sides add up to
    280 and the hems to 400: 20 mm off each other on a repeat of 100.
    """
    bolt = Bolt(width_mm=200.0, repeat=STRIPES)
    one = (boxed("front", side=(0.0, 30.0)), boxed("back", side=(0.0, 150.0)))
    two = (
        boxed("front", side=(0.0, 30.0), hem=(0.0, 100.0)),
        boxed("back", side=(0.0, 150.0), hem=(0.0, 100.0)),
    )
    fitting = (
        boxed("front", side=(0.0, 30.0), hem=(0.0, 100.0)),
        boxed("back", side=(0.0, 50.0), hem=(0.0, 120.0)),
    )
    at = (plain("front", 0, 0), turned("back", 200, 100))

    assert codes(laid(one, bolt, *at)) == []
    [found] = check_marker(laid(two, bolt, *at))
    assert "20.0 mm off" in found.sentence
    # Sides at 30 and 400 - 50 = 350, sum 380; hems at 100 and 400 - 120 = 280, sum 380.
    assert codes(laid(fitting, bolt, *at)) == []


def test_an_uneven_repeat_lets_no_piece_be_turned() -> None:
    """The direction is wrong, and the sentence says why."""
    bolt = Bolt(width_mm=200.0, repeat=replace(STRIPES, even=False))
    marker = laid((boxed("front"),), bolt, turned("front", 0, 0))

    [found] = check_marker(marker)

    assert found.code == "wrong-direction"
    assert "uneven" in found.sentence


def test_left_and_right_centre_meet_across() -> None:
    """The left centre lies 50 mm up its box, the right one 10 mm: boxes 40 mm apart, or 140."""
    bolt = Bolt(width_mm=300.0, repeat=LENGTHWISE_STRIPES)
    both = {"centre": MatchWay.BOTH}

    meets = laid(pair_with_centre(), bolt, plain("front", 0, 0), mirrored("front", 0, 140),
                 matching=both)  # fmt: skip
    misses = laid(pair_with_centre(), bolt, plain("front", 0, 0), mirrored("front", 0, 100),
                  matching=both)  # fmt: skip

    assert codes(meets) == []
    [found] = check_marker(misses)
    assert "40.0 mm off the match across" in found.sentence


def test_pockets_match_side_by_side() -> None:
    """The left welt meets the left front and the right one the right: 30 mm apart is no matter.

    Fronts at 0 and 100 mm, their pocket 40 mm up the left box and 20 mm up the right: 40 and 120.
    Welts, their pocket likewise, at 200 and 300: 240 and 320. Both sides agree on 100 mm.
    """
    pieces = (
        boxed("front", pair=True, pocket=(20.0, 100.0)),
        boxed("welt", pair=True, pocket=(20.0, 100.0)),
    )
    bolt = Bolt(width_mm=500.0, repeat=LENGTHWISE_STRIPES)
    at = (plain("front", 0, 0), mirrored("front", 0, 100))

    def marker(right_welt_y: float) -> Marker:
        welts = (plain("welt", 0, 200), mirrored("welt", 0, right_welt_y))
        return laid(pieces, bolt, *at, *welts, matching={"pocket": MatchWay.BOTH})

    assert codes(marker(300.0)) == []
    [found] = check_marker(marker(330.0))
    assert found.pieces == ("Front M no. 2", "Welt M no. 2")


@pytest.mark.parametrize(("y", "expected"), [(0.0, []), (50.0, []), (30.0, ["repeat-not-matched"])])
def test_on_a_fold_both_layers_meet_at_half_repeats(y: float, expected: list[str]) -> None:
    """The centre 50 mm up the box: 50 and 100 mm from the fold meet, 80 misses by 40."""
    bolt = Bolt(width_mm=400.0, repeat=LENGTHWISE_STRIPES)

    marker = laid(pair_with_centre(), bolt, plain("front", 0, y), spread=Spread.LENGTHWISE,
                  matching={"centre": MatchWay.BOTH})  # fmt: skip

    assert codes(marker) == expected


def test_garments_match_each_by_itself() -> None:
    """Two garments at phases of their own pass; with the garments mixed up they do not."""
    bolt = Bolt(width_mm=400.0, repeat=STRIPES)
    fronts = (plain("front", 0, 0, garment=1), plain("front", 37, 100, garment=2, number=2))

    def marker(first: int, second: int) -> Marker:
        backs = (
            plain("back", 80, 200, garment=first),
            plain("back", 117, 300, garment=second, number=2),
        )
        return laid(front_and_back(), bolt, *fronts, *backs, garments=2)

    assert codes(marker(1, 2)) == []
    assert codes(marker(2, 1)) == ["repeat-not-matched", "repeat-not-matched"]
    # Both backs for one garment: too many for it, none for the other, and one of them misses.
    assert codes(marker(1, 1)) == ["wrong-garment", "wrong-garment", "repeat-not-matched"]


def test_garments_that_are_not_told_apart_have_to_agree_all() -> None:
    """Nobody can match them by themselves who does not know which is which."""
    bolt = Bolt(width_mm=400.0, repeat=STRIPES)
    at = (
        plain("front", 0, 0),
        plain("front", 37, 100, number=2),
        plain("back", 80, 200),
        plain("back", 117, 300, number=2),
    )

    assert codes(laid(front_and_back(), bolt, *at, garments=2)) == ["repeat-not-matched"]


def test_pieces_on_the_bias_are_not_matched() -> None:
    """Their stripes run another way."""
    pieces = (boxed("front", side=(0.0, 30.0)), boxed("back", grain="bias", side=(0.0, 50.0)))
    bolt = Bolt(width_mm=600.0, repeat=STRIPES)
    marker = laid(pieces, bolt, plain("front", 0, 0),
                  Placement("back M", 1, 0, 45.0, False, 100.0, 100.0))  # fmt: skip

    assert "repeat-not-matched" not in codes(marker)


def with_flaw(across_mm: float, *, at_mm: float = 220.0) -> Bolt:
    """Return 440 mm of cloth with selvages of 20 mm and a flaw of 20 by 20 mm."""
    flaw = Flaw(at_mm=at_mm, across_mm=across_mm, long_mm=20.0, wide_mm=20.0)
    return Bolt(width_mm=440.0, selvage_mm=20.0, flaws=(flaw,))


@pytest.mark.parametrize(
    ("across_mm", "spread", "depth_mm"),
    [
        (60.0, Spread.OPEN, 20.0),  # 40 to 60 of usable cloth: within the box at 0 to 60
        (75.0, Spread.OPEN, 5.0),  # 55 to 75: five of it
        (80.0, Spread.OPEN, None),  # 60 to 80: it only touches
        (0.0, Spread.OPEN, None),  # in the selvage
        (60.0, Spread.LENGTHWISE, None),  # 140 to 160 from the fold
        (200.0, Spread.LENGTHWISE, 20.0),  # 0 to 20 below the fold: the other layer
        (220.0, Spread.LENGTHWISE, 20.0),  # 0 to 20 above the fold
    ],
)
def test_a_piece_on_a_flaw_is_told(
    across_mm: float, spread: Spread, depth_mm: float | None
) -> None:
    """A box from 200 to 400 along; the flaw from 220 to 240 lies under it, or not."""
    marker = laid((boxed("front", pair=True),), with_flaw(across_mm), plain("front", 200, 0),
                  spread=spread)  # fmt: skip

    found = [one.sentence for one in check_marker(marker) if one.code == "on-flaw"]

    expected = [] if depth_mm is None else [f"lies on flaw 1 of the cloth, {depth_mm:.1f} mm deep"]
    assert [sentence.partition("no. 1 ")[2] for sentence in found] == expected


@pytest.mark.parametrize(("at_mm", "expected"), [(220.0, []), (225.0, ["on-flaw"])])
def test_a_flaw_is_measured_before_washing(at_mm: float, expected: list[str]) -> None:
    """A box from 216 mm washed is from 240 mm in the shop, after a loss of a tenth.

    The flaw ends at 240 mm and touches, or at 245 and is cut into.
    """
    bolt = replace(with_flaw(60.0, at_mm=at_mm), shrink_along=0.1)

    assert codes(laid((boxed("front"),), bolt, plain("front", 216, 0))) == expected


@pytest.mark.parametrize(
    ("length_left_mm", "expected"), [(500.0, []), (499.0, ["beyond-length-left"])]
)
def test_a_lay_longer_than_what_is_left_is_told(length_left_mm: float, expected: list[str]) -> None:
    """440 mm of marker and 10 mm at the end are 450 washed: 500 mm at a loss of a tenth."""
    bolt = Bolt(
        width_mm=200.0, shrink_along=0.1, end_allowance_mm=10.0, length_left_mm=length_left_mm
    )

    found = check_marker(laid((boxed("front"),), bolt, plain("front", 240, 0)))

    assert [one.code for one in found] == expected
    assert all("0.04 in (1 mm) too little" in one.sentence for one in found)
