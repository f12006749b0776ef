"""A marker drawn small, as on a shopping list: the cloth, the pieces, their names or numbers."""

from collections.abc import Mapping
from dataclasses import dataclass

import shapely

from nesting.cloth.spread import HALVED_ACROSS, Spread
from nesting.draw.cloth_frame import ClothFrame
from nesting.draw.label_fit import Block, Fit, FittingSurface, fit_block, fit_title
from nesting.draw.scene import Act, Area, Group, Lines, Pen, line, rectangle, scaled
from nesting.draw.style import (
    CLOTH,
    CUT,
    INK,
    RULE,
    SELVAGE,
    SOFT_INK,
    SPARE,
    UNDER_LAYER,
    fills,
    hatching,
)
from nesting.marker.marker import Marker
from nesting.marker.placement import lying_shape
from pieces.outline.polygon import FloatArray

_SMALLEST_NUMBER = 0.5
"""Of the least size of a name; a piece too small even for that bears no words."""
_EDGE_MM, _CUT_MM, _HATCH_MM = 0.22, 0.45, 1.3


@dataclass(frozen=True)
class Thumbnail:
    """A small picture.

    Parameters
    ----------
    acts
        Lower left corner at the origin, mm of paper.
    width_mm, height_mm
        Size on paper.
    numbers
        Number written instead of the name, by name, for pieces too small for it. The name has
        the size where sizes are mixed.
    """

    acts: tuple[Act, ...]
    width_mm: float
    height_mm: float
    numbers: Mapping[str, str]


def thumbnail_size_mm(marker: Marker, wide_mm: float, high_mm: float) -> tuple[float, float]:
    """Return the size at which a marker fits into a box on paper, mm.

    Raises
    ------
    EmptyMarkerError
        If nothing is placed.
    """
    frame = ClothFrame(marker)
    cloth_high = frame.top_mm - frame.bottom_mm
    share = min(wide_mm / frame.cut_mm, high_mm / cloth_high)
    return frame.cut_mm * share, cloth_high * share


def thumbnail(marker: Marker, wide_mm: float, high_mm: float, *, type_mm: float) -> Thumbnail:
    """Return a marker drawn as large as fits into a box on paper.

    Parameters
    ----------
    marker
        At least one piece placed.
    wide_mm, high_mm
        The box, mm of paper.
    type_mm
        Least size of a name on a piece, mm of paper; where it does not fit stands a number.

    Raises
    ------
    EmptyMarkerError
        If nothing is placed.
    """
    frame = ClothFrame(marker)
    width, height = thumbnail_size_mm(marker, wide_mm, high_mm)
    share = width / frame.cut_mm
    numbers: dict[str, str] = {}
    acts = [*_cloth(frame, share), *_pieces(frame, share, type_mm, numbers), *_cut(frame, share)]
    return Thumbnail(tuple(acts), width, height, numbers)


def _box(x0: float, y0: float, x1: float, y1: float, *, frame: ClothFrame) -> FloatArray:
    return rectangle(x0, y0 - frame.bottom_mm, x1, y1 - frame.bottom_mm)


def _cloth(frame: ClothFrame, share: float) -> list[Act]:
    """Return the cloth of each stretch with its selvages, and what is left over at the end."""
    acts: list[Act] = []
    selvage = frame.selvage_mm
    for stretch, start, end in frame.runs():
        low, high = frame.low_mm(stretch), frame.high_mm(stretch)
        folded = stretch.spread in HALVED_ACROSS
        halved = frame.halved_mm(stretch)
        acts.append(Area(_box(start, low, end, high, frame=frame), CLOTH))
        if halved is not None:
            acts.append(Area(_box(halved, low, stretch.end_mm, high, frame=frame), UNDER_LAYER))
        bands = [(high - selvage, high)] + ([] if folded else [(low, low + selvage)])
        if selvage > 0.0 and stretch.spread is not Spread.DOUBLE:
            acts += [Area(_box(start, y0, end, y1, frame=frame), SELVAGE) for y0, y1 in bands]
        if folded:
            deep = min(0.02 * (high - low), 0.8 / share)
            acts.append(Area(_box(start, low, end, low + deep, frame=frame), UNDER_LAYER))
            if stretch.spread is Spread.DOUBLE:
                acts.append(Area(_box(start, high - deep, end, high, frame=frame), UNDER_LAYER))
        acts.append(Area(_box(start, low, end, high, frame=frame), pen=Pen(RULE, 0.15 / share)))
    last, _, end = frame.runs()[-1]
    if end > frame.marker.length_mm:
        low, high = frame.low_mm(last), frame.high_mm(last)
        spare = _box(frame.marker.length_mm, low, end, high, frame=frame)
        acts.append(Area(spare, SPARE, Pen(RULE, 0.15 / share)))
    return [scaled(act, share) for act in acts]


def _pieces(frame: ClothFrame, share: float, type_mm: float, numbers: dict[str, str]) -> list[Act]:
    """Return the pieces with their names, or numbers that are noted in ``numbers``."""
    marker = frame.marker
    colours = fills(item.title for item in marker.items)
    is_mixed = len({item.size for item in marker.items}) > 1
    acts: list[Act] = []
    for placement in marker.placements:
        item, stretch = marker.item_by_key[placement.item], marker.stretches[placement.stretch]
        outline = lying_shape(item, placement, stretch.spread).outline_mm.copy()
        outline[:, 1] += frame.lift_mm(stretch) - frame.bottom_mm
        on_paper = outline * share
        name = f"{item.title} {item.size}" if is_mixed else item.title
        fit = _name(name, on_paper, type_mm)
        if fit is None:
            number = numbers.get(name, str(len(numbers) + 1))
            fit = _number(number, on_paper, type_mm)
            if fit is not None:
                numbers[name] = number
        hatch = hatching(on_paper, step_mm=_HATCH_MM) if placement.flipped else ()
        acts.append(
            Group(
                "piece",
                (
                    Area(on_paper, colours[item.title]),
                    *((Lines(hatch, Pen(SOFT_INK, 0.06)),) if hatch else ()),
                    Area(on_paper, pen=Pen(INK, _EDGE_MM)),
                    *(() if fit is None else (_plate(fit, colours[item.title]),)),
                    *(() if fit is None else fit.texts(INK)),
                ),
                title=name,
            )
        )
    return acts


def _plate(fit: Fit, colour: str) -> Area:
    """Return a patch of the piece's colour under its words, so that no hatching crosses them."""
    corners: FloatArray = shapely.get_coordinates(fit.box)[:-1]
    return Area(corners, colour)


def _name(title: str, outline: FloatArray, type_mm: float) -> Fit | None:
    """Return the title where it fits, on one line or several, level or upright."""
    inner = shapely.Polygon(outline).buffer(-0.3)
    return fit_title(title, inner, largest_mm=1.5 * type_mm, least_mm=type_mm)


def _number(number: str, outline: FloatArray, type_mm: float) -> Fit | None:
    surface = FittingSurface(shapely.Polygon(outline), 0.0)
    least = _SMALLEST_NUMBER * type_mm
    return fit_block([surface], [Block((number,))], largest_mm=type_mm, least_mm=least)


def _cut(frame: ClothFrame, share: float) -> list[Act]:
    """Return the line along which the shop cuts."""
    last, _, end = frame.runs()[-1]
    low, high = (y - frame.bottom_mm for y in (frame.low_mm(last), frame.high_mm(last)))
    edge = line((end * share, low * share), (end * share, high * share))
    return [Lines((edge,), Pen(CUT, _CUT_MM))]
