"""Drawings in DXF become pieces: layers, dialects, units, blocks, bulges and splines."""

import io
import math
from collections.abc import Callable
from typing import Any

import ezdxf
import numpy as np
import pytest
from ezdxf.document import Drawing as Document

from pieces.drawing.drawing import Drawing
from pieces.drawing.dxf_file import parse_dxf
from pieces.drawing.mapping_file import parse_mapping
from pieces.drawing.to_pattern import pattern_of
from pieces.errors import DrawingError
from pieces.outline.polygon import area_mm2
from tests.pieces.drawing.drawings import extent

SQUARE = [(0, 0), (100, 0), (100, 200), (0, 200)]


def dxf(draw: Callable[[Any], None], *, units: int = 4, version: str = "R2000") -> bytes:
    """Return a document with what ``draw`` puts into the block of one piece, inserted once."""
    document = ezdxf.new(version, units=units)
    block = document.blocks.new("FRONT")
    draw(block)
    document.modelspace().add_blockref("FRONT", (1000, 500))
    return text_of(document)


def text_of(document: Document) -> bytes:
    """Return the bytes of a document."""
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode(document.output_encoding, errors="dxfreplace")


def on(layer: str) -> dict[str, str]:
    """Return the attributes that put an entity on a layer."""
    return {"layer": layer}


def front(block: Any) -> None:
    """Draw a piece as the public layer list has it."""
    block.add_polyline2d(SQUARE, close=True, dxfattribs=on("1"))
    for point in SQUARE:
        block.add_point(point, dxfattribs=on("2"))
    block.add_line((50, 20), (50, 180), dxfattribs=on("7"))
    block.add_point((100, 60), dxfattribs=on("4"))
    block.add_point((0, 60), dxfattribs=on("81"))
    block.add_point((40, 100), dxfattribs=on("13"))
    block.add_line((20, 20), (80, 20), dxfattribs=on("8"))
    block.add_polyline2d([(10, 10), (90, 10), (90, 190)], dxfattribs=on("14"))
    for i, text in enumerate(("Piece Name: front", "Size: M", "Quantity: 1,1", "Material: shell")):
        block.add_text(text, dxfattribs={"layer": "1", "insert": (20, 50 + 10 * i)})


def test_every_public_layer_plays_its_part() -> None:
    """In the coordinates of the block, wherever it is inserted."""
    drawing = parse_dxf(dxf(front))
    (piece,) = drawing.shapes
    shape = piece.shape

    assert (piece.name, piece.size) == ("front", "M")
    assert shape.outline_mm.tolist() == [list(point) for point in SQUARE]
    assert (shape.grainline.tail_mm, shape.grainline.head_mm) == ((50, 20), (50, 180))
    assert [mark.at_mm for mark in shape.notches] == [(100, 60), (0, 60)]
    assert [mark.at_mm for mark in shape.drill_holes] == [(40, 100)]
    assert [line.name for line in shape.internal_lines] == ["line", "sew line"]
    assert 'dialect "standard"' in " ".join(drawing.notes)


def test_equal_quantities_right_and_left_are_a_pair() -> None:
    """As the identifiers of the standard have it."""
    pattern, _ = pattern_of(parse_dxf(dxf(front)), name="x")

    (cut,) = pattern.piece("front").cuts
    assert (cut.cloth, cut.count, cut.pair) == ("shell", 2, True)


@pytest.mark.parametrize(
    ("quantity", "expected"), [("2", (2, False)), ("2,0", (2, False)), ("3,3", (6, True))]
)
def test_quantities_are_read(quantity: str, expected: tuple[int, bool]) -> None:
    """One number alone is plain."""

    def draw(block: Any) -> None:
        block.add_polyline2d(SQUARE, close=True, dxfattribs=on("1"))
        block.add_text(f"Quantity: {quantity}", dxfattribs={"layer": "1", "insert": (9, 9)})

    pattern, _ = pattern_of(parse_dxf(dxf(draw)), name="x")

    (cut,) = pattern.pieces[0].cuts
    assert (cut.count, cut.pair) == expected


def test_a_mirror_line_makes_a_half_piece() -> None:
    """A pair of half pieces is two whole ones."""

    def draw(block: Any) -> None:
        front(block)
        block.add_line((0, 0), (0, 200), dxfattribs=on("6"))

    pattern, _ = pattern_of(parse_dxf(dxf(draw)), name="x")

    assert pattern.piece("front").shape("M").fold_edge_mm == ((0, 0), (0, 200))
    assert pattern.piece("front").cuts[0].pair is False


def test_the_other_dialect_is_found_out() -> None:
    """Drill holes on 12 and annotation on 13; then 10 holds internal lines, and 8 stripes."""

    def draw(block: Any) -> None:
        block.add_polyline2d(SQUARE, close=True, dxfattribs=on("1"))
        block.add_point((40, 100), dxfattribs=on("12"))
        block.add_line((20, 20), (80, 20), dxfattribs=on("10"))
        block.add_line((20, 30), (80, 30), dxfattribs=on("8"))

    drawing = parse_dxf(dxf(draw))
    shape = drawing.shapes[0].shape

    assert 'dialect "shifted"' in " ".join(drawing.notes)
    assert (len(shape.drill_holes), len(shape.internal_lines)) == (1, 1)
    assert shape.internal_lines[0].points_mm.tolist() == [[20, 20], [80, 20]]


def test_layers_with_names_and_a_map() -> None:
    """A drawing of a program for buildings: words for layers, or a map for one's own words."""

    def draw(block: Any) -> None:
        block.add_lwpolyline(SQUARE, close=True, dxfattribs=on("OUTLINE"))
        block.add_line((50, 180), (50, 20), dxfattribs=on("Grain line"))
        block.add_circle((100, 60), 1, dxfattribs=on("ZWICKE"))

    mapping = parse_mapping('[drawing]\nlayers = { ZWICKE = "notch" }')
    (piece,) = parse_dxf(dxf(draw), mapping=mapping).shapes

    assert piece.shape.grainline.angle_deg == -90
    assert np.allclose(piece.shape.notches[0].at_mm, (100, 60))


