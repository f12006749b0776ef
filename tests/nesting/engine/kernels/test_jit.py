"""How kernels are compiled: which count who refers to an array, and which only separation needs."""

import gc
import importlib
import pkgutil
import typing
import weakref
from typing import Any

import numpy as np
import pytest

import nesting.engine.kernels
from nesting.engine import Strip, StripItem, warm_up
from nesting.engine.kernels import jit
from nesting.engine.kernels.bundles import Board, CostTables, Place, Range, Record
from nesting.engine.kernels.jit import inlined
from nesting.engine.kernels.separate import run_passes
from nesting.engine.prepared import prepare
from nesting.engine.separation_state import lay_on_board, new_board
from pieces.outline.polygon import FloatArray

SQUARE = np.array([(0, 0), (1, 0), (1, 1), (0, 1)], dtype=float)


def compiled_functions() -> dict[str, Any]:
    """Return every function of the kernels that is compiled, by name."""
    modules = [
        importlib.import_module(f"nesting.engine.kernels.{found.name}")
        for found in pkgutil.iter_modules(nesting.engine.kernels.__path__)
    ]
    return {
        full_name(function.py_func): function
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
    parts = [*typing.get_args(hint)]
    if hasattr(hint, "_fields"):
        parts += typing.get_type_hints(hint).values()
    return any(map(hands_on_arrays, parts))


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

    assert returning == {"tables_of"}
    assert callers == set()
    assert sum(map(is_counted, functions.values())) > 5


def test_arrays_are_found_within_named_tuples() -> None:
    """Directly, and in a named tuple in a named tuple; a place has none."""
    assert hands_on_arrays(CostTables)
    assert hands_on_arrays(tuple[int, Board])
    assert not hands_on_arrays(Place)
    assert not hands_on_arrays(tuple[Place, bool])


def reached_from(names: set[str], functions: dict[str, Any]) -> set[str]:
    """Return the compiled functions that some of these call, and those in turn, with themselves."""
    found: set[str] = set()
    waiting = list(names)
    while waiting:
        name = waiting.pop()
        if name in found:
            continue
        found.add(name)
        code = functions[name].py_func
        called = (code.__globals__.get(word) for word in code.__code__.co_names)
        waiting += [full_name(one.py_func) for one in called if hasattr(one, "py_func")]
    return found


def full_name(function: Any) -> str:
    """Return the module and the name of a function."""
    return f"{function.__module__}.{function.__name__}"


def reached_by_warming(monkeypatch: pytest.MonkeyPatch, *, separation: bool) -> set[str]:
    """Return the compiled functions that warming calls from Python, and all that those call."""
    called: set[str] = set()

    def watched(kernel: Any) -> Any:
        def call(*arguments: Any) -> Any:
            called.add(full_name(kernel.py_func))
            return kernel(*arguments)

        return call

    for found in pkgutil.iter_modules(nesting.engine.__path__):
        module = importlib.import_module(f"nesting.engine.{found.name}")
        for name, value in list(vars(module).items()):
            if hasattr(value, "py_func"):
                monkeypatch.setattr(module, name, watched(value))
    warm_up(separation=separation)
    return reached_from(called, compiled_functions())


def names_of(kernels: list[Any]) -> set[str]:
    """Return the full names of kernels."""
    return {full_name(kernel.py_func) for kernel in kernels}


def test_every_compiled_function_is_known_or_inlined() -> None:
    """None is compiled past the decorators, so none is left out of what they note."""
    functions = compiled_functions()
    kernels = {name for name, one in functions.items() if not one.targetoptions.get("forceinline")}

    assert names_of(jit._FOR_FILLING + jit._FOR_SEPARATION) == kernels


def test_the_tiny_strip_reaches_every_kernel(monkeypatch: pytest.MonkeyPatch) -> None:
    """Warming calls them all, or has kernels call them, so none is compiled during a search."""
    reached = reached_by_warming(monkeypatch, separation=True)

    assert set(compiled_functions()) == reached


def test_kernels_for_filling_are_those_that_filling_calls(monkeypatch: pytest.MonkeyPatch) -> None:
    """Warming for filling alone reaches all of them, and none that is for separation."""
    reached = reached_by_warming(monkeypatch, separation=False)

    assert names_of(jit._FOR_FILLING) <= reached
    assert not reached & names_of(jit._FOR_SEPARATION)


def test_filling_does_not_wait_for_the_kernels_of_separation(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """With one kernel for filling compiled and one for separation not, filling alone is ready."""
    monkeypatch.setattr(jit, "_FOR_FILLING", [])
    monkeypatch.setattr(jit, "_FOR_SEPARATION", [])

    @jit.uncounted()
    def twice(value: float) -> float:
        return 2.0 * value

    @jit.kernel(for_separation=True)
    def thrice(value: float) -> float:
        return 3.0 * value

    assert not jit.kernels_are_ready(separation=False)
    assert twice(4.0) == 8.0
    assert jit.kernels_are_ready(separation=False)
    assert not jit.kernels_are_ready()
    assert thrice(4.0) == 12.0
    assert jit.kernels_are_ready()


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
    lay_on_board(prepared, board, np.zeros(9, np.int64), np.zeros((9, 2)))
    parts = board.lying, board.pairs, board.room, board.box_index
    watched = [weakref.ref(array) for part in parts for array in part]
    del parts
    length = 4.0 * prepared.scale
    counters, state = np.array([1e18, 1e18, 0.0, 0.0]), np.array([7], np.uint64)
    record = Record(np.zeros(9, np.int64), np.zeros((9, 2)), counters)

    _, moves = run_passes(300, length, Range(0.0, length), np.arange(9), board, record, state)

    assert moves > 10
    assert all(array() is not None for array in watched)
    del board
    gc.collect()
    assert all(array() is None for array in watched)
