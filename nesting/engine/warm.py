"""Compiling the kernels before the clock of a search starts."""

import pickle
from pathlib import Path
from typing import Any

import numpy as np

from nesting.engine.compaction import compacted
from nesting.engine.explore import Explorer, explore
from nesting.engine.fill import fill
from nesting.engine.kernels.fill import fill_in_order
from nesting.engine.layout import layout_of_fill
from nesting.engine.orders import sensible_orders
from nesting.engine.prepared import prepare
from nesting.engine.strip import Axis, PhaseGroup, PhaseHold, Strip, StripItem
from nesting.engine.window import whole_strip
from nesting.errors import CompiledCodeError


def warm_up(*, separation: bool = True) -> None:
    """Call the kernels once on a tiny strip, so that each is compiled or loaded from disk.

    ``separation`` tells whether the search will go on beyond filling.

    Compiling takes about a minute, once; :func:`nesting.engine.kernels_are_ready` tells
    beforehand whether it will happen. Code that was damaged on disk is compiled again.

    Raises
    ------
    CompiledCodeError
        If compiled code can be neither read nor written where it is kept.
    """
    try:
        try:
            _call_all(separation=separation)
        except OSError:
            raise
        except Exception:  # unpickling damaged code may raise nearly anything
            if not _drop_damaged_code():
                raise
            _call_all(separation=separation)
    except OSError as problem:
        raise CompiledCodeError(
            f"compiled code cannot be kept in {_folder()}: {problem.strerror or problem}; make "
            "room there and let it be written, or set NUMBA_CACHE_DIR to another folder"
        ) from problem


def _folder() -> Path | None:
    """Return the folder of the compiled code of all kernels, or None if none is kept."""
    kernel: Any = fill_in_order
    return Path(kernel.stats.cache_path) if kernel.stats.cache_path else None


def _drop_damaged_code() -> bool:
    """Remove files of compiled code that cannot be read, and tell whether there was one."""
    folder = _folder()
    files = [] if folder is None else [*folder.glob("*.nbi"), *folder.glob("*.nbc")]
    damaged = [path for path in files if not _is_whole(path)]
    for path in damaged:
        path.unlink(missing_ok=True)
    return bool(damaged)


def _is_whole(path: Path) -> bool:
    """Tell whether a file of compiled code can be read to its end."""
    try:
        with path.open("rb") as file:
            pickle.load(file)
            while file.peek(1):  # an index is two in a row
                pickle.load(file)
    except Exception:
        return False
    return True


def _call_all(*, separation: bool) -> None:
    hook = np.array([(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (1.0, 1.0), (0.0, 2.0)])
    both = {(0.0, False): (PhaseHold(0, 0.0), PhaseHold(1, 0.0))}
    item = StripItem(name="hook", outline=hook, quantity=3, turns_deg=(0.0, 180.0), holds=both)
    groups = PhaseGroup(Axis.ALONG, 2.0), PhaseGroup(Axis.ACROSS, 1.0)
    prepared = prepare(Strip(width=4.5, items=(item,), groups=groups, regions=(hook + 4.0,)))
    filled = fill(prepared, sensible_orders(prepared)[0])
    if separation:
        start = layout_of_fill(prepared, filled)
        explore(prepared, Explorer(start), seed=(0,), moves=1, seconds=None)
        compacted(prepared, start, whole_strip(start))
