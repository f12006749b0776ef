"""Files of a marker that a visitor can take along, made in memory."""

import tempfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

from nesting import LayResult, Marker, draw_marker, draw_true_size
from nesting.by_tape import tape_csv
from nesting.marker_file import format_marker


@dataclass(frozen=True)
class FileKind:
    """A file on offer: its kind for browsers, its words for people, and how it is made."""

    kind: str
    words: str
    make: Callable[[LayResult], bytes]


def _drawn(ending: str) -> Callable[[LayResult], bytes]:
    def make(result: LayResult) -> bytes:
        bound_mm = result.lower_bound.length_mm
        return _through_file(
            f"marker{ending}",
            lambda path: draw_marker(result.marker, path, lower_bound_mm=bound_mm),
        )

    return make


def _pages(paper: str) -> Callable[[LayResult], bytes]:
    def make(result: LayResult) -> bytes:
        return _through_file(
            "pages.pdf", lambda path: draw_true_size(result.marker, path, paper=paper)
        )

    return make


def _through_file(name: str, write: Callable[[Path], object]) -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / name
        write(path)
        return path.read_bytes()


FILES: Mapping[str, FileKind] = {
    "marker.svg": FileKind("image/svg+xml", "picture, SVG", _drawn(".svg")),
    "marker.png": FileKind("image/png", "picture, PNG", _drawn(".png")),
    "marker.pdf": FileKind("application/pdf", "picture to print, PDF", _drawn(".pdf")),
    "pages-a4.pdf": FileKind("application/pdf", "true size on A4, PDF", _pages("a4")),
    "pages-letter.pdf": FileKind("application/pdf", "true size on Letter, PDF", _pages("letter")),
    "by-tape.csv": FileKind(
        "text/csv; charset=utf-8",
        "table to lay by tape measure, CSV",
        lambda result: tape_csv(result.marker).encode("utf-8"),
    ),
    "marker.json": FileKind(
        "application/json",
        "marker file, JSON",
        lambda result: format_marker(result.marker).encode("utf-8"),
    ),
}


def file_of(name: str, result: LayResult) -> bytes:
    """Return a file of :data:`FILES` for a result."""
    return FILES[name].make(result)


def picture_of(marker: Marker) -> bytes:
    """Return the picture of a marker as SVG."""
    return _through_file("marker.svg", lambda path: draw_marker(marker, path))
