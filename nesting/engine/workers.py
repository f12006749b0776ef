"""Worker processes: several searchers at once, each with the prepared strip in its own memory."""

from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import AbstractContextManager, nullcontext
from typing import Any, Protocol, TypeVar

from nesting.engine.prepared import PreparedStrip
from nesting.errors import StripError
from nesting.processes import begin_worker, start_method

Searcher = TypeVar("Searcher")
MOST_TRIES = 3


class Team(Protocol):
    """Runs one round: ``step`` on every searcher with its own options, all at once."""

    def __call__(
        self,
        step: Callable[..., Searcher],
        searchers: list[Searcher],
        options: list[dict[str, Any]],
    ) -> list[Searcher]:
        """Return the searchers after the round, in their order."""


_held: dict[str, PreparedStrip] = {}


def team_of(prepared: PreparedStrip, workers: int) -> tuple[AbstractContextManager[None], Team]:
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

        return nullcontext(), work_here

    members = _Members(prepared, workers)
    return members, members


class _Members:
    """The processes of a team. If one is lost, all are replaced and the round is run again.

    A round starts from the searchers as they were before it, so only time is lost.
    """

    def __init__(self, prepared: PreparedStrip, workers: int) -> None:
        self._prepared = prepared
        self._workers = workers
        self._pool: ProcessPoolExecutor | None = None

    def __enter__(self) -> None:
        """Hold the team; processes are started in the first round."""

    def __exit__(self, *_: object) -> None:
        """End the processes, once their round is over."""
        if self._pool is not None:
            self._pool.shutdown()

    def __call__(
        self,
        step: Callable[..., Searcher],
        searchers: list[Searcher],
        options: list[dict[str, Any]],
    ) -> list[Searcher]:
        """Run a round.

        Raises
        ------
        StripError
            If processes are lost again and again.
        """
        for _ in range(MOST_TRIES):
            try:
                return self._run(step, searchers, options)
            except BrokenProcessPool:
                if self._pool is not None:
                    self._pool.shutdown()
                self._pool = None
        raise StripError(
            f"worker processes were ended from outside {MOST_TRIES} times in one round, perhaps "
            "for want of memory; ask for one worker, or lay fewer pieces at a time"
        )

    def _run(
        self,
        step: Callable[..., Searcher],
        searchers: list[Searcher],
        options: list[dict[str, Any]],
    ) -> list[Searcher]:
        if self._pool is None:
            self._pool = ProcessPoolExecutor(
                self._workers,
                mp_context=start_method(),
                initializer=_hold,
                initargs=(self._prepared,),
            )
        pairs = zip(searchers, options, strict=True)
        pool = self._pool
        futures = [pool.submit(_step_held, step, searcher, chosen) for searcher, chosen in pairs]
        return [future.result() for future in futures]


def _hold(prepared: PreparedStrip) -> None:
    """Keep the strip for later rounds."""
    begin_worker()
    _held["prepared"] = prepared


def _step_held(
    step: Callable[..., Searcher], searcher: Searcher, options: dict[str, Any]
) -> Searcher:
    return step(_held["prepared"], searcher, **options)
