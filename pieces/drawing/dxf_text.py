"""Write a drawing of pieces as DXF: one block for each piece, layers by their public numbers."""

import io
import math
import re
from collections.abc import Iterator
from urllib.parse import quote

import numpy as np
from ezdxf.document import Drawing as Document
from ezdxf.filemanagement import new
from ezdxf.layouts.blocklayout import BlockLayout
from ezdxf.units import MM

from pieces.drawing.drawing import Drawing, DrawnShape, Fact, first, parted, written
from pieces.drawing.page import origins_of
from pieces.grainline import Point
from pieces.outline.polygon import FloatArray
from pieces.piece import PieceShape
from pieces.shaping.seam import SEW_LINE

_LAYERS = {
    "1": "boundary",
    "2": "turn points",
    "3": "curve points",
    "4": "notches",
    "6": "mirror line",
    "7": "grain line",
    "8": "internal lines",
    "13": "drill holes",
    "14": "sew lines",
    "15": "annotation",
}
_COLOURS = {"1": 7, "4": 1, "6": 6, "7": 5, "8": 3, "13": 1, "14": 4}
_TURN_DEG = 10.0
_LETTER_MM = 5.0
_CUT = re.compile(r"(\d+)\s+(.*?)(\s+pair)?", re.DOTALL)


def format_dxf(drawing: Drawing, *, keep_places: bool = False) -> str:
    """Return the text of a DXF drawing in mm; reading it back gives the same shapes and facts.

    Parameters
    ----------
    drawing
        At least one shape.
    keep_places
        True to leave every shape where its coordinates put it, as in a marker; False to spread
        them out so that none touches another.

    Raises
    ------
    DrawingError
        If there is nothing to draw.
    """
    origins = origins_of(drawing, keep_places=keep_places)
    document = new("R2000", units=MM)
    document.header["$MEASUREMENT"] = 1
    for number, about in _LAYERS.items():
        layer = document.layers.add(number, color=_COLOURS.get(number, 8))
        layer.description = about
    _style(document, drawing)
    for i, (shape, at) in enumerate(zip(drawing.shapes, origins, strict=True)):
        block = document.blocks.new(_block_name(i, shape))
        _piece(block, shape)
        document.modelspace().add_blockref(block.name, at, dxfattribs={"layer": "1"})
    stream = io.StringIO()
    document.write(stream)
    return re.sub(r"[^\x00-\x7f]", lambda c: f"\\U+{ord(c[0]):04X}", stream.getvalue())


def _style(document: Document, drawing: Drawing) -> None:
    """Write what holds for the whole drawing; two entries stand even when blank."""
    facts = list(drawing.facts)
    sizes = parted(first(facts, "sizes") or "")
    facts += [
        ("sample size", sizes[len(sizes) // 2] if sizes else ""),
        ("grade rule table", ""),
        ("units", "METRIC"),
    ]
    for i, (identifier, value) in enumerate(facts):
        at = (0.0, _LETTER_MM * 2.0 * (len(facts) - i) + 20.0)
        document.modelspace().add_text(
            _words(identifier, value),
            height=_LETTER_MM,
            dxfattribs={"layer": "1", "insert": at},
        )


def _block_name(number: int, shape: DrawnShape) -> str:
    plain = re.sub(r"[^A-Za-z0-9]+", "_", f"{shape.name}_{shape.size}").strip("_")
    return f"{number + 1:03d}_{plain[:60]}"


def _piece(block: BlockLayout, drawn: DrawnShape) -> None:
    shape = drawn.shape
    block.add_polyline2d(shape.outline_mm.tolist(), close=True, dxfattribs={"layer": "1"})
    for layer, at in _corners(shape.outline_mm):
        block.add_point(at, dxfattribs={"layer": layer})
    if drawn.has_arrow:
        arrow = shape.grainline.tail_mm, shape.grainline.head_mm
        block.add_line(*arrow, dxfattribs={"layer": "7"})
    if shape.fold_edge_mm is not None:
        block.add_line(*shape.fold_edge_mm, dxfattribs={"layer": "6"})
    for notch in shape.notches:
        block.add_point(notch.at_mm, dxfattribs={"layer": "4"})
    for hole in shape.drill_holes:
        block.add_point(hole.at_mm, dxfattribs={"layer": "13"})
    for match in shape.match_points:
        _annotate(block, "match point", match.name, match.at_mm)
    _lines(block, shape)
    for i, (identifier, value) in enumerate(_piece_facts(drawn)):
        x, y = shape.grainline.tail_mm
        at = (x + _LETTER_MM, y - 1.5 * _LETTER_MM * i)
        block.add_text(
            _words(identifier, value), height=_LETTER_MM, dxfattribs={"layer": "1", "insert": at}
        )


def _lines(block: BlockLayout, shape: PieceShape) -> None:
    for line in shape.internal_lines:
        layer = "14" if line.name == SEW_LINE else "8"
        points = line.points_mm.tolist()
        block.add_polyline2d(points, dxfattribs={"layer": layer})
        if layer == "8":
            _annotate(block, "internal line", line.name, (points[0][0], points[0][1]))


def _annotate(block: BlockLayout, identifier: str, value: str, at: Point) -> None:
    block.add_text(_words(identifier, value), height=2.0, dxfattribs={"layer": "15", "insert": at})


def _piece_facts(drawn: DrawnShape) -> Iterator[Fact]:
    """Yield the texts of a piece; cut counts as pairs of material and quantity."""
    yield "piece name", drawn.name
    if drawn.size:
        yield "size", drawn.size
    for identifier, value in drawn.facts:
        if identifier != "cut":
            yield identifier, value
            continue
        for entry in parted(value):
            match = _CUT.fullmatch(entry)
            if match is not None:
                count = int(match[1])
                yield "material", match[2]
                yield "quantity", f"{count // 2},{count // 2}" if match[3] else f"{count},0"


def _words(identifier: str, value: str) -> str:
    """Return a text in which codes of DXF, and letters beyond four hex digits, become ``%XX``."""
    safe = "".join(quote(c) if c in "\\^" or ord(c) > 0xFFFF else c for c in written(value))
    return f"{identifier.title()}: {safe}"


def _corners(outline: FloatArray) -> Iterator[tuple[str, Point]]:
    """Yield each vertex with its layer: a turn point where the outline turns by 10 degrees."""
    before, after = outline - np.roll(outline, 1, axis=0), np.roll(outline, -1, axis=0) - outline
    turns = np.arctan2(after[:, 1], after[:, 0]) - np.arctan2(before[:, 1], before[:, 0])
    sharp = np.abs((turns + math.pi) % (2.0 * math.pi) - math.pi) >= math.radians(_TURN_DEG)
    for (x, y), is_turn in zip(outline.tolist(), sharp.tolist(), strict=True):
        yield ("2" if is_turn else "3"), (x, y)
