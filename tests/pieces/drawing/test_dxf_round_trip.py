"""What we write as DXF we read back the same, and ezdxf finds no fault with it."""

import io
from pathlib import Path

import ezdxf
import pytest
from hypothesis import HealthCheck, Phase, assume, given, settings

from pieces.drawing.drawing import Drawing
from pieces.drawing.dxf_file import format_dxf, parse_dxf
from pieces.drawing.pattern_facts import drawing_of
from pieces.drawing.to_pattern import pattern_of
from pieces.errors import DrawingError
from pieces.pattern import Pattern
from pieces.sheet.pattern_file import read_pattern
from tests.pieces.drawing.drawings import largest_deviation_mm
from tests.places import DEMO
from tests.strategies import patterns

DEMOS = sorted(DEMO.glob("*.toml"))


@pytest.mark.slow
@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_a_demo_pattern_comes_back(path: Path) -> None:
    """Outlines, grainlines, fold edges, marks, counts and names, within 0.01 mm."""
    pattern = read_pattern(path)
    text = format_dxf(drawing_of(pattern))

    again, notes = pattern_of(parse_dxf(text.encode()), name="x")

    assert largest_deviation_mm(pattern, again) < 1e-6
    assert len(notes) == 2  # unit and dialect, nothing else


@pytest.mark.slow
@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_the_auditor_finds_nothing(path: Path) -> None:
    """No error, and nothing mended."""
    text = format_dxf(drawing_of(read_pattern(path)))

    auditor = ezdxf.read(io.StringIO(text)).audit()

    assert (auditor.errors, auditor.fixes) == ([], [])


def test_layers_hold_what_the_standard_allows() -> None:
    """Layers 2, 3, 4, 13: points; 6 and 7: no polylines; a block for each piece and size."""
    pattern = read_pattern(DEMOS[0])
    document = ezdxf.read(io.StringIO(format_dxf(drawing_of(pattern))))
    blocks = [block for block in document.blocks if not block.name.startswith("*")]

    assert len(blocks) == len(pattern.pieces) * len(pattern.sizes)
    kinds = {(entity.dxf.layer, entity.dxftype()) for block in blocks for entity in block}
    assert {kind for layer, kind in kinds if layer in {"2", "3", "4", "13"}} == {"POINT"}
    assert {kind for layer, kind in kinds if layer in {"6", "7"}} == {"LINE"}
    assert {kind for layer, kind in kinds if layer == "1"} == {"POLYLINE", "TEXT"}


@settings(max_examples=12, phases=[Phase.generate], suppress_health_check=[HealthCheck.too_slow])
@given(patterns())
def test_odd_names_come_back(pattern: Pattern) -> None:
    """Quotes, line ends and any script in names."""
    shapes = [shape for piece in pattern.pieces for shape in piece.shapes.values()]
    assume(all(shape.fold_edge_mm is None for shape in shapes))

    drawing = parse_dxf(format_dxf(drawing_of(pattern)).encode())

    names = [(shape.name, shape.size) for shape in drawing.shapes]
    assert names == [(one.name, size) for one in pattern.pieces for size in one.shapes]


def test_nothing_cannot_be_drawn() -> None:
    """A file without shapes could not be read back."""
    with pytest.raises(DrawingError):
        format_dxf(Drawing(shapes=()))
