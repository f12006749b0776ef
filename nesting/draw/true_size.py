"""A marker at true size, page by page, with what is needed to join the pages."""

from collections.abc import Iterator
from dataclasses import dataclass

import shapely

from nesting.draw.cloth_frame import ClothFrame
from nesting.draw.cover_page import cover_page
from nesting.draw.cut_off import Window, cut_off
from nesting.draw.marker_body import marker_body
from nesting.draw.papers import MARGIN_MM, OVERLAP_MM, Grid, Page, Paper, grid_for
from nesting.draw.scene import (
    Act,
    Anchor,
    Area,
    Group,
    Lines,
    Pen,
    Scene,
    Text,
    cross,
    diamond,
    line,
    moved,
    rectangle,
    shrunk,
    walk,
)
from nesting.draw.style import CUT, INK, RULE, Look
from nesting.draw.words import selection_words
from nesting.languages import ENGLISH, Words
from nesting.marker.marker import Marker
from pieces.outline.polygon import FloatArray

TYPE_MM = 5.0
LEAST_NAMED_MM2 = 1500.0
_THIN = Pen(RULE, 0.25)
_DASHED = Pen(RULE, 0.25, (2.0, 1.5))
_JOIN = Pen(INK, 0.35)
_SMALL_MM = 3.2


def true_size_pages(marker: Marker, paper: Paper, words: Words = ENGLISH) -> tuple[Scene, ...]:
    """Return a cover, and every page of the marker on which there is something to cut.

    Parameters
    ----------
    marker
        At least one piece placed.
    paper
        One of :data:`nesting.draw.papers.PAPERS`.
    words
        Of the language they are written in.

    Returns
    -------
    tuple of Scene
        1 mm of the scene is 1 mm on paper. The cover shows test squares and how pages join.

    Raises
    ------
    EmptyMarkerError
        If nothing is placed.
    DrawError
        If there would be too many pages.
    """
    frame = ClothFrame(marker)
    acts = _content(frame, words)
    grid = grid_for(paper, (0.0, frame.bottom_mm), (marker.length_mm, frame.top_mm))
    shown = {page: _window(page, grid) for page in grid.pages}
    used = tuple(page for page in grid.pages if _has_pieces(acts, shown[page]))
    title = f"{marker.pattern}: {selection_words(marker, words)}, {marker.cloth}"
    pages = tuple(
        _page(acts, page, grid, used, _Foot(title, number, len(used), words))
        for number, page in enumerate(used, start=1)
    )
    return (cover_page(title, acts, grid, used, words), *pages)


@dataclass(frozen=True)
class _Foot:
    """What the foot of a page says, its own name apart."""

    title: str
    number: int
    of: int
    words: Words

    def line(self, page: Page) -> str:
        """Return the line below a page."""
        return "  |  ".join(
            (
                page.name,
                self.title,
                self.words.say("page {number} of {count}", number=self.number, count=self.of),
                self.words.say("true size: print at 100 %, no fitting to the page"),
            )
        )


def _content(frame: ClothFrame, words: Words) -> tuple[Group, ...]:
    """Return the pieces, one group each, and the edges of the cloth as a last group."""
    body = marker_body(frame, Look(TYPE_MM, words))
    pieces = next(act for act in body.acts if isinstance(act, Group) and act.name == "pieces")
    low, high = frame.bottom_mm, frame.top_mm
    end = frame.marker.length_mm
    edges = tuple(
        line(start, stop)
        for start, stop in (
            ((0.0, low), (0.0, high)),
            ((end, low), (end, high)),
            ((0.0, low), (end, low)),
            ((0.0, high), (end, high)),
        )
    )
    groups = tuple(act for act in pieces.acts if isinstance(act, Group))
    return (*groups, Group("cloth edges", (Lines(edges, Pen(CUT, 0.3, (4.0, 2.0))),)))


def _window(page: Page, grid: Grid) -> Window:
    wide, high = grid.window_mm
    return Window(page.x_mm, page.y_mm, page.x_mm + wide, page.y_mm + high)


