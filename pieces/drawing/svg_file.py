"""Read and write drawings in SVG. The convention is told in docs/from-a-drawing.md."""

from pathlib import Path

from pieces.drawing.drawing import Drawing
from pieces.drawing.gather import gather
from pieces.drawing.limits import LARGEST_BYTES, bytes_of, naming
from pieces.drawing.mapping_file import Mapping
from pieces.drawing.safe_xml import parse_xml
from pieces.drawing.svg_text import format_svg
from pieces.drawing.svg_walk import Names, walk
from pieces.errors import DrawingError

__all__ = ["format_svg", "parse_svg", "read_svg"]


def read_svg(
    path: Path | str, *, unit_mm: float | None = None, mapping: Mapping | None = None
) -> Drawing:
    """Read the pieces of an SVG drawing.

    Parameters
    ----------
    path
        SVG file, at most 20 MB.
    unit_mm
        Size of one unit of the drawing, mm, where the file does not say how large it is or says
        it wrongly.
    mapping
        What the names in the drawing mean, if it follows no convention.

    Raises
    ------
    DrawingError
        If the file cannot be read, is no SVG drawing of pieces, or asks for more than a drawing
        of pieces needs; the sentence names the file.
    """
    path = Path(path)
    with naming(path):
        return parse_svg(bytes_of(path), unit_mm=unit_mm, mapping=mapping)


def parse_svg(
    data: bytes, *, unit_mm: float | None = None, mapping: Mapping | None = None
) -> Drawing:
    """Read the pieces of an SVG drawing from its bytes; see :func:`read_svg`.

    Raises
    ------
    DrawingError
        If it is no SVG drawing of pieces, or asks for more than one needs.
    """
    if len(data) > LARGEST_BYTES:
        raise DrawingError("the drawing is larger than 20 MB; take out pictures")
    mapping = mapping or Mapping()
    pieces = {name: (one.piece, one.size) for name, one in mapping.drawing.outlines.items()}
    names = Names(mapping.drawing.roles, pieces)
    unit_mm = unit_mm or mapping.drawing.unit_mm
    return gather(walk(parse_xml(data), unit_mm=unit_mm, names=names))
