"""The charts of a whole catalogue: every pattern sheet of a folder, one after another.

A chart is told in lines of CSV as soon as it is done and then let go, so that the memory in use is
that of one pattern, however many there are. Finished cells are kept in a folder.
"""

import os
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Executor, Future
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from nesting.answers.chart.cells import CellCallback
from nesting.answers.chart.chart import Chart, ChartRequest, make_chart
from nesting.answers.chart.chart_tables import CSV_COLUMNS, csv_lines, foot_words
from nesting.errors import CellFileError, ClusterError, LayStoppedError, NestingError
from pieces.errors import PatternFileError, PiecesError
from pieces.files.csv_text import csv_text
from pieces.finding import Severity
from pieces.measures.units import UnitSystem

CATALOGUE_COLUMNS = ("sheet", "pattern", "cloth", *CSV_COLUMNS, "reason")
FIGURES = (*(name for name in CSV_COLUMNS if name.endswith("_mm")), "utilisation")
"""The columns that hold numbers, or nothing."""

ReadSheet = Callable[[Path], ChartRequest]
"""Reads a sheet and says what to chart of it; raises what is wrong with the sheet."""


@dataclass(frozen=True, kw_only=True)
class CatalogueEntry:
    """What became of one sheet.

    Parameters
    ----------
    sheet
        Name of its file.
    lines
        Its lines of the catalogue as CSV.
    reason
        Why there is no chart; empty if there is one.
    pattern, cloth, views, sizes, units
        What was charted, the units being those of the answers.
    cells, laid, refused
        How many cells the chart has, how many of them were laid just now, how many have no lay.
    shop_lengths_mm
        Least and most to ask for, mm; None if there is no lay.
    has_errors
        Whether the check found a marker that cannot be cut.
    notes
        What the chart rests on, and what looks odd in it.
    """

    sheet: str
    lines: str
    reason: str = ""
    pattern: str = ""
    cloth: str = ""
    views: tuple[str, ...] = ()
    sizes: tuple[str, ...] = ()
    units: UnitSystem = UnitSystem.METRIC
    cells: int = 0
    laid: int = 0
    refused: int = 0
    shop_lengths_mm: tuple[float, float] | None = None
    has_errors: bool = False
    notes: tuple[str, ...] = ()


class _Counted(Executor):
    """Hands work on to another executor, and counts it."""

    def __init__(self, executor: Executor) -> None:
        self._executor = executor
        self.given = 0

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        self.given += 1
        return self._executor.submit(fn, *args, **kwargs)


def sheets_in(folder: Path) -> tuple[Path, ...]:
    """Return the pattern sheets of a folder, in the order of their names.

    Raises
    ------
    OSError
        If it is no folder, or cannot be read.
    """
    found = (path for path in folder.iterdir() if path.suffix.lower() == ".toml")
    return tuple(sorted(path for path in found if path.is_file()))


def chart_sheets(
    sheets: Iterable[Path],
    read: ReadSheet,
    executor: Executor,
    *,
    folder: Path,
    progress: CellCallback | None = None,
) -> Iterator[CatalogueEntry]:
    """Chart sheet after sheet, and yield what became of each.

    Parameters
    ----------
    sheets
        The pattern sheets.
    read
        Says what to chart of a sheet.
    executor
        Lays the cells: see :func:`nesting.answers.chart.cells.lay_cells`.
    folder
        Where finished cells are kept: those that are there are not laid again.
    progress
        Told how many cells of the chart at work are done; a true answer stops the work.

    Raises
    ------
    LayStoppedError
        If ``progress`` asked to stop, or a worker was lost.
    CellFileError
        If a kept cell cannot be read, or a new one not written.
    """
    for sheet in sheets:
        counted = _Counted(executor)
        try:
            _refuse_name(sheet)
            chart = make_chart(read(sheet), executor=counted, folder=folder, progress=progress)
        except (LayStoppedError, CellFileError, ClusterError):
            raise
        except (PiecesError, NestingError, OSError) as problem:
            yield _unread(sheet, problem)
        else:
            yield _entry(sheet.name, chart, counted.given)


def _refuse_name(sheet: Path) -> None:
    """Refuse a file whose name no table in UTF-8 can hold.

    Raises
    ------
    PatternFileError
        If it is so.
    """
    if _as_text(sheet.name) != sheet.name:
        raise PatternFileError("the name of the file is not text in UTF-8; rename it")


def _as_text(name: str) -> str:
    """Return a name with codes for the bytes in it that are no text in UTF-8."""
    return os.fsencode(name).decode("utf-8", "backslashreplace")


def _unread(sheet: Path, problem: Exception) -> CatalogueEntry:
    name, reason = _as_text(sheet.name), _as_text(str(problem).removeprefix(f"{sheet}: "))
    blanks = [""] * (len(CATALOGUE_COLUMNS) - 2)
    return CatalogueEntry(sheet=name, lines=csv_text([(name, *blanks, reason)]), reason=reason)


def _entry(sheet: str, chart: Chart, laid: int) -> CatalogueEntry:
    request, rows = chart.request, chart.all_rows
    name = request.pattern.name
    results = [row.result for row in rows if row.result is not None]
    lengths_mm = [result.shop_length_mm for result in results]
    return CatalogueEntry(
        sheet=sheet,
        lines=csv_text((sheet, name, request.cloth, *line, "") for line in csv_lines(chart)),
        pattern=name,
        cloth=request.cloth,
        views=request.views,
        sizes=request.sizes,
        units=request.bolts[0].units,
        cells=len(rows),
        laid=laid,
        refused=len(rows) - len(results),
        shop_lengths_mm=(min(lengths_mm), max(lengths_mm)) if lengths_mm else None,
        has_errors=any(
            finding.severity is Severity.ERROR for one in results for finding in one.findings
        ),
        notes=foot_words(chart),
    )


def catalogue_csv(entries: Iterable[CatalogueEntry]) -> str:
    """Return all charts as one CSV: a line for each cell, and one for each sheet not read."""
    return csv_text([CATALOGUE_COLUMNS]) + "".join(entry.lines for entry in entries)


def laid_words(entries: Sequence[CatalogueEntry]) -> str:
    """Return how many cells were laid, such as ``"laid 0 of 16 cells, 16 were there"``."""
    laid = sum(entry.laid for entry in entries)
    cells = sum(entry.cells for entry in entries)
    return f"laid {laid} of {cells} cells, {cells - laid} were there"
