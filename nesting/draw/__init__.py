"""Pictures of markers: one scene in mm, replayed as PNG, PDF or SVG."""

from collections.abc import Sequence
from pathlib import Path

from nesting.draw.compare_scene import compare_scene
from nesting.draw.marker_scene import marker_scene
from nesting.draw.papers import PAPERS, Paper
from nesting.draw.pattern_scene import pattern_scene
from nesting.draw.scene import Scene
from nesting.draw.true_size import true_size_pages
from nesting.errors import DrawError
from nesting.languages import ENGLISH, Words
from nesting.marker.marker import Marker
from pieces.files.atomic_file import write_bytes_atomically
from pieces.pattern import Pattern

__all__ = [
    "Scene",
    "compare_scene",
    "draw_compare",
    "draw_mark_pages",
    "draw_marker",
    "draw_pattern",
    "draw_true_size",
    "marker_scene",
    "pattern_scene",
    "save_scene",
]

ENDINGS = (".png", ".svg", ".pdf")


def draw_marker(
    marker: Marker,
    path: Path | str,
    *,
    heading: str | None = None,
    lower_bound_mm: float | None = None,
    open_bound_mm: float | None = None,
    words: Words = ENGLISH,
) -> None:
    """Draw a marker to a file; its ending (.png, .svg or .pdf) tells which kind.

    Parameters
    ----------
    marker
        At least one piece placed.
    path
        File to write; its folder must exist.
    heading
        Words at the top; the pattern's name if None.
    lower_bound_mm
        A length that no marker spread this way can beat, mm, if it is known.
    open_bound_mm
        A length that none can beat however it is spread, mm, told of folded cloth.
    words
        Of the language it is written in; see :mod:`nesting.languages`.

    Raises
    ------
    DrawError
        If the ending is unknown or the file cannot be written.
    EmptyMarkerError
        If nothing is placed.
    """
    _ending(path)
    bounds_mm = lower_bound_mm, open_bound_mm
    scene = marker_scene(marker, heading=heading, bounds_mm=bounds_mm, words=words)
    save_scene(scene, path)


def draw_pattern(pattern: Pattern, path: Path | str) -> None:
    """Draw the pieces of a pattern side by side, to check what was read.

    Raises
    ------
    DrawError
        If the ending is unknown or the file cannot be written.
    """
    _ending(path)
    save_scene(pattern_scene(pattern), path)


def draw_mark_pages(path: Path | str, *, paper: str, words: Words = ENGLISH) -> int:
    """Write pages of marks for photographs as a PDF at true size; return how many there are.

    Raises
    ------
    DrawError
        If the paper does not do, the ending is not .pdf or the file cannot be written.
    PiecesError
        If OpenCV, which knows the marks, is not installed.
    """
    printed_on = _paper_for_pdf(paper, path, "marks are")
    from nesting.draw.marks_page import mark_pages  # noqa: PLC0415
    from nesting.draw.writers.matplotlib_writer import pdf_pages_bytes  # noqa: PLC0415

    pages = mark_pages(printed_on, words)
    _write(pdf_pages_bytes(pages), path)
    return len(pages)


def draw_true_size(marker: Marker, path: Path | str, *, paper: str, words: Words = ENGLISH) -> int:
    """Write a marker at true size as a PDF of many pages; return how many there are.

    Parameters
    ----------
    marker
        At least one piece placed.
    path
        File to write, ending in .pdf.
    paper
        A name of :data:`nesting.draw.papers.PAPERS`.
    words
        Of the language they are written in; see :mod:`nesting.languages`.

    Raises
    ------
    DrawError
        If the paper is unknown, the ending is not .pdf, there would be too many pages or the file
        cannot be written.
    EmptyMarkerError
        If nothing is placed.
    """
    printed_on = _paper_for_pdf(paper, path, "true size is")
    pages = true_size_pages(marker, printed_on, words)
    from nesting.draw.writers.matplotlib_writer import pdf_pages_bytes  # noqa: PLC0415

    _write(pdf_pages_bytes(pages), path)
    return len(pages)


def draw_compare(
    entries: Sequence[tuple[str, Marker, float | None]],
    path: Path | str,
    *,
    is_choice: bool = True,
    words: Words = ENGLISH,
) -> None:
    """Draw several markers at one scale; entries are heading, marker and lower bound in mm.

    With ``is_choice`` bars compare the lengths, since one of the cloths is to be chosen.

    Raises
    ------
    DrawError
        If there is no entry, the ending is unknown or the file cannot be written.
    EmptyMarkerError
        If a marker has nothing placed.
    """
    _ending(path)
    save_scene(compare_scene(entries, is_choice=is_choice, words=words), path)


def save_scene(scene: Scene, path: Path | str) -> None:
    """Write a scene to a file whose ending picks the writer.

    Raises
    ------
    DrawError
        If the ending is unknown or the file cannot be written.
    """
    _write(_bytes(scene, _ending(path)), path)


def _paper_for_pdf(paper: str, path: Path | str, what: str) -> Paper:
    """Return the paper of that name; refuse one that is unknown, and a file that is no PDF."""
    if paper not in PAPERS:
        raise DrawError(f'paper "{paper}" is not known; it is one of {", ".join(PAPERS)}')
    if Path(path).suffix.lower() != ".pdf":
        raise DrawError(f'{what} written as a PDF; give a name ending in .pdf, not "{path}"')
    return PAPERS[paper]


def _write(data: bytes, path: Path | str) -> None:
    try:
        write_bytes_atomically(path, data)
    except OSError as error:
        raise DrawError(
            f'cannot write the picture "{path}": {error.strerror or error}; '
            "choose a folder that exists and may be written"
        ) from error


def _ending(path: Path | str) -> str:
    ending = Path(path).suffix.lower()
    if ending not in ENDINGS:
        told = f'the ending "{ending}"' if ending else "no ending"
        raise DrawError(
            f'picture "{path}" has {told}, which no writer knows; use {", ".join(ENDINGS)}'
        )
    return ending


def _bytes(scene: Scene, ending: str) -> bytes:
    """Return the file; matplotlib is loaded only when a PNG or PDF is written."""
    if ending == ".svg":
        from nesting.draw.writers.svg_writer import svg_text  # noqa: PLC0415

        return svg_text(scene).encode("utf-8")
    from nesting.draw.writers import matplotlib_writer  # noqa: PLC0415

    if ending == ".png":
        return matplotlib_writer.png_bytes(scene)
    return matplotlib_writer.pdf_bytes(scene)
