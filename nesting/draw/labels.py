"""What is written on a piece, and where on it there is room for the words."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from nesting.cloth.spread import LAYERS, Spread
from nesting.draw.grain_arrow import arrow_clear_of
from nesting.draw.label_fit import Block, Fit, FittingSurface, Surface, fit_block, upright_deg
from nesting.draw.style import Look
from nesting.languages import ENGLISH, Words
from nesting.marker.cut_list import CutItem
from nesting.marker.marker import Marker
from nesting.marker.placement import Placement, lies_on_fold, pieces_cut
from pieces.piece import PieceShape


@dataclass(frozen=True)
class PieceWords:
    """What a person must know of one piece on the cloth.

    Parameters
    ----------
    title, size
        From the pattern.
    copies
        Which finished pieces come of cutting here, such as ``"1 of 2"``.
    marks
        Any of ``"on fold"``, ``"pair: both layers"``, ``"both layers: cuts 2"`` and
        ``"turned over"``.
    """

    title: str
    size: str
    copies: str
    marks: tuple[str, ...]

    @property
    def sentence(self) -> str:
        """All of it in one line."""
        return ", ".join((f"{self.title} {self.size}", self.copies, *self.marks))

    @property
    def kind(self) -> str:
        """What it has in common with other copies that lie the same way."""
        return ", ".join((f"{self.title} {self.size}", *self.marks))


def words_of_all(marker: Marker, words: Words = ENGLISH) -> tuple[PieceWords, ...]:
    """Return the words of each placement, in the order of the marker."""
    cut_before: dict[str, int] = {}
    told = []
    for placement in marker.placements:
        item = marker.item_by_key[placement.item]
        spread = marker.stretches[placement.stretch].spread
        first = cut_before.get(item.key, 0) + 1
        last = first - 1 + sum(pieces_cut(item, placement, spread))
        cut_before[item.key] = last
        told.append(
            PieceWords(
                item.title,
                item.size,
                _copies(first, last, item.count, words),
                _marks(item, placement, spread, words),
            )
        )
    return tuple(told)


def _copies(first: int, last: int, count: int, words: Words) -> str:
    if first == last:
        return words.say("{number} of {count}", number=first, count=count)
    return words.say("{first} and {last} of {count}", first=first, last=last, count=count)


def _marks(item: CutItem, placement: Placement, spread: Spread, words: Words) -> tuple[str, ...]:
    marks = []
    if lies_on_fold(item, spread):
        marks.append(words.say("on fold"))
    elif LAYERS[spread] == 2:
        marks.append(
            words.say("pair: both layers") if item.turned_over else words.say("both layers: cuts 2")
        )
    if placement.flipped:
        marks.append(words.say("turned over"))
    return tuple(marks)


def fit_label(words: PieceWords, shape: PieceShape, look: Look) -> Fit | None:
    """Return the largest label that fits inside the piece, or None if all would be too small."""
    return _fit(_blocks(words, look.words), shape, look, _angles(shape))


def fit_number(number: str, shape: PieceShape, look: Look) -> Fit | None:
    """Return a short word inside a piece too small for its label, however small it must be."""
    block = [Block((number,))]
    found = _fit(block, shape, look, (0.0,))
    if found is not None:
        return found
    level = [FittingSurface(shapely.Polygon(shape.outline_mm), 0.0)]
    tiny_mm = 0.01 * look.least_label_mm
    return fit_block(level, block, largest_mm=look.least_label_mm, least_mm=tiny_mm)


def _fit(
    blocks: Sequence[Block], shape: PieceShape, look: Look, angles_deg: Sequence[float]
) -> Fit | None:
    """Return the best fit; a label over marks must be much larger than one clear of them."""
    best: Fit | None = None
    for surface in _surfaces(shape, look):
        levels = [FittingSurface(surface, deg) for deg in angles_deg]
        floor = look.least_label_mm if best is None else best.size_mm * 1.3
        found = _fit_with_arrow(levels, blocks, shape, look=look, least_mm=floor)
        best = best if found is None else found
        if best is not None and best.size_mm >= look.good_label_mm:
            return best
    return best


def _fit_with_arrow(
    levels: Sequence[FittingSurface],
    blocks: Sequence[Block],
    shape: PieceShape,
    *,
    look: Look,
    least_mm: float,
) -> Fit | None:
    """Return the largest fit that leaves room for the grainline arrow, or None."""
    largest = look.largest_label_mm
    while largest >= least_mm:
        found = fit_block(levels, blocks, largest_mm=largest, least_mm=least_mm)
        if found is None or arrow_clear_of(shape, found.box, look) is not None:
            return found
        largest = 0.85 * found.size_mm
    return None


def _blocks(words: PieceWords, said: Words) -> list[Block]:
    """Return the same words in blocks of different shape, the most welcome first."""
    dot = " \N{MIDDLE DOT} "
    parts = (words.size, words.copies, *words.marks)
    title = words.title.split()
    full = said.say("size {size}", size=parts[0]) + dot + parts[1]
    return [
        Block((words.title, full, *words.marks)),
        Block((words.title, dot.join(parts[:2]), *words.marks)),
        *(
            Block((*halves, dot.join(parts[:2]), *words.marks), 2)
            for halves in _halves(words.title)
        ),
        Block((words.title, dot.join(parts))),
        Block((dot.join((words.title, *parts)),)),
        Block((*title, *(word for part in parts for word in _broken(part))), len(title)),
    ]


def _broken(words: str) -> tuple[str, ...]:
    """Return a mark as two lines if it has a colon."""
    first, colon, rest = words.partition(": ")
    return (first + colon.strip(), rest) if colon else (words,)


def _halves(title: str) -> list[tuple[str, str]]:
    """Return the title cut at the space nearest its middle, if it has one."""
    spaces = [i for i, letter in enumerate(title) if letter == " "]
    if not spaces:
        return []
    cut = min(spaces, key=lambda i: abs(i - len(title) / 2))
    return [(title[:cut], title[cut + 1 :])]


def _angles(shape: PieceShape) -> tuple[float, ...]:
    """Return directions for words: level, upright, along the grain, along the piece's length."""
    box = shapely.minimum_rotated_rectangle(shapely.Polygon(shape.outline_mm))
    corners = shapely.get_coordinates(box)
    sides = np.diff(corners[:3], axis=0)
    longer = sides[int(np.argmax(np.linalg.norm(sides, axis=1)))]
    along = float(np.degrees(np.arctan2(longer[1], longer[0])))
    wanted = (0.0, 90.0, shape.grainline.angle_deg, along)
    return tuple(dict.fromkeys(round(upright_deg(deg), 3) for deg in wanted))


