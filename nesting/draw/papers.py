"""Sheets of paper a marker can be printed on, and how many it takes."""

import math
from dataclasses import dataclass

from nesting.errors import DrawError
from pieces.measures.paper_sizes import PAPER_SIZES_MM
from pieces.measures.units import MM_PER_INCH

MARGIN_MM = 10.0
OVERLAP_MM = 15.0
LONGEST_PAGE_MM = 5000.0
MOST_PAGES = 2000


@dataclass(frozen=True)
class Paper:
    """A sheet, its longer side along the cloth; of a roll the length is cut to need.

    Parameters
    ----------
    name
        As typed after ``--paper``.
    long_mm, wide_mm
        Extent along and across the cloth, mm; ``long_mm`` is None for a roll.
    """

    name: str
    long_mm: float | None
    wide_mm: float


def _sheet(name: str) -> Paper:
    short_mm, long_mm = PAPER_SIZES_MM[name]
    return Paper(name, long_mm, short_mm)


PAPERS = {
    paper.name: paper
    for paper in (
        *map(_sheet, ("a4", "letter", "a3", "a0")),
        Paper("36in", None, 36.0 * MM_PER_INCH),
    )
}


@dataclass(frozen=True)
class Page:
    """One page of the marker: its window on the cloth.

    Parameters
    ----------
    row, column
        Counted from 0: rows from the lower edge of the cloth up, columns from the cut end.
    x_mm, y_mm
        Lower left corner of the window, mm.
    """

    row: int
    column: int
    x_mm: float
    y_mm: float

    @property
    def name(self) -> str:
        """Row letter and column number, such as ``"B3"``.

        Examples
        --------
        >>> Page(1, 2, 0.0, 0.0).name
        'B3'
        """
        high, low = divmod(self.row, 26)
        letters = (chr(ord("A") + high - 1) if high else "") + chr(ord("A") + low)
        return f"{letters}{self.column + 1}"


@dataclass(frozen=True)
class Grid:
    """How a picture is shared out over pages that overlap.

    Parameters
    ----------
    paper
        The sheet.
    page_mm
        Size of every page, mm: along and across.
    rows, columns
        How many pages there are each way.
    pages
        All of them, row by row.
    """

    paper: Paper
    page_mm: tuple[float, float]
    rows: int
    columns: int
    pages: tuple[Page, ...]

    @property
    def window_mm(self) -> tuple[float, float]:
        """What a page shows: its size less the margins, mm."""
        return self.page_mm[0] - 2.0 * MARGIN_MM, self.page_mm[1] - 2.0 * MARGIN_MM

    @property
    def step_mm(self) -> tuple[float, float]:
        """From one page to the next, mm: the window less the overlap."""
        return self.window_mm[0] - OVERLAP_MM, self.window_mm[1] - OVERLAP_MM


def grid_for(paper: Paper, low_mm: tuple[float, float], high_mm: tuple[float, float]) -> Grid:
    """Return the pages that show everything from ``low_mm`` to ``high_mm``, both (x, y).

    Raises
    ------
    DrawError
        If more than :data:`MOST_PAGES` pages would be needed.

    Examples
    --------
    A window of A4 is 277 x 190 mm and moves on by 262 x 175, so 1000 x 500 mm take 4 x 3 pages:

    >>> grid = grid_for(PAPERS["a4"], (0.0, 0.0), (1000.0, 500.0))
    >>> grid.columns, grid.rows, grid.pages[-1].name
    (4, 3, 'C4')
    """
    long_mm = high_mm[0] - low_mm[0]
    if paper.long_mm is None:
        page = (min(long_mm + 2.0 * MARGIN_MM, LONGEST_PAGE_MM), paper.wide_mm)
    else:
        page = (paper.long_mm, paper.wide_mm)
    columns, rows = (
        _count(high - low, side) for high, low, side in zip(high_mm, low_mm, page, strict=True)
    )
    if columns * rows > MOST_PAGES:
        raise DrawError(
            f"true size takes {columns * rows} pages of {paper.name}, more than {MOST_PAGES}; "
            "choose larger paper, or lay fewer garments"
        )
    step_x, step_y = (side - 2.0 * MARGIN_MM - OVERLAP_MM for side in page)
    pages = tuple(
        Page(row, column, low_mm[0] + column * step_x, low_mm[1] + row * step_y)
        for row in range(rows)
        for column in range(columns)
    )
    return Grid(paper, page, rows, columns, pages)


def _count(extent_mm: float, side_mm: float) -> int:
    window = side_mm - 2.0 * MARGIN_MM
    return max(1, math.ceil((extent_mm - OVERLAP_MM - 1e-6) / (window - OVERLAP_MM)))
