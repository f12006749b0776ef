"""Other computers that lay cells: the workers of a Dask scheduler, as an executor."""

import contextlib
from collections.abc import Iterator
from concurrent.futures import CancelledError, Executor
from typing import Any

from nesting.errors import ClusterError

MOST_TRIES = 5
"""How often a cell is tried that fails on a worker for reasons of its own."""

_CONNECT_S = 10


@contextlib.contextmanager
def cluster_executor(address: str) -> Iterator[Executor]:
    """Yield an executor whose work is done by the workers of a scheduler.

    A worker that is lost costs time alone, since the scheduler gives its cells to others; one that
    joins takes its share. Each worker needs this program in the same version.

    Parameters
    ----------
    address
        Of the scheduler, such as ``"tcp://desk:8786"``.

    Raises
    ------
    ClusterError
        If Dask is not installed, the scheduler is not reached or lost, or a cell ended several
        workers one after another.
    """
    distributed = _library()
    try:
        client = distributed.Client(address, timeout=_CONNECT_S, set_as_default=False)
    except (OSError, ValueError) as problem:
        raise ClusterError(
            f"--cluster: no scheduler answers at {address}; start one with: dask scheduler"
        ) from problem
    with contextlib.closing(client):
        try:
            yield client.get_executor(pure=False, retries=MOST_TRIES)
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
