"""Worker processes: several climbers at once, each with the prepared strip in its own memory."""

import multiprocessing
import signal
import threading
from collections.abc import Callable
from concurrent.futures import Executor, ProcessPoolExecutor
from contextlib import AbstractContextManager, nullcontext
from typing import Any

from nesting.engine.climb import Climber, climb
from nesting.engine.prepared import Prepared

Task = tuple[Climber, dict[str, Any]]
RunRound = Callable[[list[Task]], list[Climber]]

_held: dict[str, Prepared] = {}


def round_runner(
    prepared: Prepared, workers: int
) -> tuple[AbstractContextManager[Executor | None], RunRound]:
    """Return a context to hold open, and a function that runs one round of climbers.

    One worker climbs in this process; more climb in processes of their own.
    """
    if workers == 1:

        def run_here(tasks: list[Task]) -> list[Climber]:
            return [climb(prepared, climber, **options) for climber, options in tasks]

        return nullcontext(None), run_here

    pool = ProcessPoolExecutor(
        workers, mp_context=_start_method(), initializer=_hold, initargs=(prepared,)
    )

    def run_in_pool(tasks: list[Task]) -> list[Climber]:
        futures = [pool.submit(_climb_held, climber, options) for climber, options in tasks]
        return [future.result() for future in futures]

    return pool, run_in_pool


def _start_method() -> Any:
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


def _climb_held(climber: Climber, options: dict[str, Any]) -> Climber:
    return climb(_held["prepared"], climber, **options)
