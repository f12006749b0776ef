"""Many lays that know nothing of each other: on all cores, each kept as soon as it is done."""

import contextlib
import pickle
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import (
    FIRST_COMPLETED,
    BrokenExecutor,
    Executor,
    Future,
    ProcessPoolExecutor,
    wait,
)
from io import BytesIO
from pathlib import Path
from types import MappingProxyType
from typing import Any

from nesting.answers.chart.cell_file import cell_name, format_cell, parse_cell
from nesting.answers.compare import CompareRow
from nesting.engine import StoppedBy
from nesting.errors import CellFileError, DoesNotFitError, LayStoppedError, SpreadRefusedError
from nesting.lay import LayRequest, lay_pieces
from nesting.processes import begin_worker, start_method
from pieces.files.atomic_file import clear_leftovers, write_text_atomically
from pieces.files.bounded_file import read_text

CellCallback = Callable[[int, int], bool | None]
"""Told how many cells are done, and of how many; a true answer stops the work."""

LARGEST_BYTES = 50_000_000
_TELL_EVERY_S = 1.0
_stop: dict[str, Any] = {}


def lay_cells(
    requests: Sequence[LayRequest],
    executor: Executor,
    *,
    folder: Path | None = None,
    progress: CellCallback | None = None,
) -> tuple[CompareRow, ...]:
    """Lay every request, and return the rows in their order.

    Parameters
    ----------
    requests
        What to lay. A piece too wide, or a spread refused, becomes a row with the reason.
    executor
        Does the work: a pool of this computer, as :func:`cell_pool` gives, or any other.
    folder
        Where finished cells are kept: one file each, written whole as soon as it is done. Cells
        that are there already are read and not laid again. None keeps nothing. A search that the
        clock ended is kept as well.
    progress
        Called at least once a second.

    Raises
    ------
    LayStoppedError
        If ``progress`` asked to stop, or a worker was lost; what was finished is kept.
    CellFileError
        If a kept cell cannot be read, or a new one not written.
    NestingError, PiecesError
        Whatever :func:`nesting.lay.lay_pieces` raises, except those two.
    """
    if folder is not None:
        clear_leftovers([folder])
    rows = {number: _kept(folder, request) for number, request in enumerate(requests)}
    pending = {
        executor.submit(lay_cell, _packed(request)): number
        for number, request in enumerate(requests)
        if rows[number] is None
    }
    try:
        while pending:
            done, _ = wait(pending, timeout=_TELL_EVERY_S, return_when=FIRST_COMPLETED)
            for future in done:
                number = pending.pop(future)
                rows[number] = _finished(_told(future), requests[number], folder)
            if progress is not None and progress(len(rows) - len(pending), len(rows)):
                raise LayStoppedError("stopped at your request before all cells were done")
    finally:
        _give_up(pending)
    return tuple(row for row in rows.values() if row is not None)


def _kept(folder: Path | None, request: LayRequest) -> CompareRow | None:
    """Return the row that is kept in the folder, or None if there is none."""
    if folder is None:
        return None
    path = folder / cell_name(request)
    if not path.exists():
        return None
    try:
        text = read_text(path, "kept cell", largest_bytes=LARGEST_BYTES, error=CellFileError)
        return parse_cell(text, request)
    except CellFileError as problem:
        raise CellFileError(f"{path}: {problem}; remove this file and run again") from problem


def _told(future: Future[str]) -> str:
    """Return what a cell came to.

    Raises
    ------
    LayStoppedError
        If the process that laid it was lost.
    """
    try:
        return future.result()
    except BrokenExecutor as problem:
        raise LayStoppedError(
            "a worker process was ended from outside, perhaps for want of memory; what was "
            "finished is kept if cells are: run the same command again, with fewer --workers"
        ) from problem


def _finished(text: str, request: LayRequest, folder: Path | None) -> CompareRow:
    """Return the row that a cell came to, kept in the folder."""
    row = parse_cell(text, request)
    if row.result is not None and row.result.stopped_by is StoppedBy.REQUEST:
        raise LayStoppedError("a search was stopped before its cell was done")
    if folder is not None:
        path = folder / cell_name(request)
        try:
            write_text_atomically(path, text)
        except OSError as problem:
            raise CellFileError(
                f"{path} cannot be written: {problem.strerror or problem}; "
                "choose a folder you may write to"
            ) from problem
    return row


def _give_up(pending: dict[Future[str], int]) -> None:
    """Let no cell begin that has not begun, and ask those at work to end."""
    for future in pending:
        future.cancel()
    if pending and "event" in _stop:
        _stop["event"].set()


def lay_cell(packed: bytes) -> str:
    """Lay one request, packed as bytes, and return the text of its cell file.

    This is all that an executor runs, so both ways are plain bytes and text.
    """
    request: LayRequest = pickle.loads(packed)
    event = _stop.get("event")
    try:
        result = lay_pieces(request, progress=lambda _: event is not None and event.is_set())
    except (DoesNotFitError, SpreadRefusedError) as refusal:
        return format_cell(CompareRow(request, None, str(refusal)))
    return format_cell(CompareRow(request, result))


def _packed(request: LayRequest) -> bytes:
    """Return the request as bytes; frozen tables are packed as what is in them."""
    stream = BytesIO()
    pickler = pickle.Pickler(stream)
    pickler.dispatch_table = {MappingProxyType: lambda table: (_frozen, (dict(table),))}
    pickler.dump(request)
    return stream.getvalue()


def _frozen(table: dict[Any, Any]) -> MappingProxyType[Any, Any]:
    return MappingProxyType(table)


@contextlib.contextmanager
def cell_pool(workers: int) -> Iterator[Executor]:
    """Yield processes of this computer that lay cells, and end them afterwards.

    As the engine does, it forks from a single thread where it can, and else spawns. Ctrl-C is
    left to the parent process, which asks a search at work to end.

    Parameters
    ----------
    workers
        Number of processes, at least 1.
    """
    context = start_method()
    _stop["event"] = event = context.Event()
    pool = ProcessPoolExecutor(
        workers, mp_context=context, initializer=_begin_worker, initargs=(event,)
    )
    try:
        with pool:
            yield pool
    finally:
        del _stop["event"]


def _begin_worker(event: Any) -> None:
    """Take the event with which the parent asks a search to end."""
    begin_worker()
    _stop["event"] = event
