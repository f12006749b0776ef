"""Kernels that do not count who refers to an array: none may make one, or hand one on."""

import gc
import importlib
import pkgutil
import typing
import weakref
from typing import Any

import numpy as np
import pytest

import nesting.engine.kernels
from nesting.engine import Strip, StripItem
from nesting.engine.kernels.jit import inlined
from nesting.engine.kernels.separate import attempt
from nesting.engine.prepared import prepare
from nesting.engine.separation_state import new_board, put_down
from pieces.outline.polygon import FloatArray

SQUARE = np.array([(0, 0), (1, 0), (1, 1), (0, 1)], dtype=float)


def compiled_functions() -> dict[str, Any]:
    """Return every function of the kernels that is compiled, by name."""
    modules = [
        importlib.import_module(f"nesting.engine.kernels.{found.name}")
        for found in pkgutil.iter_modules(nesting.engine.kernels.__path__)
    ]
    return {
        f"{function.py_func.__module__}.{function.py_func.__name__}": function
        for module in modules
        for function in vars(module).values()
        if hasattr(function, "py_func")
    }


def is_counted(function: Any) -> bool:
    """Tell whether a compiled function counts references."""
    return bool(function.targetoptions.get("_nrt", True))


def hands_on_arrays(hint: Any) -> bool:
    """Tell whether a result of such a type is an array or holds one."""
    if typing.get_origin(hint) is np.ndarray:
        return True
    return any(hands_on_arrays(part) for part in typing.get_args(hint))


def test_arrays_are_handed_on_among_uncounted_functions_alone() -> None:
    """A counted kernel would free what an uncounted one hands it while others still use it."""
    functions = compiled_functions()
    returning = {
        function.py_func.__name__
        for function in functions.values()
        if not is_counted(function)
        and hands_on_arrays(typing.get_type_hints(function.py_func)["return"])
    }

    callers = {
        name
        for name, function in functions.items()
        if is_counted(function) and returning & set(function.py_func.__code__.co_names)
    }

    assert returning == {"looked_at"}
    assert callers == set()
    assert sum(map(is_counted, functions.values())) > 5


def test_a_kernel_that_makes_an_array_does_not_compile_uncounted() -> None:
    """So none can be declared so by mistake."""

    def rows(count: int) -> FloatArray:
        return np.zeros(count)

    with pytest.raises(Exception, match="returning of array"):
        inlined(rows)(3)


def test_the_board_is_freed_after_separation_and_not_before() -> None:
    """Of all its arrays none is held by anybody but the board, before as after."""
    item = StripItem(name="square", outline=SQUARE, quantity=9)
    prepared = prepare(Strip(width=3.0, items=(item,)))
    board = new_board(prepared, np.empty(0))
    put_down(prepared, board, np.zeros(9, np.int64), np.zeros((9, 2)))
    watched = [
        weakref.ref(array) for part in (board[0], board[2], board[4], board[5]) for array in part
    ]
    length = 4.0 * prepared.scale
    best = np.zeros(9, np.int64), np.zeros((9, 2))
    progress, state = np.array([1e18, 1e18, 0.0, 0.0]), np.array([7], np.uint64)

    _, moves = attempt(300, length, (0.0, length), np.arange(9), board, best, progress, state)

    assert moves > 10
    assert all(array() is not None for array in watched)
    del board
    gc.collect()
    assert all(array() is None for array in watched)
