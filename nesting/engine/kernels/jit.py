"""The one place that imports numba: how kernels are compiled, cached and reported.

Ordinary float maths only: relaxed maths is unsafe for questions such as "left or right?".
"""

from collections.abc import Callable
from pathlib import Path
from typing import Any, ParamSpec, TypeVar

import numba
import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]

Arguments = ParamSpec("Arguments")
Result = TypeVar("Result")

_KERNELS: list[Any] = []
_njit: Any = numba.njit  # its declared options leave some out
_FOR_SEPARATION = {
    "nesting.engine.kernels.place_search",
    "nesting.engine.kernels.corners",
    "nesting.engine.kernels.depth",
    "nesting.engine.kernels.near_pairs",
    "nesting.engine.kernels.place_cost",
    "nesting.engine.kernels.box_index",
    "nesting.engine.kernels.separate",
}


def kernel(function: Callable[Arguments, Result]) -> Callable[Arguments, Result]:
    """Compile ``function`` on its first call and keep the machine code on disk.

    Where no folder for compiled code can be written, the kernel is compiled anew in each run and
    :func:`cache_problem` says so.
    """
    return _compiled(function)


def uncounted(function: Callable[Arguments, Result]) -> Callable[Arguments, Result]:
    """Compile like a kernel, but do not count who refers to an array.

    For kernels that make no array and return none: theirs are all held by their callers. To count,
    an array at a time, takes longer than a search spends on all the rest (numba's developer manual,
    "Notes on Numba Runtime"). A kernel that makes an array does not compile so; one that returned
    an array to a kernel that counts would have it freed too early.
    """
    return _compiled(function, _nrt=False)


def inlined(function: Callable[Arguments, Result]) -> Callable[Arguments, Result]:
    """Compile ``function``, uncounted, into each kernel that calls it.

    For short functions of the innermost loops: a call hands over every array anew, which takes
    longer than what they do. The machine code is inlined, not the source, so that each function is
    worked out once and not in every caller. One that returns arrays is for uncounted kernels alone.
    """
    compiled: Any = _njit(function, forceinline=True, _nrt=False)
    fast: Callable[Arguments, Result] = compiled
    return fast


def _compiled(
    function: Callable[Arguments, Result], **options: bool
) -> Callable[Arguments, Result]:
    try:
        compiled: Any = _njit(cache=True, nogil=True, **options)(function)
        _drop_stale_code(compiled)
    except (RuntimeError, OSError):  # no folder that may be written, or stale code that stays
        compiled = _njit(function, nogil=True, **options)
    _KERNELS.append(compiled)
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
    if all(_cache_folder(compiled) is not None for compiled in _KERNELS):
        return None
    return (
        "no folder for compiled code can be written, so every run compiles anew; "
        "set NUMBA_CACHE_DIR to a folder you may write to"
    )


def kernels_are_ready(*, separation: bool = True) -> bool:
    """Tell whether every kernel is compiled already, in this process or on disk.

    Without ``separation``, whether those are that filling needs.
    """
    wanted = (
        compiled
        for compiled in _KERNELS
        if separation or compiled.py_func.__module__ not in _FOR_SEPARATION
    )
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
