"""Replay a scene as PNG or PDF through matplotlib, without pyplot and without global state.

The same scene gives the same bytes: nothing in the file tells when it was written.
"""

import contextlib
import io
import warnings
from collections.abc import Iterator, Sequence
from typing import Literal

import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.backends.backend_pdf import FigureCanvasPdf, PdfPages
from matplotlib.collections import LineCollection
from matplotlib.figure import Figure
from matplotlib.patches import Polygon
from matplotlib.text import Text as Words
from PIL import Image
from PIL.PngImagePlugin import PngInfo

from nesting.draw.scene import Act, Anchor, Area, Arrow, Group, Lines, Pen, Scene, Text, walk
from pieces.measures.paper_sizes import PAPER_SIZES_MM
from pieces.measures.units import MM_PER_INCH

PIXELS_PER_MM = 1.65
LEAST_PIXELS, MOST_PIXELS = 1600, 3600
LEAST_TEXT_PIXELS, MOST_FOR_TEXT_PIXELS = 14.0, 6000
_COLOURS = 256
_PNG_DPI = 144.0
_POINTS_PER_INCH = 72.0
PDF_SCALES = (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100, 200, 500, 1000)
_PDF_SHORT_MM, _PDF_LONG_MM = PAPER_SIZES_MM["a3"]
_ALIGNED: dict[Anchor, Literal["left", "center", "right"]] = {
    Anchor.START: "left",
    Anchor.MIDDLE: "center",
    Anchor.END: "right",
}


def png_bytes(scene: Scene) -> bytes:
    """Return the scene as a PNG of 256 colours, its longer side 1600 to 3600 pixels.

    It has more pixels, up to 6000, if its smallest words could not be read otherwise.
    """
    longer = max(scene.width_mm, scene.height_mm)
    figure = _figure(scene, _pixels(scene, longer) / longer / _PNG_DPI)
    canvas = FigureCanvasAgg(figure)
    with _any_letters():
        canvas.draw()  # type: ignore[no-untyped-call]
    pixels = np.asarray(canvas.buffer_rgba())  # type: ignore[no-untyped-call]
    painted = Image.fromarray(np.ascontiguousarray(pixels[:, :, :3]))
    few = painted.quantize(_COLOURS, Image.Quantize.MEDIANCUT, dither=Image.Dither.NONE)
    told = PngInfo()
    told.add_itxt("Title", scene.title.encode("utf-8", "replace").decode("utf-8"))
    stream = io.BytesIO()
    few.save(stream, "PNG", dpi=(_PNG_DPI, _PNG_DPI), pnginfo=told)
    return stream.getvalue()


def _pixels(scene: Scene, longer_mm: float) -> float:
    """Return how many pixels the longer side needs."""
    pixels = min(max(PIXELS_PER_MM * longer_mm, LEAST_PIXELS), MOST_PIXELS)
    sizes_mm = [act.height_mm for _, act in walk(scene.acts) if isinstance(act, Text)]
    least_mm = min(sizes_mm, default=longer_mm)
    return max(pixels, min(LEAST_TEXT_PIXELS / least_mm * longer_mm, MOST_FOR_TEXT_PIXELS))


def pdf_bytes(scene: Scene) -> bytes:
    """Return the scene as a PDF page at a round scale, such as 1:5, at most A3 large."""
    figure = _figure(scene, 1.0 / pdf_scale(scene) / MM_PER_INCH)
    FigureCanvasPdf(figure)
    told = {
        "Title": scene.title,
        "Subject": scene.description,
        "Creator": None,
        "Producer": None,
        "CreationDate": None,
    }
    stream = io.BytesIO()
    with _any_letters():
        figure.savefig(stream, format="pdf", metadata=told, facecolor="auto")
    return stream.getvalue()


