"""Cut on the bias: one meaning for an arrow, one for the word, and both together are refused."""

import numpy as np
import pytest

from nesting.cloth.bolt import Bolt
from nesting.lay import LayRequest, SearchOptions, lay_pieces
from nesting.marker.cut_list import Selection
from nesting.marker.placement import lying_shape
from pieces.drawing.drawing_file import format_drawing
from pieces.drawing.mapping_file import parse_mapping
from pieces.drawing.pattern_facts import drawing_of
from pieces.drawing.svg_file import parse_svg
from pieces.drawing.to_pattern import pattern_of
from pieces.errors import DrawingError, PatternFileError
from pieces.sheet.pattern_file import parse_pattern
from pieces.sheet.pattern_text import format_pattern

SHEET = """
format = 1
name = "strip"
units = "mm"
sizes = ["M"]
[views.A]
pieces = ["strip"]
[cloths.shell]
[pieces.strip]
{grain}
cut.shell = 1
[pieces.strip.sizes.M]
outline = [[0, 0], [60, 0], [60, 300], [0, 300]]
{arrow}
"""
BIAS, SLANTED = 'grain = "bias"', "grainline = [[5, 125], [55, 175]]"


def lies_deg(grain: str, arrow: str) -> float:
    """Return how the long side of the strip lies to the warp, degrees from 0 to 90."""
    pattern = parse_pattern(SHEET.format(grain=grain, arrow=arrow))
    marker = lay_pieces(
        LayRequest(
            pattern=pattern,
            selections=(Selection("A", "M"),),
            cloth="shell",
            bolt=Bolt(width_mm=350.0),
            search=SearchOptions("quick", workers=1),
        )
    ).marker
    (at,) = marker.placements
    outline = lying_shape(marker.items[0], at, marker.stretches[0].spread).outline_mm
    sides = np.roll(outline, -1, axis=0) - outline
    along, across = np.abs(sides[np.hypot(*sides.T).argmax()])
    return float(np.degrees(np.arctan2(across, along)))


def test_an_arrow_lies_along_the_warp_slanted_as_it_is() -> None:
    """Printed at 45 degrees to the strip, so the strip lies at 45 degrees."""
    assert lies_deg("", SLANTED) == pytest.approx(45.0)


def test_bias_without_an_arrow_lays_the_upright_drawing_at_45_degrees() -> None:
    """The word says it all."""
    assert lies_deg(BIAS, "") == pytest.approx(45.0)


def test_both_together_are_refused_with_both_ways_out() -> None:
    """Laid straight without a word, the strip would not stretch round the curve."""
    with pytest.raises(PatternFileError) as refusal:
        parse_pattern(SHEET.format(grain=BIAS, arrow=SLANTED))

    told = str(refusal.value)
    assert told.startswith('piece "strip", size M: grain "bias" and a grainline are both given')
    assert "leave the bias out" in told
    assert "leave the grainline out" in told


def test_a_sheet_and_a_drawing_give_the_bias_back() -> None:
    """Neither writes an arrow that the piece does not have."""
    pattern = parse_pattern(SHEET.format(grain=BIAS, arrow=""))
    drawn = format_drawing(drawing_of(pattern), ".svg")

    again, notes = pattern_of(parse_svg(drawn.encode()), name="strip")

    assert parse_pattern(format_pattern(pattern)) == pattern
    assert again.piece("strip").grain is pattern.piece("strip").grain
    assert notes == ()


def test_a_drawn_arrow_beside_the_word_is_refused() -> None:
    """Of a drawing as of a sheet."""
    pattern = parse_pattern(SHEET.format(grain="", arrow=SLANTED))
    drawn = format_drawing(drawing_of(pattern), ".svg")
    mapping = parse_mapping('[pieces.strip]\ngrain = "bias"\ncut.shell = 1')

    with pytest.raises(DrawingError, match="can be read in two ways"):
        pattern_of(parse_svg(drawn.encode()), name="strip", mapping=mapping)
