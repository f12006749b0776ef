"""Worked examples of curtain makers and plaid cutters, each with its source."""

import pytest

from nesting.reckoning import panels
from pieces.measures.parse import parse_length_mm
from pieces.measures.shop_step import round_up_to_step_mm
from pieces.measures.units import MM_PER_INCH, MM_PER_YARD


def inches(number: float) -> float:
    """Return inches as mm."""
    return number * MM_PER_INCH


@pytest.mark.parametrize(
    ("repeat_in", "stacked", "extra_in"),
    [
        (1.25, 2, 2.5),  # "Allow extra to match even stripes or plaids", galafabrics.blogspot.com
        (4.25, 2, 8.5),  # the same
        (6.0, 3, 18.0),  # "Talk Back Thursday", afterthedress.blogspot.com: front, back, sleeves
    ],
)
def test_one_repeat_for_each_stacked_piece(repeat_in: float, stacked: int, extra_in: float) -> None:
    """Examples P1 to P3: the repeat times the pieces that lie one after another."""
    extra_mm = panels.stacked_extra_mm(inches(repeat_in), stacked)

    assert extra_mm == pytest.approx(inches(extra_in))


@pytest.mark.parametrize(
    ("cut_in", "repeat_in", "matched_in", "waste_in"),
    [
        (96, 27, 108, 12),  # P4: "Figuring Pattern Repeats", diyideas.com
        (90, 27, 108, 18),  # P5: "Matching Repeats", patemeadows.com
        (114, 4.5, 117, 3),  # P6: "How to Figure Fabric Repeat", fayefortune.blogspot.com
        (116, 25, 125, 9),  # P7: "Workroom Threads", August 2011, spotidoc.com
        (100, 26, 104, 4),  # P8, rounded up: mgrsewing.com
    ],
)
def test_a_panel_is_cut_to_whole_repeats(
    cut_in: float, repeat_in: float, matched_in: float, waste_in: float
) -> None:
    """Examples P4 to P8: rounded up to repeats, and the waste as published."""
    matched_mm = panels.matched_cut_mm(inches(cut_in), inches(repeat_in))

    assert matched_mm == pytest.approx(inches(matched_in))
    assert matched_mm - inches(cut_in) == pytest.approx(inches(waste_in))


def test_one_repeat_on_the_order() -> None:
    """Two panels of 114 in on a repeat of 4.5 in: 2 x 117 + 4.5 = 238.5 in, which is 6.625 yd.

    Source: "How to Figure Fabric Repeat", fayefortune.blogspot.com; its total finished from its
    own steps.
    """
    total_mm = panels.panels_length_mm(inches(114), inches(4.5), 2)

    assert total_mm == pytest.approx(inches(238.5))
    assert total_mm / MM_PER_YARD == pytest.approx(6.625)


def test_the_lazy_method_of_a_curtain_page() -> None:
    """100 in on a repeat of 26 in, two widths: 126 x 2 / 36 = 7 yd, against 5.78 yd when matched.

    Source: "Curtain Sewing Instructions: Pattern Repeat Calculation", mgrsewing.com.
    """
    lazy_mm = panels.lazy_panels_length_mm(inches(100), inches(26), 2)
    matched_mm = panels.panels_length_mm(inches(100), inches(26), 2, extra_repeats=0)

    assert lazy_mm / MM_PER_YARD == pytest.approx(7.0)
    assert matched_mm / MM_PER_YARD == pytest.approx(5.78, abs=0.005)


def test_half_drop_held_by_the_waste() -> None:
    """2.5 m on 27 cm: ten repeats, 2.70 m; the spare 20 cm exceeds 13.5 cm, so nothing more.

    Source: "Half Drop Pattern Repeats", mydecozo.co.uk.
    """
    assert panels.matched_cut_mm(2500, 270) == pytest.approx(2700)
    assert panels.half_drop_extra_mm(2500, 270) == 0


def test_half_drop_sold_with_a_whole_repeat() -> None:
    """5.85 m in all on 65 cm, half drop: one repeat once makes 6.5 m.

    Source: "Half Drop Repeat for Curtain Fabric", livingstonetextiles.com. Three panels of 1.95 m
    are one way to come to 5.85 m, each exactly three repeats without spare.
    """
    plain_mm = panels.panels_length_mm(1950, 650, 3, extra_repeats=0)
    extra_mm = panels.half_drop_extra_mm(1950, 650, extra_repeats=1.0)

    assert plain_mm == pytest.approx(5850)
    assert plain_mm + extra_mm == pytest.approx(6500)


@pytest.mark.parametrize(
    ("rule_mm", "inches_more"),
    [
        # "Success With Plaids and Stripes", S. J. Doyle, thriftyfun.com: always half a yard
        (panels.half_yard_extra_mm(), 18.0),
        # R. K. Brent, Stitch, autumn 2010, sewdaily.com: a small plaid at least a quarter of a yard
        (panels.half_yard_extra_mm(panels.Plaid.SMALL_EVEN), 9.0),
        # the same: a large or an uneven one at least half a yard
        (panels.half_yard_extra_mm(panels.Plaid.LARGE), 18.0),
        # sew4home.com: one full repeat on top of the stated amount
        (panels.one_repeat_extra_mm(inches(6)), 6.0),
    ],
)
def test_the_rules_of_thumb_that_are_printed(rule_mm: float, inches_more: float) -> None:
    """The answers print what they would have said, beside what matching really takes."""
    assert rule_mm == pytest.approx(inches(inches_more))


@pytest.mark.parametrize(
    ("plain_yd", "along_in", "across_in", "share", "total_yd"),
    [(8.0, 17.0, 10.0, 0.20, 9.6), (7.0, 18.0, 13.5, 0.25, 8.75)],
)
def test_the_upholsterer_s_table(
    plain_yd: float, along_in: float, across_in: float, share: float, total_yd: float
) -> None:
    """27 in of repeats ask for 20 %, 31.5 in for 25 %.

    Source: "Patterned fabric additional yardage estimate chart", The Great Cover Up,
    carrscorner.com.
    """
    extra = panels.upholstery_extra_share(inches(along_in), inches(across_in))

    assert extra == share
    assert panels.with_extra_mm(plain_yd * MM_PER_YARD, extra) == pytest.approx(
        total_yd * MM_PER_YARD
    )


def test_three_widths_cover_what_two_do_not() -> None:
    """120 in from cloth of 54 in: 2 x 54 = 108 is short, 3 x 120 = 360 in = 10 yd.

    Source: glossary, "Width", designandmake.net.
    """
    widths = panels.widths_needed(inches(120), inches(54))

    assert widths == 3
    assert widths * inches(120) == pytest.approx(10 * MM_PER_YARD)


def test_half_metre_steps() -> None:
    """Needing 3.2 m you buy 3.5 m where the shop cuts in half metres.

    Source: "Why fabric shops sell in half metres", akindcloth.co.uk.
    """
    assert round_up_to_step_mm(parse_length_mm("3.2 m"), parse_length_mm("0.5 m")) == 3500
