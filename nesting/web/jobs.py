"""Layings under way: a few at once, each in a thread of its own, stopped when nobody watches."""

import secrets
import threading
import time
from collections import OrderedDict
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field, replace
from enum import StrEnum

from nesting import LayRequest, LayResult, SearchOptions, lay_pieces
from nesting.errors import NestingError
from nesting.lay import LayProgress
from pieces.errors import PiecesError

AT_ONCE = 2
MOST_WAITING = 8
MOST_KEPT = 60
STAGES = ("quick", "standard", "thorough")
"""Efforts in turn: a first answer at once, a good one soon, a better one for those who wait."""

AT_A_GO = ("standard",)
"""For a page that comes with its marker: a good answer, a few seconds later."""


class State(StrEnum):
    """Where a job stands."""

    WAITING = "waiting"
    LAYING = "laying"
    DONE = "done"
    STOPPED = "stopped"
    FAILED = "failed"


class BusyError(Exception):
    """All places are taken; the sentence says what to do."""


@dataclass(eq=False)
class Job:
    """One laying: what was asked, the best found so far, and how far it has come.

    Written by one thread, read by many; every field is replaced as a whole.
    """

    request: LayRequest
    stages: tuple[str, ...]
    key: str = field(default_factory=lambda: secrets.token_urlsafe(12))
    state: State = State.WAITING
    best: LayResult | None = None
    number: int = 0
    length_mm: float | None = None
    share: float = 0.0
    sentence: str = ""
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


class Desk:
    """Takes jobs in, runs :data:`AT_ONCE` of them at a time in the order they came, keeps some."""

    def __init__(self) -> None:
        self._threads = ThreadPoolExecutor(AT_ONCE, thread_name_prefix="laying")
        self._jobs: OrderedDict[str, Job] = OrderedDict()
        self._lock = threading.Lock()

    def take_in(self, request: LayRequest, stages: tuple[str, ...]) -> Job:
        """Return a job that will run.

        Raises
        ------
        BusyError
            If as many are waiting as may.
        """
        with self._lock:
            going = [job for job in self._jobs.values() if not job.is_over]
            if len(going) >= AT_ONCE + MOST_WAITING:
                raise BusyError(
                    f"{len(going)} markers are being laid already; try again in a minute"
                )
            job = Job(request, stages)
            self._jobs[job.key] = job
            over = [key for key, kept in self._jobs.items() if kept.is_over]
            for key in over[: max(0, len(self._jobs) - MOST_KEPT)]:
                del self._jobs[key]
        self._threads.submit(_run, job)
        return job

    def find(self, key: str) -> Job | None:
        """Return a job by its key, or None if it is not kept any more."""
        with self._lock:
            return self._jobs.get(key)

    def close(self) -> None:
        """Stop all jobs and wait for their threads."""
        with self._lock:
            for job in self._jobs.values():
                job.stop.set()
        self._threads.shutdown(wait=True, cancel_futures=True)


def _run(job: Job) -> None:
    """Lay with one effort after another, keeping what is shorter; a fault becomes a sentence."""
    try:
        for number, stage in enumerate(job.stages):
            if job.stop.is_set():
                break
            job.state = State.LAYING
            _lay(job, stage, number)
        job.state = State.STOPPED if job.stop.is_set() else State.DONE
    except (NestingError, PiecesError) as problem:
        job.state, job.sentence = State.FAILED, str(problem)
    except Exception as fault:
        job.state = State.FAILED
        job.sentence = (
            f"something went wrong on our side ({type(fault).__name__}); please report it"
        )
    finally:
        job.ended.set()


def _lay(job: Job, stage: str, number: int) -> None:
    search = SearchOptions(stage, seed=job.request.search.seed, workers=1)

    def told(report: LayProgress) -> bool:
        job.length_mm = report.length_mm
        job.share = (number + report.share) / len(job.stages)
        return job.stop.is_set()

    result = lay_pieces(replace(job.request, search=search), progress=told)
    if job.best is None or result.marker_length_mm < job.best.marker_length_mm:
        job.best = result
        job.number += 1
