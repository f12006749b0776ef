"""``nesting catalogue``: the yardage charts of every pattern sheet in a folder."""

# ruff: noqa: PLC0415 - numba and shapely load only when there is something to lay
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from nesting.cli.chart_asking import (
    USUAL_WIDTHS,
    cell_executor,
    cells_folder,
    chart_request,
    check_cluster,
    telling_what_is_kept,
)
from nesting.cli.chart_options import CatalogueTyped
from nesting.cli.options import Effort, OptionError, takes
from nesting.cli.outputs import Writer, check_outputs, write_together
from pieces.measures.units import UnitSystem

if TYPE_CHECKING:
    from nesting.answers.chart.catalogue import CatalogueEntry
    from nesting.answers.chart.chart import ChartRequest


@takes(CatalogueTyped)
def catalogue_command(typed: CatalogueTyped) -> int:
    """Chart every pattern sheet of a folder: one table for a spreadsheet, and a page to look at."""
    check_outputs(
        typed,
        {"out": (".csv", ".parquet")},
        derived=[("--out", _page_of(typed.out))],
        read=typed.folder.glob("*.toml"),
    )
    check_cluster(typed)
    if _is_parquet(typed.out):
        from nesting.answers.chart.parquet import check_parquet

        check_parquet()
    from nesting.answers.chart.catalogue import chart_sheets, laid_words
    from nesting.cli import report
    from nesting.cli.progress import watching_cells

    sheets = _sheets(typed)
    _check_cloth(typed)
    folder = cells_folder(typed, typed.out)
    assert folder is not None, "there is always a file to write"
    only_fills = typed.effort is Effort.QUICK
    with (
        telling_what_is_kept(folder),
        watching_cells(quiet=typed.json, only_fills=only_fills) as watch,
        cell_executor(typed) as executor,
    ):
        read = partial(_request, typed)
        entries = list(chart_sheets(sheets, read, executor, folder=folder, progress=watch.cells))
    for entry in entries:
        if entry.reason:
            report.say(f"{entry.sheet}: {entry.reason}")
    written = _write(typed.out, entries)
    if typed.json:
        report.print_json(_told(entries, written))
    else:
        report.print_sentence(laid_words(entries))
        report.print_written(written)
    if any(entry.reason or entry.refused == entry.cells for entry in entries):
        return 2
    return 1 if any(entry.has_errors for entry in entries) else 0


def _sheets(typed: CatalogueTyped) -> tuple[Path, ...]:
    """Return the sheets of the folder typed."""
    from nesting.answers.chart.catalogue import sheets_in

    if not typed.folder.is_dir():
        raise OptionError(f"FOLDER: {typed.folder} is not a folder; give one with pattern sheets")
    sheets = sheets_in(typed.folder)
    if not sheets:
        raise OptionError(f"FOLDER: {typed.folder} has no pattern sheet; they end in .toml")
    return sheets


def _check_cloth(typed: CatalogueTyped) -> None:
    """Refuse at once what is wrong with the cloth typed, and so with no sheet in particular."""
    from nesting.cli.asking import bolts_of, rules_of

    bolts_of(typed, typed.width or USUAL_WIDTHS[typed.units or UnitSystem.METRIC], [], [False])
    rules_of(typed)


def _request(typed: CatalogueTyped, sheet: Path) -> "ChartRequest":
    """Return what to chart of a sheet, and tell what is odd about the sheet."""
    from nesting.cli import report

    request, notes = chart_request(typed, sheet)
    report.note(f"{sheet.name}: {one}" for one in notes)
    return request


def _write(out: Path, entries: "list[CatalogueEntry]") -> list[Path]:
    """Write table and page, both or none, and return their names."""
    from nesting.answers.chart.catalogue import FIGURES, catalogue_csv
    from nesting.answers.chart.catalogue_page import catalogue_page
    from pieces.files.atomic_file import write_text_atomically

    page = _page_of(out)
    csv = catalogue_csv(entries)
    table: Writer = partial(write_text_atomically, text=csv)
    if _is_parquet(out):
        from nesting.answers.chart.parquet import write_parquet

        table = partial(write_parquet, csv=csv, numbers=FIGURES)
    write_together(
        {
            out: table,
            page: partial(write_text_atomically, text=catalogue_page(entries, out.name)),
        }
    )
    return [out, page]


def _page_of(out: Path) -> Path:
    """Return the page beside the table."""
    return out.with_suffix(".html")


def _is_parquet(out: Path) -> bool:
    return out.suffix.lower() == ".parquet"


def _told(entries: "list[CatalogueEntry]", written: list[Path]) -> dict[str, object]:
    """Return a catalogue as plain values."""
    return {
        "written": [str(path) for path in written],
        "cells": sum(entry.cells for entry in entries),
        "laid": sum(entry.laid for entry in entries),
        "sheets": [
            {
                "sheet": entry.sheet,
                "pattern": entry.pattern,
                "cloth": entry.cloth,
                "views": list(entry.views),
                "sizes": list(entry.sizes),
                "cells": entry.cells,
                "refused": entry.refused,
                "shop_lengths_mm": entry.shop_lengths_mm,
                "notes": list(entry.notes),
                "reason": entry.reason,
            }
            for entry in entries
        ],
    }
