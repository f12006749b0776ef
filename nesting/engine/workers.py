"""Worker processes: several searchers at once, each with the prepared strip in its own memory."""

import multiprocessing
import signal
import threading
from collections.abc import Callable
from concurrent.futures import Executor, ProcessPoolExecutor
from contextlib import AbstractContextManager, nullcontext
from typing import Any, Protocol, TypeVar

from nesting.engine.prepared import Prepared

Searcher = TypeVar("Searcher")


class Team(Protocol):
    """Runs one round: ``step`` on every searcher with its own options, all at once."""

    def __call__(
        self,
        step: Callable[..., Searcher],
        searchers: list[Searcher],
        options: list[dict[str, Any]],
    ) -> list[Searcher]:
        """Return the searchers after the round, in their order."""


_held: dict[str, Prepared] = {}


def team_of(
    prepared: Prepared, workers: int
) -> tuple[AbstractContextManager[Executor | None], Team]:
    """Return a context to hold open, and the team that works while it is open.

    One worker works in this process; more work in processes of their own.
    """
    if workers == 1:

        def work_here(
            step: Callable[..., Searcher],
            searchers: list[Searcher],
            options: list[dict[str, Any]],
        ) -> list[Searcher]:
            pairs = zip(searchers, options, strict=True)
            return [step(prepared, searcher, **chosen) for searcher, chosen in pairs]

        return nullcontext(None), work_here

    pool = ProcessPoolExecutor(
        workers, mp_context=start_method(), initializer=_hold, initargs=(prepared,)
    )

    def work_in_pool(
        step: Callable[..., Searcher], searchers: list[Searcher], options: list[dict[str, Any]]
    ) -> list[Searcher]:
        pairs = zip(searchers, options, strict=True)
        futures = [pool.submit(_step_held, step, searcher, chosen) for searcher, chosen in pairs]
        return [future.result() for future in futures]

    return pool, work_in_pool


def start_method() -> Any:
    """Fork where that is safe, which needs no importable main module; else spawn.

    Forking copies locks that other threads may hold, so it is used only from a single thread.
    """
    methods = multiprocessing.get_all_start_methods()
    alone = threading.active_count() == 1
    return multiprocessing.get_context("fork" if alone and "fork" in methods else "spawn")


def _hold(prepared: Prepared) -> None:
    """Keep the strip for later rounds, and leave Ctrl-C to the parent process."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _held["prepared"] = prepared


def _step_held(
    step: Callable[..., Searcher], searcher: Searcher, options: dict[str, Any]
) -> Searcher:
    return step(_held["prepared"], searcher, **options)
