"""How processes of our own begin, and that none outlives the one that began it."""

import multiprocessing
import os
import signal
import threading
from typing import Any


def start_method() -> Any:
    """Fork where that is safe, which needs no importable main module; else spawn.

    Forking copies locks that other threads may hold, so it is used only from a single thread.
    """
    methods = multiprocessing.get_all_start_methods()
    alone = threading.active_count() == 1
    return multiprocessing.get_context("fork" if alone and "fork" in methods else "spawn")


def begin_worker() -> None:
    """Leave Ctrl-C to the parent process, and end with it however it ends.

    A parent that is killed tells nobody, and its workers would wait for it forever.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=_end_with, args=(parent,), daemon=True).start()


def _end_with(parent: Any) -> None:
    parent.join()
    os._exit(1)  # the main thread may be deep in a kernel, so no exception would reach it
