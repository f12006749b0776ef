"""Garments whose pieces are printed as measures, laid on 36 in cloth against the printed amounts.

The pieces are rectangles, as the pages describe them. Where a page is silent or hard to read, the
reading is stated beside it.
"""

import numpy as np
import pytest

from nesting.cloth.bolt import Bolt
from nesting.lay import LayRequest, LayResult, SearchOptions, lay_pieces
from nesting.marker.cut_list import Selection
from pieces.grainline import Grain, Grainline
from pieces.measures.units import MM_PER_INCH, MM_PER_YARD
from pieces.pattern import ClothNeed, Pattern, View
from pieces.piece import Cut, Piece, PieceShape

YARD_WIDE_IN = 36.0


def strip(
    name: str, across_in: float, along_in: float, *, count: int = 1, grain: Grain = Grain.LENGTHWISE
) -> Piece:
    """Return a rectangle of so many inches, its arrow along the longer measure given."""
    wide, long = across_in * MM_PER_INCH, along_in * MM_PER_INCH
    shape = PieceShape(
        outline_mm=np.array([(0.0, 0.0), (wide, 0.0), (wide, long), (0.0, long)]),
        grainline=Grainline((wide / 2, 0.1 * long), (wide / 2, 0.9 * long)),
    )
    return Piece(
        name=name, title=name, cuts=(Cut("shell", count),), shapes={"one": shape}, grain=grain
    )


def laid(*pieces: Piece) -> LayResult:
    """Return the pieces laid on open cloth a yard wide, in eighths of a yard."""
    pattern = Pattern(
        name="Printed",
        sizes=("one",),
        pieces=pieces,
        views=(View("A", tuple(piece.name for piece in pieces)),),
        cloths=(ClothNeed("shell"),),
    )
    result = lay_pieces(
        LayRequest(
            pattern=pattern,
            selections=(Selection("A", "one"),),
            cloth="shell",
            bolt=Bolt(width_mm=YARD_WIDE_IN * MM_PER_INCH),
            search=SearchOptions("quick", workers=1),
        )
    )
    assert result.findings == ()
    return result


def test_a_two_breadth_apron_takes_two_and_a_quarter_yards() -> None:
    """W1: one yard long with a 4 in hem, of two breadths: 2 1/4 yd, as printed.

    Source: *School Needlework* (1893), "Two-Breadth Apron", chestofbooks.com. From the middle of
    one breadth a strip 3 in wide is torn for the band, so that half a breadth is left for each
    side. Reading: no width is named, and a breadth is a yard wide; so both breadths are 36 + 4 in
    long, 80 in together, of which nothing is lost, and the next eighth is 81 in.
    """
    result = laid(
        strip("front", 36.0, 40.0), strip("side", 16.5, 40.0, count=2), strip("band", 3.0, 40.0)
    )

    assert result.marker_length_mm == pytest.approx(80.0 * MM_PER_INCH)
    assert result.utilisation == pytest.approx(1.0)
    assert result.shop_length_mm == pytest.approx(2.25 * MM_PER_YARD)


@pytest.mark.parametrize(
    ("skirt_in", "waist_in", "strap_in", "shop_yd"),
    [(25.0, 26.5, 18.0, 1.75), (22.0, 24.0, 16.0, 1.625)],
)
def test_a_school_apron_with_bib(
    skirt_in: float, waist_in: float, strap_in: float, shop_yd: float
) -> None:
    """W2: skirt, belt, straps and bib as printed; the amount is computed here, none is printed.

    Source: Ontario Teachers' Manuals, *Household Science in Rural Schools* (1918), lesson XI,
    free-books.at. The skirt is the wearer's skirt length + 6 in and a full breadth; the belt two
    strips of waist + 3 by 2 1/2 in, the straps two of their measure by 4 1/2 in, the bib 9 by
    12 in, all lengthwise, seams included. Reading: 36 in cloth. The waists are those of sizes 14
    and 8 in a table of the pattern trade (sewingscholar.blogspot.com); lengths of skirt and strap
    are ours. The skirt takes the whole breadth, so nothing lies beside it, and the rest, 23 in
    wide, lies side by side: in all the skirt and the belt, one after the other.
    """
    result = laid(
        strip("skirt", 36.0, skirt_in + 6.0),
        strip("belt", 2.5, waist_in + 3.0, count=2),
        strip("strap", 4.5, strap_in, count=2),
        strip("bib", 9.0, 12.0),
    )

    expected_in = (skirt_in + 6.0) + (waist_in + 3.0)
    assert result.marker_length_mm == pytest.approx(expected_in * MM_PER_INCH)
    assert result.shop_length_mm == pytest.approx(shop_yd * MM_PER_YARD)


def test_a_frilled_apron_takes_a_yard_and_a_half_in_one_reading_or_the_other() -> None:
    """W5: the printed 1 1/2 yd lies between all pieces lengthwise, and ties torn across.

    Source: a newspaper column of 31 March 1938, newspapers.library.in.gov: skirt 27 in wide and
    23 deep, two ties of 6 by 36 in, belt and its facing 2 1/2 in, straps 4 in, a pocket of 5 in
    square; 1 1/2 yd of 36 in cloth, and one yard more for the ruffles, which are left out here.
    Reading: the print is unclear. Belt and facing are as long as the skirt is wide, the straps
    24 in. Beside the skirt lies one tie along the cloth and not two, since 27 + 6 + 6 in are more
    than a breadth; so lengthwise it is skirt and tie one after the other, 23 + 36 = 59 in, and
    1 3/4 yd. Ties of a breadth torn across take less than is printed. Both are computed here.
    """
    across, lengthwise = (
        laid(
            strip("skirt", 27.0, 23.0),
            strip("tie", 6.0, 36.0, count=2, grain=grain),
            strip("belt", 2.5, 27.0, count=2, grain=small),
            strip("strap", 4.0, 24.0, count=2, grain=small),
            strip("pocket", 5.0, 5.0),
        )
        for grain, small in (
            (Grain.CROSSWISE, Grain.FREE),
            (Grain.LENGTHWISE, Grain.LENGTHWISE),
        )
    )

    assert lengthwise.marker_length_mm == pytest.approx(59.0 * MM_PER_INCH)
    assert lengthwise.shop_length_mm == pytest.approx(1.75 * MM_PER_YARD)
    assert MM_PER_YARD < across.shop_length_mm < 1.5 * MM_PER_YARD < lengthwise.shop_length_mm
