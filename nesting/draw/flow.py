"""Small blocks set side by side and wrapped into rows, for headings and keys."""

from collections.abc import Sequence
from dataclasses import dataclass

from nesting.draw.scene import Act, moved


@dataclass(frozen=True)
class Cell:
    """Acts around the origin: they reach right by ``width_mm`` and up by at most a row."""

    acts: tuple[Act, ...]
    width_mm: float


def flow(
    cells: Sequence[Cell], *, room_mm: float, row_mm: float, gap_mm: float
) -> tuple[tuple[Act, ...], float]:
    """Set cells from the left in rows going down from y = 0.

    Parameters
    ----------
    cells
        In reading order.
    room_mm
        Width of a row; a cell wider than this has a row to itself.
    row_mm, gap_mm
        Height of a row, and space between two cells.

    Returns
    -------
    tuple
        The acts, all below y = 0, and the height they take, mm.
    """
    acts: list[Act] = []
    x, rows = 0.0, 1 if cells else 0
    for cell in cells:
        if x > 0.0 and x + cell.width_mm > room_mm:
            x, rows = 0.0, rows + 1
        acts += [moved(act, x, -rows * row_mm) for act in cell.acts]
        x += cell.width_mm + gap_mm
    return tuple(acts), rows * row_mm
