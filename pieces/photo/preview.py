"""The photographs with what was found drawn over them, to be looked at before anything is cut."""

import io
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from PIL import Image, ImageDraw, ImageFont

from pieces.outline.polygon import FloatArray
from pieces.photo.plane import Plane
from pieces.photo.reading import Photo

LONGEST_PX = 1800
_EDGE, _GRAIN, _SHEET = "#D55E00", "#0072B2", "#009E73"
_FINE = 2


@dataclass(frozen=True, eq=False)
class Found:
    """One piece as it is drawn: its words, outline (n, 2) and grainline (2, 2), tail first, mm."""

    words: tuple[str, ...]
    outline_mm: FloatArray
    grainline_mm: FloatArray


def preview_png(
    views: Sequence[tuple[Photo, Plane]],
    found: Sequence[Found],
    sheets_mm: Sequence[FloatArray],
    words: str,
) -> bytes:
    """Return a PNG: the photographs side by side, pieces and sheets outlined over them.

    Parameters
    ----------
    views
        Photographs, and how each shows the floor.
    found
        The pieces.
    sheets_mm
        Corners of the sheets.
    words
        One line below.
    """
    pictures = [_view(photo, plane, found, sheets_mm) for photo, plane in views]
    high = min(picture.height for picture in pictures)
    level = [one.resize((round(one.width * high / one.height), high)) for one in pictures]
    gap, foot = 12, 44
    wide = sum(one.width for one in level) + gap * (len(level) - 1)
    sheet = Image.new("RGB", (wide, high + foot), "#FFFDF8")
    x = 0
    for one in level:
        sheet.paste(one, (x, 0))
        x += one.width + gap
    size = 22.0
    pen = ImageDraw.Draw(sheet)
    size = min(
        size, size * (wide - 20) / max(pen.textlength(words, ImageFont.load_default(size)), 1)
    )
    pen.text((10, high + 8), words, "#2A2522", ImageFont.load_default(max(size, 8.0)))
    stream = io.BytesIO()
    sheet.save(stream, "PNG", compress_level=4)
    return stream.getvalue()


def _view(
    photo: Photo, plane: Plane, found: Sequence[Found], sheets_mm: Sequence[FloatArray]
) -> Image.Image:
    wide, high = photo.size_px
    share = min(1.0, LONGEST_PX / max(wide, high))
    size = max(1, round(wide * share)), max(1, round(high * share))
    picture = Image.fromarray(photo.pixels).resize(
        (size[0] * _FINE, size[1] * _FINE), Image.Resampling.BOX if share < 0.5 else None
    )
    pen = ImageDraw.Draw(picture)
    unit = max(size) * _FINE / 900.0

    def on(at_mm: FloatArray) -> list[tuple[float, float]]:
        at = (plane.to_px(at_mm) + 0.5) * share * _FINE
        return [(float(x), float(y)) for x, y in at]

    for corners in sheets_mm:
        _line(pen, on(np.concatenate((corners, corners[:1]))), _SHEET, 1.6 * unit)
    for piece in found:
        ring = np.concatenate((piece.outline_mm, piece.outline_mm[:1]))
        _line(pen, on(ring), _EDGE, 2.0 * unit)
    for piece in found:
        _arrow(pen, np.array(on(piece.grainline_mm)), unit)
    for piece in found:
        outline, arrow = np.array(on(piece.outline_mm)), np.array(on(piece.grainline_mm))
        _words(pen, piece.words, _label_at(outline, arrow, 15.0 * unit), 15.0 * unit)
    return picture.resize(size, Image.Resampling.LANCZOS)


def _line(
    pen: ImageDraw.ImageDraw, at: list[tuple[float, float]], colour: str, width: float
) -> None:
    pen.line(at, "#FFFFFF", round(2.0 * width), "curve")
    pen.line(at, colour, max(1, round(width)), "curve")


def _arrow(pen: ImageDraw.ImageDraw, ends: FloatArray, unit: float) -> None:
    tail, tip = ends
    along = (tip - tail) / max(float(np.linalg.norm(tip - tail)), 1e-6)
    across = np.array([-along[1], along[0]])
    back = tip - along * 12.0 * unit
    _line(pen, [tuple(tail), tuple(back)], _GRAIN, 2.0 * unit)
    head = [tuple(tip), tuple(back + 5.0 * unit * across), tuple(back - 5.0 * unit * across)]
    pen.polygon(head, _GRAIN, "#FFFFFF", max(1, round(0.8 * unit)))


def _label_at(outline: FloatArray, arrow: FloatArray, size: float) -> FloatArray:
    """Return where the words stand: on the lower part of the arrow, or below a small piece."""
    low, high = outline.min(axis=0), outline.max(axis=0)
    if np.linalg.norm(arrow[1] - arrow[0]) < 5.0 * size or high[0] - low[0] < 9.0 * size:
        return np.array([0.5 * (low[0] + high[0]), high[1] + 2.0 * size])
    at: FloatArray = arrow[0] + 0.3 * (arrow[1] - arrow[0])
    return at


def _words(
    pen: ImageDraw.ImageDraw, words: tuple[str, ...], middle: FloatArray, size: float
) -> None:
    font = ImageFont.load_default(size)
    text = "\n".join("".join(c if c.isprintable() else " " for c in line) for line in words)
    at = (float(middle[0]), float(middle[1]))
    left, top, right, low = pen.multiline_textbbox(at, text, font, "mm", align="center")
    room = 0.35 * size
    box = (left - room, top - room, right + room, low + room)
    pen.rounded_rectangle(box, room, "#FFFDF8", _EDGE, max(1, round(size / 14.0)))
    pen.multiline_text(at, text, "#2A2522", font, "mm", align="center")