@pytest.mark.parametrize(("units", "size_mm"), [(1, 25.4), (4, 1.0), (5, 10.0), (6, 1000.0)])
def test_the_header_says_the_unit(units: int, size_mm: float) -> None:
    """Inches, millimetres, centimetres or metres."""
    (piece,) = parse_dxf(dxf(front, units=units)).shapes

    assert extent(piece.shape) == pytest.approx([100 * size_mm, 200 * size_mm])


def test_a_text_may_say_the_unit_instead() -> None:
    """Old files have no unit in their header."""

    def draw(block: Any) -> None:
        front(block)
        block.add_text("Units: ENGLISH", dxfattribs={"layer": "1", "insert": (0, 0)})

    (piece,) = parse_dxf(dxf(draw, units=0, version="R12")).shapes

    assert extent(piece.shape) == pytest.approx([2540, 5080])


def test_a_drawing_without_a_unit_asks_for_one() -> None:
    """Nothing is guessed: a wrong unit would buy 25 times the cloth."""
    data = dxf(front, units=0)

    with pytest.raises(DrawingError, match="--units"):
        parse_dxf(data)
    assert extent(parse_dxf(data, unit_mm=10.0).shapes[0].shape) == [1000, 2000]


def test_pieces_without_blocks_are_found_by_place() -> None:
    """All in one drawing, as a person draws it."""
    document = ezdxf.new("R2010", units=4)
    space = document.modelspace()
    for x in (0, 300):
        space.add_lwpolyline([(a + x, b) for a, b in SQUARE], close=True, dxfattribs=on("1"))
        space.add_line((x + 50, 20), (x + 50, 180), dxfattribs=on("7"))
    space.add_text("Piece Name: second", dxfattribs={"layer": "1", "insert": (310, 10)})

    first, second = parse_dxf(text_of(document)).shapes

    assert (first.name, second.name) == ("piece_1", "second")
    assert second.shape.grainline.tail_mm == (350, 20)


def test_a_scaled_and_turned_block_keeps_its_scale_and_turn() -> None:
    """Only where it is put does not matter."""
    document = ezdxf.new("R2000", units=4)
    block = document.blocks.new("A")
    block.add_lwpolyline(SQUARE, close=True, dxfattribs=on("1"))
    document.modelspace().add_blockref(
        "A", (7, 7), dxfattribs={"xscale": 2, "yscale": 2, "rotation": 90}
    )

    (piece,) = parse_dxf(text_of(document)).shapes

    assert extent(piece.shape) == [400, 200]


def outline_of(draw: Callable[[Any], Any]) -> np.ndarray[Any, Any]:
    """Return the outline that ``draw`` puts on layer 1."""
    drawing: Drawing = parse_dxf(dxf(draw))
    return drawing.shapes[0].shape.outline_mm


def test_bulges_are_arcs() -> None:
    """Two edges of bulge 1 make a circle: r = 50, 7854 mm², less at most 0.1 mm all round."""
    for add in ("add_lwpolyline", "add_polyline2d"):
        outline = outline_of(
            lambda block, add=add: getattr(block, add)(  # type: ignore[misc]
                [(0, 0, 1.0), (100, 0, 1.0)], format="xyb", close=True, dxfattribs=on("1")
            )
        )
        assert math.pi * 2500 - 31.5 < area_mm2(outline) < math.pi * 2500
        assert np.allclose(np.hypot(outline[:, 0] - 50, outline[:, 1]), 50)


def test_a_small_bulge_bends_to_the_right_side() -> None:
    """Bulge tan(22.5 deg) is a quarter turn, and bulges out of an anticlockwise box."""
    quarter = math.tan(math.radians(22.5))
    points = [(0, 0, quarter), (100, 0, 0), (100, 100, 0), (0, 100, 0)]

    outline = outline_of(
        lambda block: block.add_lwpolyline(points, format="xyb", close=True, dxfattribs=on("1"))
    )

    # chord 100 under a quarter circle: r = 70.71, segment r² (pi / 4 - 1 / 2) = 1426.99
    assert area_mm2(outline) == pytest.approx(10_000 + 1426.99, abs=12)


def test_circles_ellipses_and_splines_are_outlines() -> None:
    """Each within 0.1 mm of its curve."""
    circle = outline_of(lambda block: block.add_circle((5, 5), 60, dxfattribs=on("1")))
    assert np.allclose(np.hypot(circle[:, 0] - 5, circle[:, 1] - 5), 60)

    ellipse = outline_of(
        lambda block: block.add_ellipse((0, 0), (0, 90), 1 / 3, dxfattribs=on("1"))
    )
    assert np.allclose((ellipse[:, 0] / 30) ** 2 + (ellipse[:, 1] / 90) ** 2, 1)

    spline = outline_of(lambda block: block.add_open_spline([*SQUARE, (0, 0)], dxfattribs=on("1")))
    assert 5_000 < area_mm2(spline) < 20_000


def test_a_reference_line_is_not_a_line_of_the_piece() -> None:
    """Grade, stripe and plaid references, turn and curve points, validation curves."""

    def draw(block: Any) -> None:
        block.add_polyline2d(SQUARE, close=True, dxfattribs=on("1"))
        for layer in ("5", "9", "10", "84"):
            block.add_line((10, 10), (90, 10), dxfattribs=on(layer))

    assert parse_dxf(dxf(draw)).shapes[0].shape.internal_lines == ()
