"""The one place that imports numba: how kernels are compiled, cached and reported.

Ordinary float maths only: relaxed maths is unsafe for questions such as "left or right?".
"""

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any, ParamSpec, TypeVar

import numba
import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]

Arguments = ParamSpec("Arguments")
Result = TypeVar("Result")

_FOR_FILLING: list[Any] = []
_FOR_SEPARATION: list[Any] = []
_njit: Any = numba.njit  # its declared options leave some out


def kernel(
    *, for_separation: bool = False
) -> Callable[[Callable[Arguments, Result]], Callable[Arguments, Result]]:
    """Return a decorator that compiles a function on its first call and keeps the machine code.

    Where no folder for compiled code can be written, the kernel is compiled in each run and
    :func:`cache_problem` says so.

    Parameters
    ----------
    for_separation
        Whether only a search that goes on beyond filling calls the kernel; others do not wait for
        it to be compiled.
    """
    return partial(_compiled, for_separation=for_separation)


def uncounted(
    *, for_separation: bool = False
) -> Callable[[Callable[Arguments, Result]], Callable[Arguments, Result]]:
    """Return a decorator like :func:`kernel` for one that does not count who refers to an array.

    For kernels that make no array and return none: their callers hold all arrays. Counting, one
    array at a time, takes longer than all the rest of a search (numba's developer manual, "Notes on
    Numba Runtime"). A kernel that makes an array does not compile so; one that returned an array to
    a kernel that counts would have it freed too early.

    Parameters
    ----------
    for_separation
        As for :func:`kernel`.
    """
    return partial(_compiled, for_separation=for_separation, _nrt=False)


def inlined(function: Callable[Arguments, Result]) -> Callable[Arguments, Result]:
    """Compile ``function``, uncounted, into each kernel that calls it.

    For short functions of the innermost loops: a call hands over every array anew, which takes
    longer than the work they do. The machine code is inlined, not the source, so that types are
    inferred once for each function and not in every caller. Only uncounted kernels may call one
    that returns arrays.
    """
    compiled: Any = _njit(function, forceinline=True, _nrt=False)
    fast: Callable[Arguments, Result] = compiled
    return fast


def _compiled(
    function: Callable[Arguments, Result], *, for_separation: bool, **options: bool
) -> Callable[Arguments, Result]:
    try:
        compiled: Any = _njit(cache=True, nogil=True, **options)(function)
        _drop_stale_code(compiled)
    except (RuntimeError, OSError):  # no folder that may be written, or stale code that stays
        compiled = _njit(function, nogil=True, **options)
    (_FOR_SEPARATION if for_separation else _FOR_FILLING).append(compiled)
    fast: Callable[Arguments, Result] = compiled
    return fast


def _drop_stale_code(compiled: Any) -> None:
    """Forget code older than any kernel source: numba looks at a kernel's own file alone.

    Kernels call one another across files, so a change to one makes the code of others stale.
    """
    newest = max(path.stat().st_mtime for path in Path(__file__).parent.glob("*.py"))
    for index in _index_files(compiled):
        if index.stat().st_mtime < newest:
            index.unlink(missing_ok=True)


def cache_problem() -> str | None:
    """Return why kernels cannot be kept for the next run, or None if they can."""
    if all(_cache_folder(compiled) is not None for compiled in _FOR_FILLING + _FOR_SEPARATION):
        return None
    return (
        "no folder for compiled code can be written, so every run compiles anew; "
        "set NUMBA_CACHE_DIR to a folder you may write to"
    )


def kernels_are_ready(*, separation: bool = True) -> bool:
    """Tell whether every kernel is compiled already, in this process or on disk.

    Without ``separation``, whether those are that filling needs.
    """
    wanted = _FOR_FILLING + _FOR_SEPARATION if separation else _FOR_FILLING
    return all(compiled.signatures or _index_files(compiled) for compiled in wanted)


def _cache_folder(compiled: Any) -> Path | None:
    path = compiled.stats.cache_path
    return Path(path) if path else None


def _index_files(compiled: Any) -> list[Path]:
    folder = _cache_folder(compiled)
    if folder is None or not folder.is_dir():
        return []
    module = compiled.py_func.__module__.rpartition(".")[2]
    return sorted(folder.glob(f"{module}.{compiled.py_func.__qualname__}-*.nbi"))
