"""From what was typed to charts: of one sheet, or of each in a folder."""

# ruff: noqa: PLC0415 - numba and shapely load only when there is something to lay
import contextlib
import os
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from nesting.cli.chart_options import CellsTyped
from nesting.cli.options import Naps, OptionError
from nesting.errors import LayStoppedError
from pieces.measures.units import UnitSystem

if TYPE_CHECKING:
    from concurrent.futures import Executor

    from nesting.answers.chart.chart import ChartRequest
    from pieces.pattern import Pattern

NAPS = {Naps.WITH: [True], Naps.WITHOUT: [False], Naps.BOTH: [False, True]}
USUAL_WIDTHS = {
    UnitSystem.IMPERIAL: ["36in", "45in", "54in", "60in"],
    UnitSystem.METRIC: ["90cm", "115cm", "140cm", "150cm"],
}
MOST_WORKERS = 64


def chart_request(
    typed: CellsTyped,
    sheet: Path,
    views: Sequence[str] | None = None,
    sizes: Sequence[str] | None = None,
) -> "tuple[ChartRequest, list[str]]":
    """Return what to chart of a sheet, and what the person should hear about it.

    Raises
    ------
    PiecesError, NestingError
        If the sheet cannot be used, or has not what is asked for.
    OptionError
        If an option has a value that cannot be used.
    """
    from nesting.answers.chart.chart import ChartRequest, views_cut_from
    from nesting.cli.asking import bolts_of, cloth_of, rules_of
    from nesting.lay import SearchOptions
    from pieces.sheet.pattern_file import read_pattern

    pattern = read_pattern(sheet)
    cloth, notes = cloth_of(pattern, sheet, typed.cloth)
    effort = None if typed.effort is None else typed.effort.value
    if effort is None and typed.seconds is None:
        effort = "standard"
    request = ChartRequest(
        pattern=pattern,
        cloth=cloth,
        views=tuple(views or views_cut_from(pattern, cloth)),
        sizes=_smallest_first(pattern, sizes),
        bolts=bolts_of(typed, _widths(typed, pattern), [], NAPS[typed.nap]),
        rules=rules_of(typed),
        search=SearchOptions(effort, typed.seconds, typed.seed, workers=1),
    )
    return request, notes


def _smallest_first(pattern: "Pattern", sizes: Sequence[str] | None) -> tuple[str, ...]:
    """Return the sizes asked for, smallest first."""
    chosen = [pattern.size(size) for size in sizes or pattern.sizes]
    return tuple(sorted(chosen, key=pattern.sizes.index))


def _widths(typed: CellsTyped, pattern: "Pattern") -> list[str]:
    """Return the widths typed, or the usual ones."""
    if typed.width and typed.units is not None:
        raise OptionError("--units: the first --width says it already; leave one of them out")
    return typed.width or USUAL_WIDTHS[typed.units or pattern.units]


def check_cluster(typed: CellsTyped) -> None:
    """Refuse an address that no scheduler can have, before anything is read.

    Raises
    ------
    OptionError
        If it is none, or ``--workers`` is typed beside it.
    """
    if typed.cluster is None:
        return
    from nesting.answers.chart.cluster import check_address

    check_address(typed.cluster)
    if typed.workers is not None:
        raise OptionError(
            "--workers: those of a cluster are as many as were started there; leave it out"
        )


def cells_folder(typed: CellsTyped, beside: Path | None) -> Path | None:
    """Return the folder that keeps cells, made if it was not there; None keeps nothing.

    Raises
    ------
    OptionError
        If it cannot be made.
    """
    folder = typed.resume or (None if beside is None else beside.with_suffix(".cells"))
    if folder is None:
        return None
    try:
        folder.mkdir(exist_ok=True)
    except OSError as problem:
        raise OptionError(
            f"--resume: folder {folder} cannot be made: {problem.strerror or problem}; "
            "choose a place in a folder that exists and may be written"
        ) from problem
    return folder


@contextlib.contextmanager
def cell_executor(typed: CellsTyped) -> "Iterator[Executor]":
    """Yield who lays the cells: processes of this computer, or the workers of a cluster."""
    if typed.cluster is not None:
        from nesting.answers.chart.cluster import cluster_executor
        from nesting.cli.report import note

        with cluster_executor(typed.cluster, note=lambda words: note([words])) as cluster:
            yield cluster
        return
    from nesting.answers.chart.cells import cell_pool

    with cell_pool(typed.workers or min(os.cpu_count() or 1, MOST_WORKERS)) as pool:
        yield pool


@contextlib.contextmanager
def telling_what_is_kept(folder: Path | None) -> Iterator[None]:
    """Add to the sentence of work that was stopped where its finished cells are."""
    try:
        yield
    except LayStoppedError as problem:
        kept = "nothing was kept" if folder is None else f"finished cells are kept in {folder}"
        raise LayStoppedError(f"{problem}; {kept}") from problem
