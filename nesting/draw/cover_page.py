"""The cover of a marker at true size: test squares, how the pages join, what to do."""

from collections.abc import Callable

import numpy as np

from nesting.draw.papers import MARGIN_MM, OVERLAP_MM, Grid, Page
from nesting.draw.scene import (
    Act,
    Anchor,
    Area,
    Group,
    Pen,
    Scene,
    Text,
    moved,
    rectangle,
    scaled,
    shrunk,
    walk,
)
from nesting.draw.style import CUT, INK, SOFT_INK, SPARE
from nesting.languages import ENGLISH, Words, marked
from pieces.measures.units import MM_PER_INCH

SQUARE_MM = 100.0
SQUARE_IN_MM = 4.0 * MM_PER_INCH
_PEN = Pen(INK, 0.3)
_TITLE_MM, _WORDS_MM = 5.5, 3.4
_STEPS = (
    marked("1. Print at 100 %, or 'actual size'. Leave any 'fit to page' off."),
    marked("2. Measure the two squares below. If they are off, do not cut: set the printer right."),
    marked("3. Cut or fold each page at its left and lower frame line."),
    marked("4. Glue it on its neighbour up to the dashed line, {overlap} mm in; diamonds meet."),
    marked(
        "5. Measure the first and last page again when all are joined, then lay it on the cloth."
    ),
    marked("Scissors, cutters and pins are sharp: cut away from your fingers."),
)


def cover_page(
    title: str,
    acts: tuple[Group, ...],
    grid: Grid,
    used: tuple[Page, ...],
    words: Words = ENGLISH,
) -> Scene:
    """Return the cover: steps at the top, squares on the left, the map of pages beside them."""
    wide, high = grid.page_mm
    top = high - MARGIN_MM - _TITLE_MM
    room = wide - 2.0 * MARGIN_MM
    told = [shrunk(Text(title, (MARGIN_MM, top), _TITLE_MM, INK, bold=True), room)]
    for number, step in enumerate(_STEPS, start=1):
        at = (MARGIN_MM, top - 3.0 - number * 1.6 * _WORDS_MM)
        text = Text(words.say(step, overlap=f"{OVERLAP_MM:g}"), at, _WORDS_MM, INK)
        told.append(shrunk(text, room))
    room_top = top - 3.0 - (len(_STEPS) + 2) * 1.6 * _WORDS_MM
    left = MARGIN_MM + SQUARE_IN_MM + 12.0
    return Scene(
        width_mm=wide,
        height_mm=high,
        acts=(
            *told,
            *_squares(room_top, words),
            *_map(acts, grid, used, (left, MARGIN_MM, wide - MARGIN_MM, room_top)),
        ),
        title=title,
        description=words.say(
            "Test squares and a map of the pages of a cutting layout at true size."
        ),
    )


def _squares(top: float, words: Words) -> tuple[Act, ...]:
    """Return a square of 100 mm in one of 4 inches, sharing their lower left corner."""
    x, y = MARGIN_MM, top - SQUARE_IN_MM

    def box(side: float) -> Area:
        return Area(rectangle(x, y, x + side, y + side), pen=_PEN)

    middle = x + SQUARE_MM / 2.0
    return (
        Group("test square, 4 in", (box(SQUARE_IN_MM),)),
        Group("test square, 100 mm", (box(SQUARE_MM),)),
        *(
            Text(words.say(told), (middle, y + above), size, colour, anchor=Anchor.MIDDLE)
            for told, above, size, colour in (
                (marked("inner square: 100 mm"), 54.0, 4.0, INK),
                (marked("outer square: 4 in"), 46.0, 4.0, INK),
                (marked("measure both ways"), 36.0, 3.2, SOFT_INK),
            )
        ),
    )


def _map(
    acts: tuple[Group, ...],
    grid: Grid,
    used: tuple[Page, ...],
    room: tuple[float, float, float, float],
) -> tuple[Act, ...]:
    """Return the whole marker small, with the page that each part is on."""
    first, last = grid.pages[0], grid.pages[-1]
    extent = np.array([last.x_mm - first.x_mm, last.y_mm - first.y_mm]) + grid.window_mm
    share = min((room[2] - room[0]) / extent[0], (room[3] - room[1]) / extent[1])
    left, low = room[0], room[3] - share * extent[1]

    def put(act: Act) -> Act:
        return moved(scaled(moved(act, -first.x_mm, -first.y_mm), share), left, low)

    outlines = tuple(
        put(Area(area.outline_mm, fill=SPARE, pen=Pen(SOFT_INK, 0.2 / share)))
        for group in acts
        if group.name == "piece"
        for area in [next(act for _, act in walk(group.acts) if isinstance(act, Area))]
    )
    return (*outlines, *(act for page in used for act in _cell(page, grid, share, put)))


def _cell(page: Page, grid: Grid, share: float, put: Callable[[Act], Act]) -> tuple[Act, ...]:
    """Return the frame of one page on the map, without its overlap, and its name."""
    wide, high = grid.step_mm
    x, y = page.x_mm, page.y_mm
    box = rectangle(x, y, x + wide, y + high)
    size = min(4.0 / share, 0.4 * high, 0.3 * wide)
    at = (x + wide / 2.0, y + high / 2.0 - 0.3 * size)
    return (
        put(Area(box, pen=Pen(CUT, 0.25 / share))),
        put(Text(page.name, at, size, CUT, bold=True, anchor=Anchor.MIDDLE)),
    )
