"""Find the place inside an outline where a block of words can be written largest.

The surface is laid level with the words and divided into cells; a summed-area table (Crow 1984,
"Summed-area tables for texture mapping") tells for every position at once whether a box of so
many cells holds nothing but surface. The winning box is then checked against the true surface.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import shapely

from nesting.draw.scene import CAP_SHARE, DROP_SHARE, Anchor, Text
from nesting.draw.text_width import text_width_mm
from pieces.outline.polygon import FloatArray
from pieces.outline.transform import turn

_CELLS = 72
_SHRINK = 0.93
_TRIES = 12
LINE_SHARE = 1.22
"""From one base line to the next, over the type size."""

Surface: TypeAlias = shapely.Polygon | shapely.MultiPolygon


@dataclass(frozen=True)
class Block:
    """Lines of words written one under another, centred; the first may be bold.

    Parameters
    ----------
    lines
        From top to bottom.
    bold_lines
        How many of them, from the top, are bold.
    """

    lines: tuple[str, ...]
    bold_lines: int = 1

    @property
    def width(self) -> float:
        """Width of the widest line at type size 1."""
        return max(
            text_width_mm(words, 1.0, bold=number < self.bold_lines)
            for number, words in enumerate(self.lines)
        )

    @property
    def height(self) -> float:
        """Height over all lines at type size 1."""
        return CAP_SHARE + DROP_SHARE + LINE_SHARE * (len(self.lines) - 1)


@dataclass(frozen=True)
class Fit:
    """Where a block goes: middle of its box, turn and type size."""

    block: Block
    middle_mm: tuple[float, float]
    turn_deg: float
    size_mm: float

    @property
    def box(self) -> shapely.Polygon:
        """The box around all lines, mm."""
        half = np.array([self.block.width, self.block.height]) * self.size_mm / 2.0
        corners = np.array([(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)]) * half
        return shapely.Polygon(turn(corners, self.turn_deg) + self.middle_mm)

    def texts(self, colour: str) -> tuple[Text, ...]:
        """Return the lines in their places."""
        top = self.block.height / 2.0 - CAP_SHARE
        offsets = np.array([(0.0, top - LINE_SHARE * i) for i in range(len(self.block.lines))])
        places = turn(offsets * self.size_mm, self.turn_deg) + self.middle_mm
        return tuple(
            Text(
                words,
                (float(x), float(y)),
                self.size_mm,
                colour,
                turn_deg=self.turn_deg,
                bold=number < self.block.bold_lines,
                anchor=Anchor.MIDDLE,
            )
            for number, (words, (x, y)) in enumerate(zip(self.block.lines, places, strict=True))
        )


class FittingSurface:
    """A surface, laid level at one angle and divided into cells, ready to try blocks on.

    Parameters
    ----------
    surface
        Where words may stand.
    turn_deg
        The angle at which the words will run.
    """

    def __init__(self, surface: Surface, turn_deg: float) -> None:
        self.turn_deg = turn_deg
        self._level = shapely.transform(surface, lambda points: turn(points, -turn_deg))
        shapely.prepare(self._level)
        low_x, low_y, high_x, high_y = self._level.bounds
        self._origin = np.array([low_x, low_y])
        self._cell = np.array([high_x - low_x, high_y - low_y]) / _CELLS
        centre = self._level.centroid
        self._centre = np.array([centre.x, centre.y])
        self._sums = self._table()

    def _table(self) -> FloatArray:
        """Return for each node how many cells left of and below it lie inside."""
        steps = np.arange(_CELLS + 1)
        xs, ys = (self._origin[axis] + steps * self._cell[axis] for axis in (0, 1))
        grid_x, grid_y = np.meshgrid(xs, ys, indexing="ij")
        node = shapely.intersects_xy(self._level, grid_x, grid_y)
        cells = node[:-1, :-1] & node[1:, :-1] & node[:-1, 1:] & node[1:, 1:]
        sums = np.zeros((_CELLS + 1, _CELLS + 1))
        sums[1:, 1:] = cells.cumsum(axis=0).cumsum(axis=1)
        return sums

    def best(self, block: Block, *, largest_mm: float, least_mm: float) -> Fit | None:
        """Return the block at the largest size that fits, or None if even the least does not."""
        size = largest_mm
        while size >= least_mm:
            for middle in self._middles(block.width * size, block.height * size):
                if self._holds(middle, block.width * size, block.height * size):
                    x, y = turn(middle[None, :], self.turn_deg)[0]
                    return Fit(block, (float(x), float(y)), self.turn_deg, size)
            size *= _SHRINK
        return None

    def _middles(self, width_mm: float, height_mm: float) -> FloatArray:
        """Return the most central middles of boxes whose cells all lie inside, shape (k, 2)."""
        wide = max(1, int(np.ceil(width_mm / self._cell[0])))
        high = max(1, int(np.ceil(height_mm / self._cell[1])))
        if wide > _CELLS or high > _CELLS:
            return np.empty((0, 2))
        sums = self._sums
        inside = (
            sums[wide:, high:] - sums[:-wide, high:] - sums[wide:, :-high] + sums[:-wide, :-high]
        )
        corners = np.argwhere(inside >= wide * high - 0.5)
        middles = self._origin + (corners + np.array([wide, high]) / 2.0) * self._cell
        away = np.linalg.norm(middles - self._centre, axis=1)
        nearest: FloatArray = middles[np.argsort(away, kind="stable")[:_TRIES]]
        return nearest

    def _holds(self, middle: FloatArray, width_mm: float, height_mm: float) -> bool:
        half = np.array([width_mm, height_mm]) / 2.0
        return bool(self._level.covers(shapely.box(*(middle - half), *(middle + half))))


def fit_block(
    surfaces: Sequence[FittingSurface],
    blocks: Sequence[Block],
    *,
    largest_mm: float,
    least_mm: float,
) -> Fit | None:
    """Return the fit with the largest type; earlier surfaces and blocks win unless much smaller.

    A later choice must be a sixth larger than the best so far to be taken, and words that are
    not level two fifths larger than level ones.
    """
    best: Fit | None = None
    for block in blocks:
        for surface in surfaces:
            floor = least_mm if best is None else best.size_mm * _gain(best, surface)
            if floor <= largest_mm:
                found = surface.best(block, largest_mm=largest_mm, least_mm=floor)
                best = found if found is not None else best
    return best


def fit_title(title: str, surface: Surface, *, largest_mm: float, least_mm: float) -> Fit | None:
    """Return a bold title where it fits, on one line or several, level or upright, or None."""
    words = tuple(title.split())
    if surface.is_empty or not words:
        return None
    blocks = [Block((title,)), Block(words, len(words))]
    surfaces = [FittingSurface(surface, deg) for deg in (0.0, 90.0)]
    return fit_block(surfaces, blocks, largest_mm=largest_mm, least_mm=least_mm)


def _gain(best: Fit, surface: FittingSurface) -> float:
    """Return how many times larger a fit on this surface must be than the best so far."""
    if surface.turn_deg == best.turn_deg:
        return 7.0 / 6.0
    return 1.0 if surface.turn_deg == 0.0 else 1.4


def upright_deg(deg: float) -> float:
    """Return the direction in (-90, 90] along the same line, so that words are not upside down.

    Examples
    --------
    >>> upright_deg(180.0), upright_deg(270.0), upright_deg(-45.0)
    (0.0, 90.0, -45.0)
    """
    return 90.0 - (90.0 - deg) % 180.0
