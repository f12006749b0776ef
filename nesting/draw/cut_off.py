"""Acts cut off at a window, so that a page shows its own part of a picture and no more."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from nesting.draw.scene import Act, Area, Arrow, Group, Lines, Pen, Text
from pieces.outline.polygon import FloatArray


@dataclass(frozen=True)
class Window:
    """A rectangle of a picture, mm."""

    x0_mm: float
    y0_mm: float
    x1_mm: float
    y1_mm: float

    def meets(self, points: FloatArray) -> bool:
        """Tell whether the box around points, shape (n, 2), reaches into the window."""
        (low_x, low_y), (high_x, high_y) = points.min(axis=0), points.max(axis=0)
        return bool(
            low_x <= self.x1_mm
            and high_x >= self.x0_mm
            and low_y <= self.y1_mm
            and high_y >= self.y0_mm
        )

    def holds(self, text: Text) -> bool:
        """Tell whether a line of text lies inside altogether."""
        low, high = text.box_mm.min(axis=0), text.box_mm.max(axis=0)
        return bool(
            low[0] >= self.x0_mm
            and low[1] >= self.y0_mm
            and high[0] <= self.x1_mm
            and high[1] <= self.y1_mm
        )


def cut_off(act: Act, window: Window) -> Iterator[Act]:
    """Yield what of an act lies in the window: lines cut off at it, words only if whole.

    Fills and hatching are left out: at true size they would only use up ink.
    """
    match act:
        case Group(name="turned over"):
            return
        case Group():
            inner = tuple(part for one in act.acts for part in cut_off(one, window))
            if inner:
                yield Group(act.name, inner, act.title)
        case Area():
            if act.pen is not None:
                closed = np.vstack((act.outline_mm, act.outline_mm[:1]))
                yield from _lines((closed,), act.pen, window)
        case Lines():
            yield from _lines(act.lines_mm, act.pen, window)
        case Arrow():
            head = np.vstack((act.triangle_mm, act.triangle_mm[:1]))
            yield from _lines((act.shaft_mm, head), act.pen, window)
        case Text():
            if window.holds(act):
                yield act


def _lines(lines: tuple[FloatArray, ...], pen: Pen, window: Window) -> Iterator[Act]:
    kept = []
    for line in lines:
        if not window.meets(line):
            continue
        inside = shapely.clip_by_rect(
            shapely.LineString(line), window.x0_mm, window.y0_mm, window.x1_mm, window.y1_mm
        )
        kept += [
            shapely.get_coordinates(part)
            for part in shapely.get_parts(inside)
            if part.geom_type == "LineString" and part.length > 0.0
        ]
    if kept:
        yield Lines(tuple(kept), pen)
