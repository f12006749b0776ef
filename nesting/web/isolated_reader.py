"""A stranger's file read in a process of its own, with little memory and little time.

Run as ``python -m nesting.web.isolated_reader TOLD``, ``TOLD`` being the JSON that
:mod:`nesting.web.uploads` writes, it takes the files on its standard input one after the other,
writes what it found as JSON, and can write to no file at all.
"""

# ruff: noqa: PLC0415 - only what reads this kind of file is loaded
import base64
import io
import json
import os
import sys
import threading
import time
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

from pieces.errors import PatternFileError, PiecesError
from pieces.pattern import Pattern
from pieces.sheet.pattern_file import format_pattern, parse_pattern

if TYPE_CHECKING:
    from pieces.photo.photo_file import PhotoReading

SECONDS = 20
"""Of computing for each file; on a busy computer that takes longer by the clock."""
MEMORY_BYTES = 4_000_000_000
PHOTOS = "photographs"
_SHOWN_PX = 1600
_LOOK_S = 0.25
_Read = tuple[Pattern, tuple[str, ...]]


def _sheet(data: bytes, _name: str) -> _Read:
    try:
        return parse_pattern(data.decode("utf-8-sig")), ()
    except UnicodeDecodeError:
        raise PatternFileError("the file is no UTF-8 text; save the sheet as UTF-8") from None


def _svg(data: bytes, name: str) -> _Read:
    from pieces.drawing.svg_file import parse_svg
    from pieces.drawing.to_pattern import pattern_of

    return pattern_of(parse_svg(data), name=name, mapping=None)


def _dxf(data: bytes, name: str) -> _Read:
    from pieces.drawing.dxf_file import parse_dxf
    from pieces.drawing.to_pattern import pattern_of

    return pattern_of(parse_dxf(data), name=name, mapping=None)


READERS: Mapping[str, Callable[[bytes, str], _Read]] = {
    ".toml": _sheet,
    ".svg": _svg,
    ".dxf": _dxf,
}
"""How a file is read, by the ending of its name: another kind is added here."""


def _sheet_or_drawing(data: bytes, told: Mapping[str, Any]) -> dict[str, Any]:
    pattern, notes = READERS[told["kind"]](data, told["name"])
    return {"sheet": format_pattern(pattern), "notes": list(notes)}


def _photographed(data: bytes, told: Mapping[str, Any]) -> dict[str, Any]:
    from pieces.photo.reading import parse_photo

    stream = io.BytesIO(data)
    photos = [parse_photo(stream.read(size)) for size in told["sizes"]]
    from pieces.drawing.to_pattern import pattern_of
    from pieces.photo.library import opencv
    from pieces.photo.photo_file import drawing_of_photos
    from pieces.photo.sheets import sheet_named

    opencv()
    reading = drawing_of_photos(
        photos,
        sheet=sheet_named(told["beside"]) if told["beside"] else None,
        grain_deg=told["grain_deg"],
    )
    pattern, notes = pattern_of(reading.drawing, name=told["name"])
    accuracy = reading.accuracy
    return {
        "sheet": format_pattern(pattern),
        "notes": [note for note in notes if accuracy.sentence not in note],
        "photo": {
            "picture": base64.b64encode(_jpeg(reading)).decode("ascii"),
            "mm_per_px": accuracy.mm_per_px,
            "misfit_mm": accuracy.misfit_mm,
            "error_mm": accuracy.error_mm,
        },
    }


def _jpeg(reading: "PhotoReading") -> bytes:
    """Return the photographs with what was found, small enough to be kept in memory."""
    from PIL import Image

    with Image.open(io.BytesIO(reading.preview_png())) as drawn:
        drawn.thumbnail((_SHOWN_PX, _SHOWN_PX))
        stream = io.BytesIO()
        drawn.save(stream, "JPEG", quality=82)
    return stream.getvalue()


def main(told: Mapping[str, Any]) -> None:
    """Read standard input, and write a sheet with notes, or a problem, as JSON."""
    _end_with(told["parent"])
    _bound(files=len(told["sizes"]))
    try:
        read = _photographed if told["kind"] == PHOTOS else _sheet_or_drawing
        answer = read(sys.stdin.buffer.read(), told)
    except PiecesError as problem:
        answer = {"problem": str(problem)}
    sys.stdout.write(json.dumps(answer))


def _end_with(parent: int) -> None:
    """End this process as soon as the one that began it is gone, however that ended."""

    def watch() -> None:
        while os.getppid() == parent:
            time.sleep(_LOOK_S)
        os._exit(1)

    if os.name == "posix":  # elsewhere a process keeps the number of a parent that is gone
        threading.Thread(target=watch, daemon=True).start()


def _bound(*, files: int = 1) -> None:
    """Take little memory and time, and write nothing, where the system can hold one to it."""
    try:
        import resource
    except ImportError:  # not on every system; the time limit of the parent still holds
        return
    for what, most in (
        (resource.RLIMIT_AS, MEMORY_BYTES),
        (resource.RLIMIT_CPU, SECONDS * files),
        (resource.RLIMIT_FSIZE, 0),
    ):
        resource.setrlimit(what, (most, most))


if __name__ == "__main__":
    main(json.loads(sys.argv[1]))
