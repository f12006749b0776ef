"""Words fitted into outlines, and the arrow that gives way to them."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from nesting.draw.grain_arrow import arrow_clear_of
from nesting.draw.label_fit import Block, FittingSurface, fit_block
from nesting.draw.style import Look
from nesting.draw.text_width import text_width_mm
from pieces.grainline import Grainline
from pieces.piece import PieceShape
from tests.gallery import L_SHAPE
from tests.strategies import outlines


def test_a_block_fills_the_box_it_is_given():
    """One line of height 0.97 fits into 100 mm by 97 mm at most at size 100."""
    surface = FittingSurface(shapely.box(0.0, 0.0, 1000.0, 97.0), 0.0)
    fit = surface.best(Block(("iii",)), largest_mm=100.0, least_mm=1.0)
    assert fit is not None
    assert fit.size_mm == pytest.approx(100.0)
    assert fit.middle_mm == pytest.approx((500.0, 48.5), abs=8.0)


def test_a_block_too_large_everywhere_has_no_place():
    """A surface of 10 mm holds no type of 20 mm."""
    surface = FittingSurface(shapely.box(0.0, 0.0, 10.0, 10.0), 0.0)
    assert surface.best(Block(("word",)), largest_mm=30.0, least_mm=20.0) is None


def test_words_run_along_a_narrow_upright_piece():
    """In a strip 30 wide and 400 high the words stand upright and are larger than level ones."""
    strip = shapely.box(0.0, 0.0, 30.0, 400.0)
    levels = [FittingSurface(strip, 0.0), FittingSurface(strip, 90.0)]
    fit = fit_block(levels, [Block(("Shoulder strap",))], largest_mm=25.0, least_mm=1.0)
    assert fit is not None
    assert fit.turn_deg == 90.0
    # 14 letters level need about 9 x the type size in width: 30 mm hold a size of 3
    assert fit.size_mm > 15.0


@given(outline=outlines, deg=st.sampled_from([0.0, 90.0, 37.0]))
def test_a_fitted_block_lies_inside(outline, deg):
    """Whatever the outline and the angle, every line of the block is inside."""
    surface = shapely.Polygon(outline)
    block = Block(("Back neck facing", "M, 1 of 2"))
    fit = FittingSurface(surface, deg).best(block, largest_mm=20.0, least_mm=0.5)
    if fit is not None:
        for text in fit.texts("#000000"):
            assert surface.buffer(1e-6).covers(shapely.Polygon(text.box_mm))
            assert fit.box.buffer(1e-6).covers(shapely.Polygon(text.box_mm))


@pytest.mark.parametrize("bold", [False, True])
def test_width_of_text_is_that_of_the_typeface(bold):
    """The table agrees with the typeface of the PNG: never too narrow, at most 3 % wide."""
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import TextPath

    words = "|Cut 2 of 3: pair, both layers (1 3/8 yd)|"
    font = FontProperties(family="DejaVu Sans", weight="bold" if bold else "normal")
    path = TextPath((0, 0), words, size=100, prop=font)
    ink_mm = float(np.ptp(path.get_extents().get_points()[:, 0]))
    assert ink_mm <= text_width_mm(words, 100.0, bold=bold) <= 1.03 * ink_mm


def test_accented_letters_are_as_wide_as_plain_ones():
    """An e with an accent takes the room of an e."""
    assert text_width_mm("\u00e9", 10.0) == text_width_mm("e", 10.0)


def _l_piece() -> PieceShape:
    return PieceShape(outline_mm=L_SHAPE.outline, grainline=Grainline((40.0, 20.0), (40.0, 280.0)))


def test_arrow_stays_where_no_words_are():
    """Words elsewhere leave the arrow where it was drawn."""
    ends = arrow_clear_of(_l_piece(), shapely.box(120.0, 20.0, 180.0, 60.0), Look(10.0))
    assert ends is not None
    assert ends.tolist() == [[40.0, 20.0], [40.0, 280.0]]


def test_arrow_gives_way_to_words_and_keeps_its_direction():
    """Words in its middle move it aside, parallel, inside the piece and clear of the words."""
    words = shapely.box(20.0, 120.0, 60.0, 160.0)
    ends = arrow_clear_of(_l_piece(), words, Look(10.0))
    assert ends is not None
    step = ends[1] - ends[0]
    assert step[0] == pytest.approx(0.0)
    assert step[1] > 0.0
    line = shapely.LineString(ends)
    assert shapely.Polygon(L_SHAPE.outline).covers(line)
    assert not line.intersects(words)


def test_arrow_without_room_is_told():
    """Words that fill the piece leave no place for it."""
    words = shapely.Polygon(L_SHAPE.outline)
    assert arrow_clear_of(_l_piece(), words, Look(10.0)) is None