def pdf_pages_bytes(scenes: Sequence[Scene]) -> bytes:
    """Return the scenes as the pages of one PDF at true size: 1 mm of a scene is 1 mm of paper."""
    told = {"Title": scenes[0].title, "Creator": None, "Producer": None, "CreationDate": None}
    stream = io.BytesIO()
    with PdfPages(stream, metadata=told) as pages, _any_letters():
        for scene in scenes:
            figure = _figure(scene, 1.0 / MM_PER_INCH)
            FigureCanvasPdf(figure)
            pages.savefig(figure, facecolor="auto")
    return stream.getvalue()


def pdf_scale(scene: Scene) -> int:
    """Return by how many times the PDF page is smaller than the scene: the first that fits."""
    longer, shorter = sorted((scene.width_mm, scene.height_mm), reverse=True)
    needed = max(longer / _PDF_LONG_MM, shorter / _PDF_SHORT_MM)
    return next((scale for scale in PDF_SCALES if scale >= needed), PDF_SCALES[-1])


def _figure(scene: Scene, inches_per_mm: float) -> Figure:
    """Return a figure of the scene's size on which every act is drawn."""
    size = (scene.width_mm * inches_per_mm, scene.height_mm * inches_per_mm)
    figure = Figure(figsize=size, dpi=_PNG_DPI, facecolor=scene.paper)
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    axes.set_axis_off()
    axes.set_xlim(0.0, scene.width_mm)
    axes.set_ylim(0.0, scene.height_mm)
    painter = _Painter(inches_per_mm * _POINTS_PER_INCH)
    for act in scene.acts:
        for artist in painter.artists(act):
            axes.add_artist(artist)
    return figure


class _Painter:
    """Turns acts into artists, each painted over the one before."""

    def __init__(self, points_per_mm: float) -> None:
        self._scale = points_per_mm
        self._painted = 0

    def artists(self, act: Act) -> list[Polygon | LineCollection | Words]:
        """Return the artists of one act in order of painting."""
        match act:
            case Group():
                return [artist for inner in act.acts for artist in self.artists(inner)]
            case Area():
                return [self._area(act)]
            case Lines():
                return [self._lines(act)]
            case Arrow():
                shaft = Lines((act.shaft_mm,), act.pen)
                return [self._lines(shaft), self._area(Area(act.triangle_mm, act.pen.colour))]
            case Text():
                return [self._words(act)]

    def _order(self) -> float:
        self._painted += 1
        return 1.0 + self._painted * 1e-3

    def _dash(self, pen: Pen) -> tuple[float, tuple[float, ...] | None]:
        """Return the dash pattern in widths of the line, as matplotlib wants it."""
        width = pen.width_mm * self._scale
        return 0.0, tuple(step * self._scale / width for step in pen.dash_mm) or None

    def _area(self, area: Area) -> Polygon:
        pen = area.pen
        return Polygon(
            area.outline_mm,
            closed=True,
            facecolor=area.fill or "none",
            edgecolor="none" if pen is None else pen.colour,
            linewidth=0.0 if pen is None else pen.width_mm * self._scale,
            joinstyle="round",
            zorder=self._order(),
        )

    def _lines(self, act: Lines) -> LineCollection:
        return LineCollection(
            list(act.lines_mm),
            colors=act.pen.colour,
            linewidths=act.pen.width_mm * self._scale,
            linestyles=[self._dash(act.pen)],
            capstyle="butt",
            zorder=self._order(),
        )

    def _words(self, text: Text) -> Words:
        return Words(
            *text.at_mm,
            text.words,
            color=text.colour,
            fontsize=text.height_mm * self._scale,
            fontfamily="DejaVu Sans",
            fontweight="bold" if text.bold else "normal",
            rotation=text.turn_deg,
            rotation_mode="anchor",
            horizontalalignment=_ALIGNED[text.anchor],
            verticalalignment="baseline",
            parse_math=False,
            zorder=self._order(),
        )


@contextlib.contextmanager
def _any_letters() -> Iterator[None]:
    """Draw a character the typeface lacks as a box, which needs no warning."""
    with warnings.catch_warnings():
        warnings.filterwarnings("ignore", message="Glyph .* missing from", category=UserWarning)
        yield
