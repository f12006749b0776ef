"""Other computers that lay cells: the workers of a Dask scheduler, as an executor."""

import contextlib
import re
from collections.abc import Callable, Iterator
from concurrent.futures import CancelledError, Executor, Future
from typing import Any

from nesting.errors import ClusterError
from nesting.version import program_print

MOST_TRIES = 5
"""How often a cell is tried that fails on a worker for reasons of its own."""

_CONNECT_S = 10
_ADDRESS = re.compile(
    r"(?:(?:tcp|tls|ws|wss|ucx)://)?(?:[\w.-]{1,253}|\[[0-9a-fA-F:.]{2,45}\]):(?P<port>\d{1,5})/?",
    re.ASCII,
)


class _SameProgram(Executor):
    """Hands work on to another executor, to be done only by the program that it comes from."""

    def __init__(self, executor: Executor) -> None:
        self._executor = executor

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        return self._executor.submit(run_if_same, program_print(), fn, *args, **kwargs)


def run_if_same(wanted: str, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Any:
    """Do the work if this program has the print ``wanted``; this is what a worker runs.

    Raises
    ------
    ClusterError
        If it is another: its answers might differ.
    """
    if program_print() != wanted:
        raise ClusterError(
            "a worker of the cluster has another version of this program, and other versions may "
            "lay differently; install the same on every computer and run the same command again"
        )
    return fn(*args, **kwargs)


def check_address(address: str) -> None:
    """Refuse what cannot be the address of a scheduler, without asking anybody.

    Raises
    ------
    ClusterError
        If it is no name with a port.
    """
    found = _ADDRESS.fullmatch(address)
    if found is None or not 1 <= int(found["port"]) <= 65535:
        raise ClusterError(
            f'--cluster: "{address[:60]}" is no address; give a name and a port from 1 to 65535, '
            "such as tcp://desk:8786"
        )


@contextlib.contextmanager
def cluster_executor(
    address: str, *, note: Callable[[str], None] = lambda _: None
) -> Iterator[Executor]:
    """Yield an executor whose work is done by the workers of a scheduler.

    A worker that is lost costs time alone, since the scheduler gives its cells to others; one that
    joins takes its share. Each worker needs this program in the same version.

    Parameters
    ----------
    address
        Of the scheduler, such as ``"tcp://desk:8786"``.
    note
        Told that there is no worker yet, with the way to start one.

    Raises
    ------
    ClusterError
        If the address is none, Dask is not installed, the scheduler is not reached or lost, a
        worker has another version of this program, or a cell ended several workers one after
        another.
    """
    check_address(address)
    distributed = _library()
    try:
        client = distributed.Client(address, timeout=_CONNECT_S, set_as_default=False)
    except (OSError, ValueError) as problem:
        raise ClusterError(
            f"--cluster: no scheduler answers at {address}; start one with: dask scheduler"
        ) from problem
    with contextlib.closing(client):
        try:
            if not client.nthreads():
                note(
                    f"no worker has joined {address} yet, so this waits for one; start it with: "
                    f"dask worker {address} --nthreads 1"
                )
            yield _SameProgram(client.get_executor(pure=False, retries=MOST_TRIES))
        except distributed.KilledWorker as problem:
            raise ClusterError(
                f"one cell ended several workers of {address}, perhaps for want of memory; "
                "give them more and run the same command again, finished cells are kept if asked"
            ) from problem
        except (CancelledError, distributed.comm.core.CommClosedError) as problem:
            raise ClusterError(
                f"the scheduler at {address} was lost; start it and run the same command again, "
                "finished cells are kept if asked"
            ) from problem


def _library() -> Any:
    """Return the module ``distributed``.

    Raises
    ------
    ClusterError
        If it is not installed.
    """
    try:
        import distributed  # noqa: PLC0415 - an extra, and slow to load
    except ImportError as problem:
        raise ClusterError(
            'a cluster needs Dask; install it with: pip install "cloth-nesting[cluster]"'
        ) from problem
    return distributed
