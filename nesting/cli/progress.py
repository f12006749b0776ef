"""A bar while the search runs, and Ctrl-C that keeps what was found.

The bar starts no thread, since the search starts processes and does that best from a single one.
"""

import contextlib
import signal
import sys
import threading
from collections.abc import Iterator
from dataclasses import dataclass, field
from types import FrameType

from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

from nesting.cli.report import say
from nesting.cli.terminal import CleanConsole
from nesting.cloth.bolt import Bolt
from nesting.lay import LayProgress
from pieces.measures.format import format_both


@dataclass
class Watch:
    """What the callbacks of a search share: the bar, and whether the person asked to stop."""

    bar: Progress
    bolts: tuple[Bolt, ...]
    stop_asked: bool = False
    seen: list[int] = field(default_factory=list)

    def lay(self, report: LayProgress) -> bool:
        """Show how far one lay has come; true stops it."""
        return self.row(0, report)

    def row(self, index: int, report: LayProgress) -> bool:
        """Show how far one row of a comparison has come; true stops it."""
        if index not in self.seen:
            self.seen.append(index)
        best = format_both(report.length_mm, self.bolts[index].units)
        of_all = f"{len(self.seen)} of {len(self.bolts)}: " if len(self.bolts) > 1 else ""
        self.bar.update(
            self.bar.task_ids[0],
            completed=len(self.seen) - 1 + report.share,
            description=f"{of_all}so far {best}",
            refresh=True,
        )
        return self.stop_asked

    def on_interrupt(self, _signal: int, _frame: FrameType | None) -> None:
        """Ask the search to stop; asked again, give up at once."""
        if self.stop_asked:
            raise KeyboardInterrupt
        self.stop_asked = True


@dataclass
class CellWatch:
    """What is told of many lays at once: the bar, and whether the person asked to stop."""

    bar: Progress
    stop_asked: bool = False

    def cells(self, done: int, of_all: int) -> bool:
        """Show how many are done; true stops the work."""
        self.bar.update(
            self.bar.task_ids[0],
            completed=done,
            total=of_all,
            description=f"{done} of {of_all} laid",
            refresh=True,
        )
        return self.stop_asked

    def tried(self, lays: int) -> bool:
        """Show how many lays were tried, nobody knowing of how many; true stops the work."""
        words = f"{lays} layouts tried"
        self.bar.update(self.bar.task_ids[0], description=words, refresh=True)
        return self.stop_asked

    def on_interrupt(self, _signal: int, _frame: FrameType | None) -> None:
        """Ask the work to stop; asked again, give up at once."""
        if self.stop_asked:
            raise KeyboardInterrupt
        self.stop_asked = True


@contextlib.contextmanager
def watching(bolts: tuple[Bolt, ...], *, quiet: bool, only_fills: bool) -> Iterator[Watch]:
    """Show a bar on standard error while the search runs, unless quiet or not at a terminal."""
    tell_of_kernels(only_fills=only_fills)
    watch = Watch(_bar(len(bolts), quiet=quiet), bolts)
    with _interrupts(watch), watch.bar:
        yield watch


@contextlib.contextmanager
def watching_cells(*, quiet: bool, only_fills: bool) -> Iterator[CellWatch]:
    """Show a bar on standard error while many lays are searched, as :func:`watching` does."""
    tell_of_kernels(only_fills=only_fills)
    watch = CellWatch(_bar(None, quiet=quiet))
    with _interrupts(watch), watch.bar:
        yield watch


def _bar(total: int | None, *, quiet: bool) -> Progress:
    console = CleanConsole(stderr=True)
    bar = Progress(
        TextColumn("{task.description}", markup=False),
        BarColumn(),
        TimeElapsedColumn(),
        console=console,
        auto_refresh=False,
        transient=True,
        disable=quiet or not console.is_terminal,
    )
    bar.add_task("searching", total=total)
    return bar


@contextlib.contextmanager
def _interrupts(watch: Watch | CellWatch) -> Iterator[None]:
    """Let Ctrl-C ask the watch; only the main thread may say so."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGINT, watch.on_interrupt)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


def tell_of_kernels(*, only_fills: bool) -> None:
    """Say why the first search on a computer begins late, and if every search will."""
    from nesting.engine import cache_problem, kernels_are_ready  # noqa: PLC0415

    problem = cache_problem()
    if problem is not None:
        say(f"note: {problem}")
    if not kernels_are_ready(separation=not only_fills):
        wait = "about half a minute" if only_fills else "a minute or more"
        say(f"Preparing fast code for this computer, once: {wait}.")
        sys.stderr.flush()
