"""The shop's cutting step: how far a length is rounded up before it is asked for."""

import math

from pieces.errors import LengthError
from pieces.measures.format import refuse_unreal


def round_up_to_step_mm(length_mm: float, step_mm: float) -> float:
    """Return the shortest multiple of the shop's cutting step that holds the length.

    Parameters
    ----------
    length_mm
        Length that is needed, at least 0, mm.
    step_mm
        Cutting step, above 0, mm.

    Returns
    -------
    float
        A multiple of the step, mm, at least the length. A length less than 1e-6 mm above a
        multiple counts as that multiple: this much is left behind by adding decimals.

    Raises
    ------
    LengthError
        If the length is negative, the step is not above zero or a thousand-millionth of the
        length, or one is not finite.

    Examples
    --------
    >>> round_up_to_step_mm(1401.0, 100.0), round_up_to_step_mm(1400.0, 100.0)
    (1500.0, 1400.0)
    """
    refuse_unreal(length_mm)
    if not 0 < step_mm < math.inf:
        raise LengthError(f"cutting step is {step_mm:g} mm; it must be above zero")
    if length_mm / step_mm > 1e9:
        raise LengthError(f"cutting step of {step_mm:g} mm is too small for {length_mm:g} mm")
    steps = math.ceil(length_mm / step_mm)
    while steps > 0 and (steps - 1) * step_mm >= length_mm - 1e-6:
        steps -= 1
    while steps * step_mm < length_mm - 1e-6:
        steps += 1
    return steps * step_mm
