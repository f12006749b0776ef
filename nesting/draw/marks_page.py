"""Pages of marks to lay beside paper pieces before they are photographed."""

import numpy as np
import shapely

from nesting.draw.papers import Paper
from nesting.draw.scene import Act, Anchor, Area, Lines, Pen, Scene, Text, line
from nesting.draw.style import INK
from nesting.errors import DrawError
from nesting.languages import ENGLISH, Words, marked
from pieces.outline.polygon import FloatArray
from pieces.photo.marks import mark_cells
from pieces.photo.sheets import (
    MARK_CELLS,
    MARKS_HIGH_MM,
    MARKS_ON_PAGE,
    MARKS_WIDE_MM,
    PAGES,
    mark_corners_mm,
)

_BLACK, _WHITE = "#000000", "#FFFFFF"
_RULE_MM = 100.0
_STEPS = (
    marked("Print at 100 % (actual size), in black, on white paper."),
    marked("The line above must be 100 mm long; if it is not, set the printer right."),
    marked("Lay two pages or more flat among the pieces, at the corners of what you photograph."),
    marked("No two with the same letter. Leave floor around each, and cover no mark."),
)


def mark_pages(paper: Paper, words: Words = ENGLISH) -> tuple[Scene, ...]:
    """Return the pages of marks, each with its own letter, at true size.

    Raises
    ------
    DrawError
        If the marks do not fit on the paper.
    PiecesError
        If OpenCV, which knows the marks, is not installed.
    """
    wide, high = paper.wide_mm, paper.long_mm
    if high is None or wide < MARKS_WIDE_MM + 20.0 or high < MARKS_HIGH_MM + 20.0 or wide > 220.0:
        raise DrawError(f"marks are printed on a4 or letter, not on {paper.name}")
    return tuple(_page(page, wide, high, words) for page in range(PAGES))


def _page(page: int, wide: float, high: float, words: Words) -> Scene:
    middle = np.array([wide, high]) / 2.0
    x, y = middle.tolist()
    letter = chr(ord("A") + page)
    acts: list[Act] = [act for place in range(MARKS_ON_PAGE) for act in _mark(page, place, middle)]
    acts.append(Text(letter, (x, y + 22.0), 42.0, INK, bold=True, anchor=Anchor.MIDDLE))
    acts += _ruler(x, y + 4.0)
    for number, step in enumerate(_STEPS):
        at = (x, y - 12.0 - 6.0 * number)
        acts.append(Text(words.say(step), at, 3.6, INK, anchor=Anchor.MIDDLE))
    return Scene(
        width_mm=wide,
        height_mm=high,
        acts=tuple(acts),
        title=words.say("Marks, page {letter}", letter=letter),
        description=words.say(
            "Four square marks of known size for a photograph of pattern pieces."
        ),
        paper=_WHITE,
    )


def _mark(page: int, place: int, middle: FloatArray) -> list[Act]:
    """Return a black square, and on it what is white, the largest first."""
    corners = mark_corners_mm(place) + middle
    cell = (corners[1, 0] - corners[0, 0]) / MARK_CELLS
    boxes = [
        shapely.box(
            corners[0, 0] + column * cell,
            corners[0, 1] - (row + 1) * cell,
            corners[0, 0] + (column + 1) * cell,
            corners[0, 1] - row * cell,
        )
        for row, column in np.argwhere(~mark_cells(page, place))
    ]
    white = shapely.get_parts(shapely.union_all(boxes, grid_size=1e-6))
    rings = [(part.exterior, _WHITE) for part in white]
    rings += [(hole, _BLACK) for part in white for hole in part.interiors]
    rings.sort(key=lambda one: -shapely.Polygon(one[0]).area)
    painted = [Area(shapely.get_coordinates(ring)[:-1], colour) for ring, colour in rings]
    return [Area(corners, _BLACK), *painted]


def _ruler(x: float, y: float) -> list[Act]:
    left, right = x - _RULE_MM / 2.0, x + _RULE_MM / 2.0
    strokes = (
        line((left, y), (right, y)),
        line((left, y - 2.5), (left, y + 2.5)),
        line((right, y - 2.5), (right, y + 2.5)),
    )
    words = Text("100 mm", (x, y + 2.0), 4.0, INK, anchor=Anchor.MIDDLE)
    return [Lines(strokes, Pen(INK, 0.3)), words]
