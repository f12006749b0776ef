"""A marker written as a drawing lies in it as on the cloth."""

import io

import ezdxf
import numpy as np
import pytest

from nesting.marker.marker_drawing import marker_drawing
from nesting.marker.placement import lying_shape
from pieces.drawing.dxf_file import format_dxf, parse_dxf
from pieces.drawing.svg_file import format_svg, parse_svg
from tests.small_patterns import folded_lay


@pytest.mark.parametrize("kind", ["svg", "dxf"])
def test_placed_outlines_come_back(kind: str) -> None:
    """Within 0.01 mm, with grainline and fold edge, in the coordinates of the marker."""
    marker = folded_lay()
    drawing = marker_drawing(marker)
    if kind == "svg":
        again = parse_svg(format_svg(drawing, keep_places=True).encode())
    else:
        again = parse_dxf(format_dxf(drawing, keep_places=True).encode())

    assert len(again.shapes) == len(marker.placements) >= 3
    for read, one in zip(again.shapes, marker.placements, strict=True):
        spread = marker.stretches[one.stretch].spread
        true = lying_shape(marker.item_by_key[one.item], one, spread)
        assert np.abs(read.shape.outline_mm - true.outline_mm).max() < 0.01
        arrows = [(s.grainline.tail_mm, s.grainline.head_mm) for s in (read.shape, true)]
        assert np.allclose(*arrows, atol=0.01)
        assert (read.shape.fold_edge_mm is None) == (true.fold_edge_mm is None)


def test_the_drawing_of_a_marker_keeps_places_on_the_sheet() -> None:
    """In the DXF nothing is moved when it is inserted, and the auditor finds nothing."""
    document = ezdxf.read(io.StringIO(format_dxf(marker_drawing(folded_lay()), keep_places=True)))

    assert {tuple(insert.dxf.insert) for insert in document.modelspace().query("INSERT")} == {
        (0.0, 0.0, 0.0)
    }
    assert document.audit().errors == []
