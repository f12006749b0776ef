"""What we write as SVG we read back the same."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, assume, given, settings

from pieces.drawing.drawing import Drawing
from pieces.drawing.pattern_facts import drawing_of
from pieces.drawing.svg_file import format_svg, parse_svg
from pieces.drawing.to_pattern import pattern_of
from pieces.errors import DrawingError
from pieces.pattern import Pattern
from pieces.sheet.pattern_file import read_pattern
from tests.pieces.drawing.drawings import largest_deviation_mm
from tests.places import DEMO
from tests.strategies import patterns

DEMOS = sorted(DEMO.glob("*.toml"))


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_a_demo_pattern_comes_back(path: Path) -> None:
    """Outlines, grainlines, fold edges, marks, counts and names, within 0.01 mm."""
    pattern = read_pattern(path)
    text = format_svg(drawing_of(pattern))

    again, notes = pattern_of(parse_svg(text.encode()), name="x")

    assert largest_deviation_mm(pattern, again) < 1e-6
    assert notes == ()


@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow])
@given(patterns())
def test_odd_names_come_back(pattern: Pattern) -> None:
    """Quotes, line ends and any script in names."""
    shapes = [shape for piece in pattern.pieces for shape in piece.shapes.values()]
    assume(all(shape.fold_edge_mm is None for shape in shapes))

    drawing = parse_svg(format_svg(drawing_of(pattern)).encode())

    names = [(shape.name, shape.size) for shape in drawing.shapes]
    assert names == [(one.name, size) for one in pattern.pieces for size in one.shapes]


def test_nothing_cannot_be_drawn() -> None:
    """A file without shapes could not be read back."""
    with pytest.raises(DrawingError):
        format_svg(Drawing(shapes=()))
