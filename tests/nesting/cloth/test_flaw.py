"""Flaws: how they are written, and where they come to lie on the table."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.cloth.bolt import Bolt
from nesting.cloth.flaw import Flaw, parse_flaw
from nesting.cloth.spread import Spread
from nesting.errors import BoltError
from nesting.plan.flaw_places import flaw_places
from pieces.errors import LengthError


@pytest.mark.parametrize(
    "text",
    [
        "20in,12in,1in,2in",
        '20", 12", 1", 2"',
        "50,8 cm, 30,48cm; 25.4mm, 5,08 cm",
        "20 in , 12 in , 1 in , 2 in",
    ],
)
def test_a_flaw_is_four_lengths(text: str) -> None:
    """In any unit, with decimal commas, from the cut end and the lower edge."""
    flaw = parse_flaw(text)

    lengths = (flaw.at_mm, flaw.across_mm, flaw.long_mm, flaw.wide_mm)
    assert lengths == pytest.approx((508.0, 304.8, 25.4, 50.8))


def test_a_flaw_may_begin_at_the_very_edge() -> None:
    """Zero along and across."""
    assert parse_flaw("0in,0in,1in,1in").at_mm == 0.0


@pytest.mark.parametrize(
    "text", ["", "20in", "20in,12in,1in", "20,12,1,2", "1in,1in,0in,1in", "1in,1in,1in,1in,1in"]
)
def test_what_is_no_flaw_is_refused(text: str) -> None:
    """Fewer or more than four, without units, or without a size."""
    with pytest.raises(LengthError):
        parse_flaw(text)


@pytest.mark.parametrize("name", ["at_mm", "across_mm", "long_mm", "wide_mm"])
def test_a_flaw_lies_on_the_cloth_and_has_a_size(name: str) -> None:
    """Nothing negative."""
    numbers = dict.fromkeys(("at_mm", "across_mm", "long_mm", "wide_mm"), 10.0)

    with pytest.raises(BoltError, match="flaw"):
        Flaw(**{**numbers, name: -1.0})


def bolt(*flaws: tuple[float, float, float, float]) -> Bolt:
    """Return 1040 mm of cloth with selvages of 20 mm that loses a tenth each way."""
    return Bolt(
        width_mm=1040.0,
        selvage_mm=20.0,
        shrink_along=0.1,
        shrink_across=0.1,
        flaws=tuple(
            Flaw(at_mm=at, across_mm=across, long_mm=long, wide_mm=wide)
            for at, across, long, wide in flaws
        ),
    )


def test_open_cloth_shows_a_flaw_washed_and_from_the_selvage() -> None:
    """From 200 to 300 mm along is 180 to 270 washed; 120 to 220 across is 90 to 180."""
    [place] = flaw_places(bolt((200.0, 120.0, 100.0, 100.0)), Spread.OPEN)

    assert place.number == 1
    assert (place.x0_mm, place.x1_mm) == pytest.approx((180.0, 270.0))
    assert (place.y0_mm, place.y1_mm) == pytest.approx((90.0, 180.0))


@pytest.mark.parametrize(
    ("across_mm", "low_mm", "high_mm"),
    [
        (120.0, 270.0, 360.0),  # 90 to 180 of 900: 450 - 180 to 450 - 90 from the fold
        (820.0, 270.0, 360.0),  # 720 to 810: the mirror image, in the upper layer
        (490.0, 0.0, 63.0),  # 423 to 513 reaches over the fold at 450: 27 below, 63 above
    ],
)
def test_folded_cloth_shows_the_flaws_of_both_layers(
    across_mm: float, low_mm: float, high_mm: float
) -> None:
    """The fold is at 450 mm of 900; what lies on either side of it is cut together."""
    [place] = flaw_places(bolt((200.0, across_mm, 100.0, 100.0)), Spread.LENGTHWISE)

    assert (place.y0_mm, place.y1_mm) == pytest.approx((low_mm, high_mm))


def test_a_flaw_in_the_selvage_harms_no_piece() -> None:
    """Only the part on usable cloth counts, and the number stays that of the bolt."""
    [place] = flaw_places(bolt((0.0, 5.0, 10.0, 10.0), (0.0, 10.0, 10.0, 30.0)), Spread.OPEN)

    assert place.number == 2
    assert (place.y0_mm, place.y1_mm) == pytest.approx((0.0, 18.0))


@given(st.floats(0.0, 900.0), st.floats(1.0, 140.0))
def test_folding_loses_no_flaw(across_mm: float, wide_mm: float) -> None:
    """A flaw is at most as wide folded as open, and at least half as wide."""
    cloth = Bolt(
        width_mm=1040.0,
        flaws=(Flaw(at_mm=0.0, across_mm=across_mm, long_mm=1.0, wide_mm=wide_mm),),
    )
    [opened], [folded] = (flaw_places(cloth, spread) for spread in (Spread.OPEN, Spread.LENGTHWISE))

    open_mm, folded_mm = opened.y1_mm - opened.y0_mm, folded.y1_mm - folded.y0_mm
    assert open_mm / 2.0 - 1e-9 <= folded_mm <= open_mm + 1e-9
