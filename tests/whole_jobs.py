"""Hypothesis strategies for whole jobs: any small pattern, on any bolt, spread in any way."""

from dataclasses import replace

import numpy as np
from hypothesis import strategies as st

from nesting.cloth.bolt import Bolt
from nesting.cloth.flaw import Flaw
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.repeat import Repeat
from nesting.cloth.spread import Spread
from nesting.lay import LayRequest
from pieces.grainline import Grain, Grainline
from pieces.marks import MatchPoint
from pieces.outline.polygon import FloatArray
from pieces.piece import Cut, FoldEdge, Piece, PieceShape
from tests.small_patterns import ONE, QUICK, pattern
from tests.strategies import skyline_outlines, star_outlines

POINTS = ("centre front", "side waist", "hem")


@st.composite
def whole_pieces(draw: st.DrawFn, name: str) -> Piece:
    """Draw a piece of a garment: single, several, a pair, or half of one on the fold."""
    half = draw(st.booleans()) and draw(st.booleans())
    drawn = draw(skyline_outlines() if half else st.one_of(star_outlines(), skyline_outlines()))
    outline = np.round(drawn * 4.0) / 4.0  # so that moving and doubling are exact
    low_x, low_y = (float(low) for low in outline.min(axis=0))
    pair = not half and draw(st.booleans())
    shape = PieceShape(
        outline_mm=outline,
        grainline=Grainline((low_x, low_y), (low_x, low_y + 60.0)),
        fold_edge_mm=_edge_on_the_left(outline) if half else None,
        match_points=tuple(
            MatchPoint(point, tuple(outline[draw(st.integers(0, len(outline) - 1))].tolist()))
            for point in draw(st.lists(st.sampled_from(POINTS), max_size=2, unique=True))
        ),
    )
    count = draw(st.integers(1, 3))
    return Piece(
        name=name,
        title=name.capitalize(),
        cuts=(Cut("shell", 2 * count if pair else count, pair),),
        shapes={"M": shape},
        grain=draw(st.sampled_from(list(Grain))) if not half else Grain.LENGTHWISE,
        one_way=draw(st.booleans()),
    )


def _edge_on_the_left(outline: FloatArray) -> FoldEdge:
    """Return the upright edge at x = 0 of a skyline, bottom first."""
    upright = [point for point in outline.tolist() if point[0] == 0.0]
    return (0.0, 0.0), (0.0, max(point[1] for point in upright))


@st.composite
def bolts(draw: st.DrawFn) -> Bolt:
    """Draw a bolt of 60 cm to 1.5 m, with any of what a real one may have."""
    width_mm = float(draw(st.integers(600, 1500)))
    sizes = st.one_of(st.none(), st.integers(40, 250).map(float))
    along_mm, across_mm = draw(sizes), draw(sizes)
    designed = along_mm is not None or across_mm is not None
    repeats = designed and draw(st.booleans())
    flaw = st.builds(
        Flaw,
        at_mm=st.integers(0, 1200).map(float),
        across_mm=st.integers(0, int(width_mm) - 120).map(float),
        long_mm=st.integers(5, 90).map(float),
        wide_mm=st.integers(5, 90).map(float),
    )
    return Bolt(
        width_mm=width_mm,
        selvage_mm=draw(st.sampled_from([0.0, 10.0, 25.0])),
        nap=draw(st.booleans()),
        repeat=Repeat(along_mm=along_mm, across_mm=across_mm, even=draw(st.booleans()))
        if repeats
        else None,
        cut_on_repeat=draw(st.booleans()),
        shop_step_mm=draw(st.sampled_from([None, 100.0, 114.3])),
        flaws=tuple(draw(st.lists(flaw, max_size=2))),
        shrink_along=draw(st.sampled_from([0.0, 0.03, 0.08])),
        shrink_across=draw(st.sampled_from([0.0, 0.02])),
        end_allowance_mm=draw(st.sampled_from([0.0, 20.0])),
    )


@st.composite
def jobs(draw: st.DrawFn) -> LayRequest:
    """Draw a quick request for one or two garments of one to three pieces."""
    names = ("front", "back", "pocket")[: draw(st.integers(1, 3))]
    return LayRequest(
        pattern=pattern(*(draw(whole_pieces(name)) for name in names)),
        selections=(replace(ONE[0], garments=draw(st.sampled_from([1, 1, 2]))),),
        cloth="shell",
        bolt=draw(bolts()),
        rules=LayRules(
            spread=draw(st.sampled_from(list(Spread))),
            gap_mm=draw(st.sampled_from([0.0, 0.0, 6.0])),
        ),
        search=QUICK,
    )
