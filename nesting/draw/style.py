"""How our pictures look: tissue pattern paper on warm cloth, drawn in ink.

The fills are tints of the palette of Okabe & Ito 2008, "Color Universal Design: how to make
figures and presentations that are friendly to colorblind people", mixed with paper white so that
ink stays legible on them. No meaning rests on colour alone: whatever a fill tells is also
written, and a piece laid printed side down is hatched as well.
"""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import shapely

from nesting.draw.scene import Pen
from nesting.languages import ENGLISH, Words
from pieces.outline.polygon import FloatArray
from pieces.outline.transform import turn

PAPER = "#FFFDF8"
INK = "#2A2522"
SOFT_INK = "#6B6259"
CLOTH = "#F1E4CB"
SPARE = "#F8F1E3"
SELVAGE = "#D8C39A"
UNDER_LAYER = "#DCC9A5"
CUT = "#A33A00"
RULE = "#8C8174"
SWATCH = "#EFE9DF"
GRID = "#A08C66"
FLAW = "#FBEDE4"

# Okabe & Ito: sky blue, orange, bluish green, reddish purple, yellow, blue, vermilion.
_PALETTE = ("#56B4E9", "#E69F00", "#009E73", "#CC79A7", "#F0E442", "#0072B2", "#D55E00")
_TINTS = (0.42, 0.22)


@dataclass(frozen=True)
class Look:
    """Sizes of words and lines for one picture, and the language of its words.

    Parameters
    ----------
    unit_mm
        Type size of ordinary words, mm of cloth; every other size is a share of it.
    words
        What sentences are said with.
    """

    unit_mm: float
    words: Words = ENGLISH

    @property
    def least_label_mm(self) -> float:
        """Type size below which a label is replaced by a number, mm."""
        return 0.45 * self.unit_mm

    @property
    def good_label_mm(self) -> float:
        """Type size at which a label is easily read, mm."""
        return 0.7 * self.unit_mm

    @property
    def largest_label_mm(self) -> float:
        """Type size that no label goes beyond, mm."""
        return 1.5 * self.unit_mm

    def pen(self, share: float = 0.08, colour: str = INK, dash: tuple[float, ...] = ()) -> Pen:
        """Return a pen whose width and dashes are shares of the unit."""
        return Pen(colour, share * self.unit_mm, tuple(step * self.unit_mm for step in dash))


def look_for(length_mm: float, height_mm: float, words: Words = ENGLISH) -> Look:
    """Return sizes that stay legible when a picture of this size is seen at once."""
    return Look(min(max(0.0115 * max(length_mm, 1.25 * height_mm), 9.0), 60.0), words)


def tint(colour: str, share: float) -> str:
    """Return ``share`` of a colour mixed with paper white.

    Examples
    --------
    >>> tint("#000000", 0.5), tint("#000000", 0.0)
    ('#807E7C', '#FFFDF8')
    """
    mixed = (
        round(share * int(colour[i : i + 2], 16) + (1.0 - share) * int(PAPER[i : i + 2], 16))
        for i in (1, 3, 5)
    )
    return "#" + "".join(f"{part:02X}" for part in mixed)


def fills(names: Iterable[str]) -> dict[str, str]:
    """Return a fill for each name in order of first mention; after 14 they come round again."""
    unique = tuple(dict.fromkeys(names))
    count = len(_PALETTE)
    return {
        name: tint(_PALETTE[i % count], _TINTS[i // count % len(_TINTS)])
        for i, name in enumerate(unique)
    }


def hatching(
    outline_mm: FloatArray, *, step_mm: float, deg: float = 45.0
) -> tuple[FloatArray, ...]:
    """Return slanting lines ``step_mm`` apart, cut off at the outline, each of shape (2, 2)."""
    level = turn(outline_mm, -deg)
    low, high = level[:, 1].min(), level[:, 1].max()
    first, last = level[:, 0].min() - 1.0, level[:, 0].max() + 1.0
    heights = np.arange(low + step_mm / 2.0, high, step_mm)
    rows = shapely.linestrings([[(first, y), (last, y)] for y in heights])
    inside = shapely.intersection(rows, shapely.Polygon(level))
    runs = shapely.get_parts(shapely.get_parts(inside))
    return tuple(
        turn(shapely.get_coordinates(run), deg) for run in runs if shapely.length(run) > 0.0
    )
