"""Executors for tests: work done here and at once, and counted."""

from collections.abc import Callable
from concurrent.futures import Executor, Future
from typing import Any


class Here(Executor):
    """Runs what it is given in this process, one after another; counts, and may give up."""

    def __init__(self, most: int | None = None) -> None:
        self.ran = 0
        self.most = most

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        """Run at once; after ``most`` tasks, die as if the computer were switched off."""
        future: Future[Any] = Future()
        if self.most is not None and self.ran >= self.most:
            future.set_exception(RuntimeError("switched off"))
            return future
        self.ran += 1
        future.set_result(fn(*args, **kwargs))
        return future
