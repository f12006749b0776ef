"""What cannot be matched is given up with a warning, never laid wrong or left out in silence."""

import pytest

from nesting.cloth.bolt import Bolt
from nesting.cloth.repeat import Repeat
from nesting.lay import LayRequest, LayResult, SearchOptions, lay_pieces
from nesting.marker.cut_list import Selection
from pieces.finding import Severity
from pieces.sheet.pattern_file import parse_pattern

HEAD = """
format = 1
name = "small"
units = "cm"
sizes = ["M"]
[cloths.shell]
"""
TWO_NAMES = """
[views.A]
pieces = ["front"]
[matching]
centre = "across"
dart = "across"
[pieces.front]
cut.shell = { count = 2, pair = true }
[pieces.front.sizes.M]
outline = [[0, 0], [25, 0], [25, 60], [0, 60]]
grainline = [[10, 10], [10, 50]]
match_points = { "centre" = [25, 30], "dart" = [13, 10] }
"""
TWO_GRAINS = """
[views.A]
pieces = ["front", "back"]
[pieces.front]
cut.shell = 1
[pieces.front.sizes.M]
outline = [[0, 0], [25, 0], [25, 60], [0, 60]]
grainline = [[10, 10], [10, 50]]
match_points = { "side" = [0, 30] }
[pieces.back]
grain = "crosswise"
cut.shell = 1
[pieces.back.sizes.M]
outline = [[0, 0], [25, 0], [25, 43], [0, 43]]
grainline = [[10, 10], [10, 40]]
match_points = { "side" = [0, 17] }
"""
OPENED_OUT = """
[views.A]
pieces = ["yoke"]
[pieces.yoke]
grain = "crosswise"
cut.shell = 1
[pieces.yoke.sizes.M]
outline = [[0, 0], [20, 0], [20, 31], [0, 31]]
fold_edge = [[0, 0], [0, 31]]
grainline = [[10, 5], [10, 25]]
match_points = { "side" = [17, 10] }
"""


def laid(sheet: str, repeat: Repeat) -> LayResult:
    """Return a quick lay of a sheet on cloth 152 cm wide with a repeat."""
    return lay_pieces(
        LayRequest(
            pattern=parse_pattern(HEAD + sheet),
            selections=(Selection("A", "M"),),
            cloth="shell",
            bolt=Bolt(width_mm=1524.0, repeat=repeat),
            search=SearchOptions("quick", workers=1),
        )
    )


@pytest.mark.parametrize(
    ("sheet", "repeat", "told"),
    [
        (TWO_NAMES, Repeat(across_mm=100.0), '"dart" of front M is not matched across the cloth'),
        (TWO_GRAINS, Repeat(along_mm=101.6), "on a piece of crosswise grain"),
        (OPENED_OUT, Repeat(along_mm=101.6), "left and right of the whole piece differ there"),
    ],
    ids=["a second name of one pair", "another grain", "two sides of one piece"],
)
def test_a_match_that_cannot_be_is_a_warning(sheet: str, repeat: Repeat, told: str) -> None:
    """Nothing else is found: the marker can be cut, and the person knows what will not meet."""
    (finding,) = laid(sheet, repeat).findings

    assert finding.code == "match-given-up"
    assert finding.severity is Severity.WARNING
    assert told in finding.sentence
