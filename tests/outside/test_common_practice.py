"""Sayings of the trade against real lays of the invented demo patterns.

They are held here as sanity bands, each with its source, or marked as common practice.
"""

from functools import cache

import pytest

from nesting.cloth.bolt import Bolt
from nesting.cloth.repeat import Repeat
from nesting.lay import LayRequest, LayResult, SearchOptions, lay_pieces
from nesting.marker.cut_list import Selection
from pieces.measures.units import MM_PER_INCH, MM_PER_YARD
from pieces.sheet.pattern_file import read_pattern
from tests.places import DEMO


@cache
def laid(name: str, cloth: str, size: str, width_in: float, repeat_in: float = 0.0) -> LayResult:
    """Return a view A of a demo pattern laid open on plain cloth, or on an even plaid."""
    repeat = None
    if repeat_in:
        side_mm = repeat_in * MM_PER_INCH
        repeat = Repeat(along_mm=side_mm, across_mm=side_mm)
    request = LayRequest(
        pattern=read_pattern(DEMO / f"{name}.toml"),
        selections=(Selection("A", size),),
        cloth=cloth,
        bolt=Bolt(width_mm=width_in * MM_PER_INCH, repeat=repeat),
        search=SearchOptions("standard", workers=1),
    )
    return lay_pieces(request)


@pytest.mark.slow
def test_a_plaid_takes_no_more_than_half_a_yard_beyond_plain_cloth() -> None:
    """A plaid is said to need half a yard more.

    Source: *Success With Plaids and Stripes*, S. J. Doyle, thriftyfun.com.
    """
    plain, plaid = laid("waistcoat", "shell", "M", 45.0), laid("waistcoat", "shell", "M", 45.0, 4.0)

    extra_mm = plaid.marker_length_mm - plain.marker_length_mm
    assert 0.0 <= extra_mm <= MM_PER_YARD / 2.0
    assert plaid.findings == ()


@pytest.mark.parametrize("name", ["waistcoat", pytest.param("smock_shirt", marks=pytest.mark.slow)])
@pytest.mark.parametrize("width_in", [22.0, 25.0])
def test_interfacing_fits_on_the_narrow_widths_it_is_sold_in(name: str, width_in: float) -> None:
    """Narrow fusible interfacing is sold at 22 to 25 inches (common practice).

    The one width in print, about 20 in, is a shop's remark: katieskitchenblog.com.
    """
    result = laid(name, "interfacing", "XL", width_in)

    assert result.findings == ()
    assert result.shop_length_mm <= MM_PER_YARD


@pytest.mark.slow
def test_a_small_accessory_takes_the_same_on_both_widths() -> None:
    """Common practice: a small bag needs as much of 45 as of 60 inch cloth, unlike a garment."""
    bag = [laid("knapsack", "lining", "XS", width).shop_length_mm for width in (45.0, 60.0)]
    garment = [laid("waistcoat", "shell", "M", width).shop_length_mm for width in (45.0, 60.0)]

    assert bag[0] == bag[1]
    assert garment[0] > garment[1]