def _surfaces(shape: PieceShape, look: Look) -> list[Surface]:
    """Return where words may stand: clear of all marks, then of the arrow alone, then anywhere.

    Words stay clear of the fold bracket in all of them.
    """
    inner = shapely.Polygon(shape.outline_mm).buffer(-0.24 * look.unit_mm)
    if shape.fold_edge_mm is not None:
        fold = shapely.LineString(shape.fold_edge_mm)
        kept = inner.difference(fold.buffer(1.3 * look.unit_mm))
        inner = inner if kept.is_empty else kept
    arrow = shapely.LineString([shape.grainline.tail_mm, shape.grainline.head_mm])
    lines = [shapely.LineString(drawn.points_mm) for drawn in shape.internal_lines]
    marked = [mark.at_mm for mark in shape.drill_holes]
    marked += [mark.at_mm for mark in shape.match_points]
    marked += [mark.at_mm for mark in shape.notches]
    spots = [shapely.Point(at) for at in marked]
    clear = inner.difference(arrow.buffer(0.38 * look.unit_mm))
    bare = clear.difference(
        shapely.union_all(
            [line.buffer(0.2 * look.unit_mm) for line in lines]
            + [spot.buffer(0.6 * look.unit_mm) for spot in spots]
        )
    )
    return [surface for surface in (bare, clear, inner) if not surface.is_empty]