def _has_pieces(acts: tuple[Group, ...], window: Window) -> bool:
    return any(
        next(cut_off(group, window), None) is not None for group in acts if group.name == "piece"
    )


def _page(
    acts: tuple[Group, ...], page: Page, grid: Grid, used: tuple[Page, ...], foot: _Foot
) -> Scene:
    """Return one page: its part of the marker, its frame, joining marks and name."""
    window = _window(page, grid)
    parts = [part for group in acts for part in _part(group, window)]
    shift = MARGIN_MM - page.x_mm, MARGIN_MM - page.y_mm
    wide, high = grid.page_mm
    line_below = Text(foot.line(page), (MARGIN_MM, 0.35 * MARGIN_MM), _SMALL_MM, INK)
    return Scene(
        width_mm=wide,
        height_mm=high,
        acts=(
            *(moved(part, *shift) for part in parts),
            *_frame(grid),
            *_joins(page, grid, used),
            shrunk(line_below, wide - 2.0 * MARGIN_MM),
        ),
        title=f"{page.name}: {foot.title}",
        description=foot.words.say("One page of a cutting layout at true size."),
    )


def _part(group: Group, window: Window) -> Iterator[Act]:
    """Yield what of a piece a page shows, with its name anew where its label is not on the page."""
    parts = tuple(cut_off(group, window))
    yield from parts
    if not parts or group.name != "piece":
        return
    if any(isinstance(act, Text) and len(act.words) > 1 for _, act in walk(parts)):
        return
    outline = next(act.outline_mm for _, act in walk(group.acts) if isinstance(act, Area))
    spot = _spot(outline, window)
    if spot is not None:
        yield Text(group.title, spot, _SMALL_MM, INK, anchor=Anchor.MIDDLE)


def _spot(outline: FloatArray, window: Window) -> tuple[float, float] | None:
    """Return a point of an outline well inside the window, or None if too little of it shows."""
    inside = shapely.clip_by_rect(
        shapely.Polygon(outline), window.x0_mm, window.y0_mm, window.x1_mm, window.y1_mm
    )
    if inside.area < LEAST_NAMED_MM2:
        return None
    point = shapely.maximum_inscribed_circle(inside).coords[0]
    return float(point[0]), float(point[1])


def _frame(grid: Grid) -> tuple[Act, ...]:
    """Return the edge of the window, and the lines up to which the next pages are glued on."""
    wide, high = grid.window_mm
    low, right, top = MARGIN_MM, MARGIN_MM + wide, MARGIN_MM + high
    box = rectangle(low, low, right, top)
    glue_x, glue_y = right - OVERLAP_MM, top - OVERLAP_MM
    return (
        Area(box, pen=_THIN),
        Lines((line((glue_x, low), (glue_x, top)), line((low, glue_y), (right, glue_y))), _DASHED),
    )


def _joins(page: Page, grid: Grid, used: tuple[Page, ...]) -> tuple[Act, ...]:
    """Return a diamond where two pages meet; those of neighbours come to lie on one another."""
    there = {(other.row, other.column): other.name for other in used}
    wide, high = grid.window_mm
    step_x, step_y = grid.step_mm
    acts: list[Act] = []
    for row, column, x, y in (
        (page.row, page.column - 1, 0.0, high / 2.0),
        (page.row, page.column + 1, step_x, high / 2.0),
        (page.row - 1, page.column, wide / 2.0, 0.0),
        (page.row + 1, page.column, wide / 2.0, step_y),
    ):
        if (row, column) not in there:
            continue
        names = sorted((page.name, there[row, column]))
        acts += _diamond(MARGIN_MM + x, MARGIN_MM + y, " + ".join(names))
    return tuple(acts)


def _diamond(x: float, y: float, words: str) -> tuple[Act, ...]:
    reach = 5.0
    label = Text(words, (x, y + reach + 1.0), 2.6, INK, anchor=Anchor.MIDDLE)
    edge = Area(diamond((x, y), reach), pen=_JOIN)
    return edge, Lines(cross((x, y), reach), Pen(INK, 0.15)), label
