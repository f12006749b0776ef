"""Read and write drawings in DXF. The layers are told in docs/from-a-drawing.md."""

import contextlib
import io
import logging
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from ezdxf import recover

from pieces.drawing.drawing import Drawing
from pieces.drawing.dxf_text import format_dxf
from pieces.drawing.dxf_walk import walk
from pieces.drawing.gather import gather
from pieces.drawing.limits import LARGEST_BYTES, bytes_of, naming
from pieces.drawing.mapping_file import Mapping
from pieces.drawing.mark import Marks
from pieces.errors import DrawingError, PiecesError
from pieces.sheet.pattern_sheet import one_line

__all__ = ["format_dxf", "parse_dxf", "read_dxf"]

MOST_LINES = 1_000_000
"""Lines of text in a file; two lines hold one value."""
MOST_POINTS = 100_000
"""Points in a file, counted by their codes before anything is made of them."""
_POINT = re.compile(rb"^[ \t]*10[ \t]*\r?$", re.MULTILINE)


def read_dxf(
    path: Path | str,
    *,
    unit_mm: float | None = None,
    dialect: str | None = None,
    mapping: Mapping | None = None,
) -> Drawing:
    """Read the pieces of a DXF drawing.

    Parameters
    ----------
    path
        DXF file as text, at most 20 MB.
    unit_mm
        Size of one unit of the drawing, mm; needed if the file does not say it.
    dialect
        ``"standard"`` or ``"shifted"`` layer numbers; guessed if not said, and the notes of the
        drawing say which was assumed.
    mapping
        What the layers of the drawing mean, if they follow neither.

    Raises
    ------
    DrawingError
        If the file cannot be read, is no DXF drawing of pieces, does not say its unit, or asks
        for more than a drawing of pieces needs; the sentence names the file.
    """
    path = Path(path)
    with naming(path):
        return parse_dxf(bytes_of(path), unit_mm=unit_mm, dialect=dialect, mapping=mapping)


def parse_dxf(
    data: bytes,
    *,
    unit_mm: float | None = None,
    dialect: str | None = None,
    mapping: Mapping | None = None,
) -> Drawing:
    """Read the pieces of a DXF drawing from its bytes; see :func:`read_dxf`.

    Raises
    ------
    DrawingError
        If it is no DXF drawing of pieces, does not say its unit, or asks for too much.
    """
    mapping = mapping or Mapping()
    lines = max(data.count(b"\n"), data.count(b"\r"))
    if len(data) > LARGEST_BYTES or lines > MOST_LINES:
        raise DrawingError("the drawing is larger than 20 MB or a million lines; split it")
    points = sum(1 for _ in _POINT.finditer(data))
    if points > MOST_POINTS:
        raise DrawingError(
            f"the drawing has about {points:,} points; {MOST_POINTS:,} are the limit, so simplify "
            "its curves, or split it"
        )
    if data.startswith(b"AutoCAD Binary DXF"):
        raise DrawingError("the drawing is a binary DXF; save it as DXF in text (ASCII)")
    document, notes = _loaded(data)
    marks = _walked(
        document,
        unit_mm=unit_mm or mapping.drawing.unit_mm,
        dialect=dialect or mapping.drawing.dialect,
        layers=mapping.drawing.layers,
    )
    return gather(replace(marks, notes=(*marks.notes, *notes)))


def _loaded(data: bytes) -> tuple[Any, tuple[str, ...]]:
    """Return the document, mended in its structure where ezdxf can, and a note if it was."""
    if b"SECTION" not in data:
        raise DrawingError("the file is no DXF drawing in text; save the drawing as DXF (ASCII)")
    with _listening() as told:
        try:
            document, auditor = recover.read(io.BytesIO(data), errors="ignore")
        except Exception as error:  # a damaged file may fail anywhere inside the library
            raise DrawingError(
                "the file is no DXF drawing, or a damaged one; save it anew as DXF in text"
            ) from error
    changed = next((one for one in told if one.startswith("recovered invalid")), None)
    if changed is not None:
        raise DrawingError(f"the file is damaged ({one_line(changed[:120])}); save it anew as DXF")
    mended = len(auditor.errors) + len(auditor.fixes)
    note = f"the file breaks rules of DXF in {mended} places, which were mended or passed over"
    return document, (note,) if mended else ()


@contextlib.contextmanager
def _listening() -> Iterator[list[str]]:
    """Collect what ezdxf has to say while it reads; it would go to the terminal otherwise."""
    told: list[str] = []
    handler = logging.Handler()
    handler.emit = lambda record: told.append(record.getMessage())  # type: ignore[method-assign]
    logger = logging.getLogger("ezdxf")
    before = logger.propagate
    logger.addHandler(handler)
    logger.propagate = False
    try:
        yield told
    finally:
        logger.removeHandler(handler)
        logger.propagate = before


def _walked(document: Any, **options: Any) -> Marks:
    try:
        return walk(document, **options)
    except PiecesError:
        raise
    except Exception as error:  # entities of a damaged file may lack or twist any attribute
        raise DrawingError(
            f"an entity of the drawing is damaged ({type(error).__name__}); save it anew as DXF"
        ) from error
