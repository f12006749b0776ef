"""Work under way: a few at once, each in a thread of its own, stopped when nobody watches."""

import logging
import secrets
import threading
import time
from abc import ABC, abstractmethod
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Generic, TypeVar

from nesting import (
    LayRequest,
    LayResult,
    OrderRequest,
    OrderResult,
    SearchOptions,
    lay_order,
    lay_pieces,
)
from nesting.errors import NestingError
from nesting.languages import marked
from nesting.lay import LayProgress
from nesting.web.problems import BusyError, ToldError
from pieces.errors import PiecesError

_log = logging.getLogger(__name__)
Answer = TypeVar("Answer")
TaskKind = TypeVar("TaskKind", bound="Task")
Stopper = Callable[..., bool]
"""A progress callback of any kind: true once the work is to stop."""

AT_ONCE = 2
MOST_WAITING = 8
MOST_KEPT = 60
CLOSING_S = 2.0
STAGES = ("quick", "standard", "thorough")
"""Efforts in turn: a first answer at once, a good one soon, a better one for those who wait."""

AT_A_GO = ("standard",)
"""For a page that comes with its marker: a good answer, a few seconds later."""


class State(StrEnum):
    """Where a task stands."""

    WAITING = "waiting"
    LAYING = "laying"
    DONE = "done"
    STOPPED = "stopped"
    FAILED = "failed"


@dataclass(eq=False, kw_only=True)
class Task(ABC):
    """Work for one visitor.

    Written by one thread, read by many; every field is replaced as a whole.
    """

    key: str = field(default_factory=lambda: secrets.token_urlsafe(12))
    state: State = State.WAITING
    share: float = 0.0
    problem: Exception | None = None
    started: float = field(default_factory=time.monotonic)
    stop: threading.Event = field(default_factory=threading.Event)
    ended: threading.Event = field(default_factory=threading.Event)

    @property
    def is_over(self) -> bool:
        """Whether nothing more will come."""
        return self.ended.is_set()

    @property
    def seconds(self) -> float:
        """Since it was asked for."""
        return time.monotonic() - self.started

    @abstractmethod
    def work(self) -> None:
        """Do it, looking at ``stop`` now and then."""

    def run(self) -> None:
        """Do it; a fault becomes a sentence."""
        self.state = State.LAYING
        try:
            if not self.stop.is_set():
                self.work()
            self.state = State.STOPPED if self.stop.is_set() else State.DONE
        except (NestingError, PiecesError, ToldError) as problem:
            self.state, self.problem = State.FAILED, problem
        except Exception as fault:
            _log.exception("a fault of ours in task %s", self.key)
            self.state = State.FAILED
            self.problem = ToldError(
                marked("Something went wrong on our side ({kind}); please report it."),
                kind=type(fault).__name__,
            )
        finally:
            self.ended.set()


@dataclass(eq=False, kw_only=True)
class Question(Task, Generic[Answer]):
    """Work that ends with an answer.

    Parameters
    ----------
    ask
        Called with a progress callback that tells whether to stop.
    answer
        What it returned.
    """

    ask: Callable[[Stopper], Answer]
    answer: Answer | None = None

    def work(self) -> None:
        """Ask, and keep the answer."""
        self.answer = self.ask(lambda *_: self.stop.is_set())


@dataclass(eq=False, kw_only=True)
class Job(Task):
    """One laying: what was asked, and the best found so far."""

    request: LayRequest
    stages: tuple[str, ...] = ()
    best: LayResult | None = None
    number: int = 0

    def work(self) -> None:
        """Lay with one effort after another, keeping what is shorter."""
        for number, stage in enumerate(self.stages):
            if self.stop.is_set():
                return
            self._lay(stage, number)

    def _lay(self, stage: str, number: int) -> None:
        search = SearchOptions(stage, seed=self.request.search.seed, workers=1)

        def told(report: LayProgress) -> bool:
            self.share = (number + report.share) / len(self.stages)
            return self.stop.is_set()

        result = lay_pieces(replace(self.request, search=search), progress=told)
        if self.best is None or result.marker_length_mm < self.best.marker_length_mm:
            self.best = result
            self.number += 1


@dataclass(eq=False, kw_only=True)
class OrderJob(Job):
    """One class order: a marker for all, and what each view and size takes alone."""

    asked: OrderRequest
    order: OrderResult | None = None

    def work(self) -> None:
        """Lay all together and each alone."""
        self.order = lay_order(self.asked, progress=lambda *_: self.stop.is_set())
        self.best = self.order.together
        self.number = 1


class Desk:
    """Takes work in, does :data:`AT_ONCE` at a time in the order it came, keeps some.

    ``is_closing`` is true from the moment on that the page is to end; whoever waits for work then
    stops it and waits no longer.
    """

    def __init__(self) -> None:
        self.is_closing = False
        self._threads = ThreadPoolExecutor(AT_ONCE, thread_name_prefix="laying")
        self._tasks: OrderedDict[str, Task] = OrderedDict()
        self._lock = threading.Lock()

    def take_in(self, request: LayRequest, stages: tuple[str, ...]) -> Job:
        """Return a job that will run.

        Raises
        ------
        BusyError
            If as many are waiting as may.
        """
        return self.take(Job(request=request, stages=stages))

    def take(self, task: TaskKind) -> TaskKind:
        """Return a task that will run.

        Raises
        ------
        BusyError
            If as many are waiting as may.
        """
        with self._lock:
            going = [kept for kept in self._tasks.values() if not kept.is_over]
            if len(going) >= AT_ONCE + MOST_WAITING:
                raise BusyError(
                    marked("{count} others are laying already; try again in a minute."),
                    count=len(going),
                )
            self._tasks[task.key] = task
            over = [key for key, kept in self._tasks.items() if kept.is_over]
            for key in over[: max(0, len(self._tasks) - MOST_KEPT)]:
                del self._tasks[key]
        self._threads.submit(task.run)
        return task

    def find(self, key: str) -> Task | None:
        """Return a task by its key, or None if it is not kept any more."""
        with self._lock:
            return self._tasks.get(key)

    def close(self) -> None:
        """Stop all work, and wait for it for a moment: long work looks up now and then."""
        self.is_closing = True
        with self._lock:
            tasks = list(self._tasks.values())
        for task in tasks:
            task.stop.set()
        self._threads.shutdown(wait=False, cancel_futures=True)
        until = time.monotonic() + CLOSING_S
        for task in tasks:
            if task.state is not State.WAITING:
                task.ended.wait(max(0.0, until - time.monotonic()))
