"""Processes of a command, looked at from outside."""

import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from os import kill
from signal import SIGKILL

from tests.places import ROOT


@contextmanager
def command(*typed: str) -> Iterator["subprocess.Popen[str]"]:
    """Start ``nesting`` in a session of its own; afterwards nobody of that session is left."""
    started = subprocess.Popen(
        [sys.executable, "-m", "nesting", *typed],
        cwd=ROOT,
        start_new_session=True,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    try:
        with started:
            yield started
            started.kill()
    finally:
        for left in of_session(started.pid):
            kill(left, SIGKILL)


def of_session(session: int) -> list[int]:
    """Return the processes of a session that still run, by ps."""
    told = subprocess.run(
        ["ps", "-A", "-o", "pid=,sess=,stat="], capture_output=True, text=True, check=True
    )
    rows = [line.split() for line in told.stdout.splitlines()]
    return [int(pid) for pid, sess, state in rows if int(sess) == session and state[0] != "Z"]


def soon(holds: Callable[[], bool], within_s: float) -> bool:
    """Tell whether something comes to hold within so many seconds."""
    until = time.monotonic() + within_s
    while time.monotonic() < until:
        if holds():
            return True
        time.sleep(0.1)
    return holds()
