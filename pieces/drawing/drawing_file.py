"""Drawings by the ending of their file: read one as a pattern, write one as text."""

from pathlib import Path

from pieces.drawing.drawing import Drawing
from pieces.drawing.dxf_file import format_dxf, read_dxf
from pieces.drawing.mapping_file import Mapping
from pieces.drawing.svg_file import format_svg, read_svg
from pieces.drawing.to_pattern import pattern_of
from pieces.errors import DrawingError, PiecesError
from pieces.pattern import Pattern

ENDINGS = (".svg", ".dxf")


def read_drawing(
    path: Path | str,
    *,
    unit_mm: float | None = None,
    dialect: str | None = None,
    mapping: Mapping | None = None,
) -> tuple[Pattern, tuple[str, ...]]:
    """Read the pattern in a drawing.

    Parameters
    ----------
    path
        An ``.svg`` or ``.dxf`` file.
    unit_mm
        Size of one unit of the drawing, mm, if the file does not say it or says it wrongly.
    dialect
        Layer numbers of a DXF drawing; see :func:`pieces.drawing.dxf_file.read_dxf`.
    mapping
        What the drawing does not say itself; see :mod:`pieces.drawing.mapping_file`.

    Returns
    -------
    tuple
        The pattern, and in sentences what was assumed.

    Raises
    ------
    PiecesError
        If it cannot be read as a pattern; the sentence names the file.
    """
    path = Path(path)
    match path.suffix.lower():
        case ".svg":
            if dialect is not None:
                raise DrawingError(f"{path}: a dialect is for DXF alone; leave it out for SVG")
            drawing = read_svg(path, unit_mm=unit_mm, mapping=mapping)
        case ".dxf":
            drawing = read_dxf(path, unit_mm=unit_mm, dialect=dialect, mapping=mapping)
        case _:
            raise DrawingError(f"{path} must end in .svg or .dxf; save the drawing as one of them")
    try:
        return pattern_of(drawing, name=path.stem, mapping=mapping)
    except PiecesError as error:
        raise DrawingError(f"{path}: {error}") from error


def format_drawing(drawing: Drawing, ending: str, *, keep_places: bool = False) -> str:
    """Return the text of a drawing of the kind of an ending, ``".svg"`` or ``".dxf"``.

    Raises
    ------
    DrawingError
        If there is nothing to draw, or the ending is another.
    """
    match ending.lower():
        case ".svg":
            return format_svg(drawing, keep_places=keep_places)
        case ".dxf":
            return format_dxf(drawing, keep_places=keep_places)
    raise DrawingError(f'a drawing cannot end in "{ending}"; give .svg or .dxf')
