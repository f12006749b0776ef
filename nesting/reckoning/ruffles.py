"""Ruffles and gathers: the length of strip, and how many strips the cloth gives."""

from nesting.reckoning.limits import need_above_zero, need_between, need_not_negative, whole_times

SCANT, USUAL, FULL = 1.5, 2.0, 3.0
"""Fullness ratios of the sample ruffles of *Make a Ruffle Gauge*, instructables.com."""


def ruffle_strip_mm(
    finished_mm: float, ratio: float, *, starting_mm: float = 0.0, seams_mm: float = 0.0
) -> float:
    """Return the length of strip that gathers into a ruffle.

    Source: *How to estimate Ruffles and Gathers*, stitchcoach.blogspot.com, which adds some 2 in
    at the start and 1 in for two seams.

    Parameters
    ----------
    finished_mm
        Length of the edge that the ruffle is sewn to, mm.
    ratio
        Fullness, 1 to 6. Sources name 1.5 to 3; sheer cloth takes more, so it must be chosen.
    starting_mm, seams_mm
        Added once, mm: what is lost at the start, and the allowances of all joins.

    Raises
    ------
    ReckoningError
        If a measure is out of range.

    Examples
    --------
    >>> ruffle_strip_mm(400.0, 2.5)
    1000.0
    """
    need_above_zero("finished length", finished_mm)
    need_between("fullness ratio", ratio, 1.0, 6.0)
    need_not_negative("start of the ruffle", starting_mm)
    need_not_negative("seams", seams_mm)
    return finished_mm * ratio + starting_mm + seams_mm


def strips_needed(total_mm: float, usable_width_mm: float, *, join_mm: float = 0.0) -> int:
    """Return how many strips across the cloth make up a length, each join taking ``join_mm``.

    Raises
    ------
    ReckoningError
        If a length is out of range or a join takes a whole strip.

    Examples
    --------
    Three strips of 1 m give 3 m, less two joins of 3 cm:

    >>> strips_needed(2940.0, 1000.0, join_mm=30.0)
    3
    """
    need_above_zero("length of strip", total_mm)
    need_above_zero("usable width", usable_width_mm)
    need_not_negative("join", join_mm)
    need_above_zero("strip left beside its join", usable_width_mm - join_mm)
    if total_mm <= usable_width_mm:
        return 1
    return whole_times(total_mm - join_mm, usable_width_mm - join_mm)
