"""Markers of the invented demo patterns, laid quickly, for tests that look at a whole one."""

from functools import cache

from nesting.cloth.bolt import Bolt
from nesting.lay import LayRequest, SearchOptions, lay_pieces
from nesting.marker.cut_list import Selection
from nesting.marker.marker import Marker
from pieces.sheet.pattern_file import read_pattern
from tests.places import DEMO


@cache
def waistcoat_marker(selvage_mm: float = 0.0) -> Marker:
    """Return the shell of waistcoat A in size M on 45 in, laid open."""
    request = LayRequest(
        pattern=read_pattern(DEMO / "waistcoat.toml"),
        selections=(Selection("A", "M"),),
        cloth="shell",
        bolt=Bolt(width_mm=1143.0, selvage_mm=selvage_mm),
        search=SearchOptions("quick", workers=1),
    )
    return lay_pieces(request).marker
