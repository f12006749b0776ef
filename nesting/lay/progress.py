"""How far a lay has come, and how the progress of a part is told as that of the whole."""

from collections.abc import Callable
from dataclasses import dataclass

from nesting.engine import Progress


@dataclass(frozen=True)
class LayProgress:
    """How far laying has come.

    Parameters
    ----------
    length_mm
        Length so far: the stretches laid, and the best of the one being laid, mm.
    share
        How much of the search is over, from 0 to 1.
    """

    length_mm: float
    share: float


LayCallback = Callable[[LayProgress], bool | None]
"""Told of one lay; a true answer stops it."""
RowCallback = Callable[[int, LayProgress], bool | None]
"""Told of one of several lays, its number from 0 first; a true answer stops it."""


def part_of(progress: LayCallback | None, number: int, of: int) -> LayCallback | None:
    """Return what one of several lays tells, so that all are told as one."""
    if progress is None:
        return None
    return lambda report: progress(LayProgress(report.length_mm, (number + report.share) / of))


def row_of(progress: RowCallback | None, number: int) -> LayCallback | None:
    """Return what one of several lays tells, so that each is told with its number."""
    if progress is None:
        return None
    return lambda report: progress(number, report)


def stretch_of(
    progress: LayCallback | None, done_mm: float
) -> Callable[[Progress], bool | None] | None:
    """Return what the engine tells of one stretch, behind so many mm laid already."""
    if progress is None:
        return None
    return lambda report: progress(LayProgress(done_mm + report.length, report.share))
