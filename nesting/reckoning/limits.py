"""Refusals that all sums share: a measure names itself, its value, its limit and the way out."""

import math

from nesting.errors import ReckoningError


def need_above_zero(name: str, value: float, unit: str = "mm") -> None:
    """Refuse a measure that is not a finite number above zero.

    Raises
    ------
    ReckoningError
        With the name of the measure and its value.
    """
    if not 0.0 < value < math.inf:
        raise ReckoningError(
            f"{name} is {_shown(value, unit)}; it must be above zero and finite, so measure it anew"
        )


def need_not_negative(name: str, value: float, unit: str = "mm") -> None:
    """Refuse a measure that is not a finite number of at least zero.

    Raises
    ------
    ReckoningError
        With the name of the measure and its value.
    """
    if not 0.0 <= value < math.inf:
        raise ReckoningError(
            f"{name} is {_shown(value, unit)}; it must be at least zero and finite, so check it"
        )


def need_count(name: str, value: int) -> None:
    """Refuse a number of things below one.

    Raises
    ------
    ReckoningError
        With the name of the things and their number.
    """
    if value < 1:
        raise ReckoningError(f"{name} is {value}; it must be at least 1")


def need_between(name: str, value: float, low: float, high: float) -> None:
    """Refuse a number outside ``low`` to ``high``, both allowed.

    Raises
    ------
    ReckoningError
        With the name, the value and both limits.
    """
    if not low <= value <= high:
        raise ReckoningError(f"{name} is {value:g}; it must be from {low:g} to {high:g}")


def whole_times(length_mm: float, step_mm: float) -> int:
    """Return how many steps hold the length: rounded up, but not for binary dust.

    Examples
    --------
    >>> whole_times(2438.4, 685.8), whole_times(0.3, 0.1)
    (4, 3)
    """
    return max(1, math.ceil(length_mm / step_mm - 1e-9))


def _shown(value: float, unit: str) -> str:
    return f"{value:g} {unit}".strip()
