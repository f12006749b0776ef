"""Files that a visitor can take along, made in memory."""

import tempfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache, partial
from pathlib import Path

from nesting import LayResult, Marker, OrderResult, ShoppingList, draw_marker, draw_true_size
from nesting.answers.order.order_tables import order_csv
from nesting.answers.shopping.shopping_page import shopping_scene
from nesting.answers.shopping.shopping_tables import shopping_csv
from nesting.draw import draw_mark_pages, save_scene
from nesting.draw.papers import PAPERS
from nesting.languages import LANGUAGES, Words, marked, words_of
from nesting.marker.marker_drawing import marker_drawing
from nesting.marker.marker_file import format_marker
from nesting.marker.tape_table import tape_csv
from nesting.web.jobs import Job, OrderJob, Question, Task
from nesting.web.problems import FieldError
from pieces.drawing.drawing_file import format_drawing

CSV = "text/csv; charset=utf-8"
PDF = "application/pdf"


@dataclass(frozen=True)
class FileKind:
    """A file on offer: its kind for browsers, its words for people, and how it is made."""

    kind: str
    words: str
    make: Callable[[LayResult, Words], bytes]


def _drawn(ending: str) -> Callable[[LayResult, Words], bytes]:
    def make(result: LayResult, words: Words) -> bytes:
        draw = partial(
            draw_marker,
            result.marker,
            lower_bound_mm=result.lower_bound.length_mm,
            open_bound_mm=result.open_bound.length_mm,
            words=words,
        )
        return _through_file(f"marker{ending}", draw)

    return make


def _outlines(result: LayResult, _words: Words) -> bytes:
    text = format_drawing(marker_drawing(result.marker), ".dxf", keep_places=True)
    return text.encode("utf-8")


def _through_file(name: str, write: Callable[[Path], object]) -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / name
        write(path)
        return path.read_bytes()


FILES: Mapping[str, FileKind] = {
    "marker.svg": FileKind("image/svg+xml", marked("picture, SVG"), _drawn(".svg")),
    "marker.png": FileKind("image/png", marked("picture, PNG"), _drawn(".png")),
    "marker.pdf": FileKind(PDF, marked("picture to print, PDF"), _drawn(".pdf")),
    "marker.dxf": FileKind("image/vnd.dxf", marked("outlines as they lie, DXF"), _outlines),
    "by-tape.csv": FileKind(
        CSV,
        marked("table to lay by tape measure, CSV"),
        lambda result, _: tape_csv(result.marker).encode("utf-8"),
    ),
    "marker.json": FileKind(
        "application/json",
        marked("marker file, JSON"),
        lambda result, _: format_marker(result.marker).encode("utf-8"),
    ),
}
PAPER_WORDS = {
    "a4": "A4",
    "letter": "Letter",
    "a3": "A3",
    "a0": "A0",
    "36in": marked("roll, 36 in wide"),
}
MARK_PAPERS = {"a4": "A4", "letter": "Letter"}


@lru_cache(maxsize=len(MARK_PAPERS) * len(LANGUAGES))
def marks_pdf(paper: str, language: str) -> bytes:
    """Return pages of marks to lay beside paper pieces.

    Raises
    ------
    PiecesError
        If OpenCV, which knows the marks, is not installed.
    """
    words = words_of(language)
    return _through_file("marks.pdf", lambda path: draw_mark_pages(path, paper=paper, words=words))


def file_of(name: str, task: Task | None, paper: str, words: Words) -> tuple[bytes, str] | None:
    """Return a file and its kind for a task that has come to something, or None.

    Raises
    ------
    FieldError
        If the paper is none of :data:`nesting.draw.papers.PAPERS`.
    NestingError
        If it cannot be made, as when there would be too many pages.
    """
    if isinstance(task, Job) and task.best is not None:
        if name in FILES:
            return FILES[name].make(task.best, words), FILES[name].kind
        if name == "pages.pdf":
            return _pages(task.best.marker, paper, words), PDF
    if isinstance(task, OrderJob) and task.order is not None and name == "order.csv":
        return _order(task.order), CSV
    if isinstance(task, Question) and isinstance(task.answer, ShoppingList):
        return _list(name, task.answer, words)
    return None


def _pages(marker: Marker, paper: str, words: Words) -> bytes:
    if paper not in PAPERS:
        raise FieldError(
            "paper",
            marked('"{typed}" is no paper known here; it is one of {papers}.'),
            typed=paper[:40],
            papers=", ".join(PAPERS),
        )
    return _through_file(
        "pages.pdf", lambda path: draw_true_size(marker, path, paper=paper, words=words)
    )


def _order(order: OrderResult) -> bytes:
    return order_csv(order).encode("utf-8")


def _list(name: str, shopping: ShoppingList, words: Words) -> tuple[bytes, str] | None:
    if name == "list.csv":
        return shopping_csv(shopping).encode("utf-8"), CSV
    if name == "list.pdf":
        scene = shopping_scene(shopping, words)
        return _through_file("list.pdf", lambda path: save_scene(scene, path)), PDF
    return None


def picture_of(marker: Marker, words: Words) -> bytes:
    """Return the picture of a marker as SVG."""
    return _through_file("marker.svg", lambda path: draw_marker(marker, path, words=words))
