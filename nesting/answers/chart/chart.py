"""The yardage chart: how much cloth each view and size takes, on every width, with nap and without.

Each cell is a lay of its own, as ``nesting lay`` gives it. Afterwards a marker lawful on freer
cloth is offered to it (:func:`nesting.answers.compare.laws_kept`), so a cell may be shorter than
its own search found, and never longer.
"""

from collections.abc import Mapping
from concurrent.futures import Executor
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

from nesting.answers.chart.cells import CellCallback, cell_pool, lay_cells
from nesting.answers.compare import CompareRow, laws_kept
from nesting.cloth.bolt import Bolt
from nesting.cloth.lay_rules import LayRules
from nesting.errors import LayError
from nesting.lay import LayRequest, SearchOptions
from nesting.marker.cut_list import Selection
from pieces.pattern import Pattern


@dataclass(frozen=True, kw_only=True)
class ChartRequest:
    """Everything that decides a chart.

    Parameters
    ----------
    pattern, cloth
        What is cut.
    views, sizes
        The rows and columns, in the order in which they shall stand.
    bolts
        The cloths: one for each width and nap.
    rules
        How each is spread.
    search
        The search of each cell. One worker a cell makes the best use of many cores.
    """

    pattern: Pattern
    cloth: str
    views: tuple[str, ...]
    sizes: tuple[str, ...]
    bolts: tuple[Bolt, ...]
    rules: LayRules = field(default_factory=LayRules)
    search: SearchOptions = field(default_factory=lambda: SearchOptions(workers=1))

    @property
    def cells(self) -> tuple[tuple[str, str], ...]:
        """View and size of each group of cells, sizes within views."""
        return tuple((view, size) for view in self.views for size in self.sizes)

    def lays(self, view: str, size: str) -> tuple[LayRequest, ...]:
        """Return the lays of one view and size, one for each bolt."""
        lay = partial(
            LayRequest,
            pattern=self.pattern,
            selections=(Selection(view, size),),
            cloth=self.cloth,
            rules=self.rules,
            search=self.search,
        )
        return tuple(lay(bolt=bolt) for bolt in self.bolts)


@dataclass(frozen=True)
class Chart:
    """A finished chart.

    Parameters
    ----------
    request
        What was asked.
    rows
        The cells by view, size and place of the bolt.
    """

    request: ChartRequest
    rows: Mapping[tuple[str, str], tuple[CompareRow, ...]]

    def cell(self, view: str, size: str, bolt: Bolt) -> CompareRow:
        """Return one cell."""
        return self.rows[view, size][self.request.bolts.index(bolt)]

    @property
    def all_rows(self) -> tuple[CompareRow, ...]:
        """Every cell: views, in them sizes, in them bolts."""
        return tuple(row for key in self.request.cells for row in self.rows[key])


def make_chart(
    request: ChartRequest,
    *,
    executor: Executor | None = None,
    workers: int = 2,
    folder: Path | None = None,
    progress: CellCallback | None = None,
) -> Chart:
    """Lay every cell, on all cores, and return the chart.

    Parameters
    ----------
    request
        What to chart.
    executor
        Does the work; processes of this computer if None.
    workers
        How many processes if there is no executor.
    folder
        Where finished cells are kept, so that a run that was stopped goes on where it was, and a
        second run computes nothing. It must exist; None keeps nothing.
    progress
        Told how many cells are done, and of how many; a true answer stops the work.

    Raises
    ------
    LayError
        If there is no view, size or bolt, or a view cuts nothing from this cloth.
    LayStoppedError
        If ``progress`` asked to stop.
    NestingError, PiecesError
        Whatever :func:`nesting.answers.chart.cells.lay_cells` raises.
    """
    _check(request)
    requests = [lay for view, size in request.cells for lay in request.lays(view, size)]
    work = partial(lay_cells, requests, folder=folder, progress=progress)
    if executor is not None:
        laid = work(executor)
    else:
        with cell_pool(workers) as pool:
            laid = work(pool)
    count = len(request.bolts)
    return Chart(
        request,
        {
            key: laws_kept(laid[number * count : (number + 1) * count])
            for number, key in enumerate(request.cells)
        },
    )


def _check(request: ChartRequest) -> None:
    pattern = request.pattern
    for what, given in (
        ("view", request.views),
        ("size", request.sizes),
        ("bolt", request.bolts),
    ):
        if not given:
            raise LayError(f"a chart needs at least one {what}; name one")
        if len(set(given)) < len(given):
            raise LayError(f"a {what} stands twice in the chart; keep one of them")
    for size in request.sizes:
        pattern.size(size)
    for view in request.views:
        if not pattern.pieces_for(view, request.cloth):
            raise LayError(
                f'view {view} of "{pattern.name}" cuts nothing from {request.cloth}; '
                "choose another view or cloth"
            )


def views_cut_from(pattern: Pattern, cloth: str) -> tuple[str, ...]:
    """Return the views that cut something from a cloth, in the order of the sheet."""
    return tuple(view.name for view in pattern.views if pattern.pieces_for(view.name, cloth))
