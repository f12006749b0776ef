"""One piece on the cloth: fill, hatching, edge, grainline, marks and label."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

import numpy as np
import shapely

from nesting.draw.design_acts import match_mark
from nesting.draw.grain_arrow import arrow_clear_of
from nesting.draw.label_fit import Fit
from nesting.draw.scene import (
    AROUND,
    Act,
    Anchor,
    Area,
    Arrow,
    Group,
    Lines,
    Text,
    cross,
    line,
    ring,
)
from nesting.draw.style import INK, SOFT_INK, Look, hatching
from pieces.grainline import Point
from pieces.outline.polygon import FloatArray
from pieces.piece import PieceShape


@dataclass(frozen=True)
class DrawnPiece:
    """What is drawn of one placement.

    Parameters
    ----------
    shape
        The piece where it lies, mm.
    title
        What a reader is told of it.
    fill
        Its colour.
    turned_over
        True if the pattern paper lies printed side down.
    label
        Its words and their place, or None where nothing can be written.
    letters
        A short letter for each match point name.
    meets
        For each match point on the repeat of the cloth, whether it agrees with the others.
    """

    shape: PieceShape
    title: str
    fill: str
    turned_over: bool
    label: Fit | None
    letters: Mapping[str, str]
    meets: Mapping[str, bool] = field(default_factory=lambda: MappingProxyType({}))


def match_letters(shapes: Iterable[PieceShape]) -> dict[str, str]:
    """Return a, b, c ... for the names of match points, in order of first mention."""
    names = dict.fromkeys(mark.name for shape in shapes for mark in shape.match_points)
    return {name: _letter_of(number) for number, name in enumerate(names)}


def _letter_of(number: int) -> str:
    """Return a to z, then aa, ab and so on."""
    high, low = divmod(number, 26)
    return (_letter_of(high - 1) if high else "") + chr(ord("a") + low)


def piece_group(piece: DrawnPiece, look: Look) -> Group:
    """Return all acts of one piece, its label last."""
    shape = piece.shape
    hatch = hatching(shape.outline_mm, step_mm=0.75 * look.unit_mm) if piece.turned_over else ()
    arrow = _grain_arrow(piece, look)
    label = () if piece.label is None else _label_acts(piece, piece.label, arrow, look)
    return Group(
        "piece",
        (
            Area(shape.outline_mm, fill=piece.fill),
            *((Group("turned over", (Lines(hatch, look.pen(0.035, SOFT_INK)),)),) if hatch else ()),
            *_internal_lines(shape, look),
            Area(shape.outline_mm, pen=look.pen(0.11)),
            *_fold_bracket(shape, look),
            arrow,
            *_marks(piece, arrow, look),
            *label,
        ),
        title=piece.title,
    )


def _marks(piece: DrawnPiece, arrow: Arrow, look: Look) -> tuple[Act, ...]:
    """Return notches, drill holes and match points."""
    return (
        *_notches(piece.shape, look),
        *_drill_holes(piece.shape, look),
        *_match_points(piece, arrow, look),
    )


def _label_acts(piece: DrawnPiece, label: Fit, arrow: Arrow, look: Look) -> tuple[Act, ...]:
    """Return the label, on a plate of the piece's colour where lines would run through it."""
    drawn = [inner.points_mm for inner in piece.shape.internal_lines]
    lines = shapely.union_all([shapely.LineString(points) for points in (*drawn, arrow.shaft_mm)])
    texts = Group("label", label.texts(INK))
    block = label.box
    if not piece.turned_over and not shapely.intersects(lines, block):
        return (texts,)
    plate = _grown(block, 0.12 * look.unit_mm, piece.shape.outline_mm)
    return (Group("plate", (Area(plate, fill=piece.fill),)), texts)


def _grown(box: shapely.Polygon, by_mm: float, outline: FloatArray) -> FloatArray:
    """Return the corners of a box grown by a little, but not beyond the outline."""
    grown = box.buffer(by_mm, join_style="mitre")
    kept = grown if shapely.Polygon(outline).covers(grown) else box
    corners: FloatArray = shapely.get_coordinates(kept)[:-1]
    return corners


def _grain_arrow(piece: DrawnPiece, look: Look) -> Arrow:
    """Return the grainline arrow, moved where the label takes its place and there is room."""
    grain = piece.shape.grainline
    ends = None
    if piece.label is not None:
        ends = arrow_clear_of(piece.shape, piece.label.box, look)
    if ends is None:
        ends = np.array([grain.tail_mm, grain.head_mm])
    length = float(np.linalg.norm(ends[1] - ends[0]))
    tail, tip = ((float(x), float(y)) for x, y in ends)
    return Arrow(tail, tip, look.pen(0.07), min(0.75 * look.unit_mm, 0.5 * length))


def _internal_lines(shape: PieceShape, look: Look) -> tuple[Act, ...]:
    if not shape.internal_lines:
        return ()
    points = tuple(drawn.points_mm for drawn in shape.internal_lines)
    return (Group("internal lines", (Lines(points, look.pen(0.05, INK, (0.35, 0.22))),)),)


def _notches(shape: PieceShape, look: Look) -> tuple[Act, ...]:
    """Return a short stroke inward from the edge for each notch."""
    if not shape.notches:
        return ()
    depth = 0.5 * look.unit_mm
    strokes = []
    for notch in shape.notches:
        inward = _inward(shape.outline_mm, notch.at_mm)
        x, y = notch.at_mm
        strokes.append(line((x, y), (x + depth * inward[0], y + depth * inward[1])))
    return (Group("notches", (Lines(tuple(strokes), look.pen(0.13)),)),)


def _inward(outline: FloatArray, at_mm: Point) -> FloatArray:
    """Return the unit vector into an anticlockwise outline, square to the edge nearest a point."""
    steps = np.roll(outline, -1, axis=0) - outline
    squares = np.maximum((steps**2).sum(axis=1), 1e-12)
    share = np.clip(((np.array(at_mm) - outline) * steps).sum(axis=1) / squares, 0.0, 1.0)
    away = np.linalg.norm(outline + steps * share[:, None] - np.array(at_mm), axis=1)
    along = steps[int(away.argmin())]
    inward: FloatArray = np.array([-along[1], along[0]]) / np.linalg.norm(along)
    return inward


def _drill_holes(shape: PieceShape, look: Look) -> tuple[Act, ...]:
    rings = tuple(
        Area(ring(mark.at_mm, 0.2 * look.unit_mm), pen=look.pen(0.06)) for mark in shape.drill_holes
    )
    return (Group("drill holes", rings),) if rings else ()


def _match_points(piece: DrawnPiece, arrow: Arrow, look: Look) -> tuple[Act, ...]:
    """Return a small cross for each match point, with its letter; a diamond on the repeat."""
    arm = 0.22 * look.unit_mm
    acts: list[Act] = []
    for mark in piece.shape.match_points:
        acts.append(Lines(cross(mark.at_mm, arm), look.pen(0.07)))
        acts.append(_letter(piece, mark.at_mm, arrow, look=look, letter=piece.letters[mark.name]))
    marks = [Group("match points", tuple(acts))] if acts else []
    for meets, group in ((True, "meeting points"), (False, "points that miss")):
        diamonds = tuple(
            match_mark(mark.at_mm, look, meets=meets)
            for mark in piece.shape.match_points
            if piece.meets.get(mark.name) is meets
        )
        marks += [Group(group, diamonds)] if diamonds else []
    return tuple(marks)


def _letter(piece: DrawnPiece, at_mm: Point, arrow: Arrow, *, look: Look, letter: str) -> Text:
    """Return the letter beside a cross: inside the piece and clear of its label where it can be."""
    inside = shapely.Polygon(piece.shape.outline_mm)
    words = [] if piece.label is None else [piece.label.box]
    taken = shapely.union_all([*words, shapely.LineString([arrow.tail_mm, arrow.tip_mm])])
    tried = [
        (_letter_at(at_mm, letter, size * look.unit_mm, away=away * look.unit_mm * direction))
        for size in (0.6, 0.45)
        for away in (0.55, 0.75, 1.0)
        for direction in AROUND[::3]
    ]
    boxes = shapely.polygons([text.box_mm for text in tried])
    outside = shapely.area(shapely.difference(boxes, inside))
    covered = shapely.area(shapely.intersection(boxes, taken))
    crossed = shapely.length(shapely.intersection(boxes, taken))
    return tried[int(np.argmin(np.round(100.0 * outside + 10.0 * covered + crossed, 6)))]


def _letter_at(at_mm: Point, letter: str, size_mm: float, *, away: FloatArray) -> Text:
    x, y = np.array(at_mm) + away
    return Text(letter, (float(x), float(y) - 0.28 * size_mm), size_mm, INK, anchor=Anchor.MIDDLE)


def _fold_bracket(shape: PieceShape, look: Look) -> tuple[Act, ...]:
    """Return the edge on the fold, and a bracket whose two arrows point to it."""
    if shape.fold_edge_mm is None:
        return ()
    start, end = (np.array(point) for point in shape.fold_edge_mm)
    along = (end - start) / np.linalg.norm(end - start)
    inward = _inward(shape.outline_mm, tuple((start + end) / 2.0))
    reach = min(1.1 * look.unit_mm, 0.2 * float(np.linalg.norm(end - start)))
    ends = (start + along * reach, end - along * reach)
    rail = [point + inward * reach for point in ends]
    arrows = tuple(
        Arrow(tuple(top), tuple(foot + inward * 0.1 * reach), look.pen(0.06), 0.5 * reach)
        for top, foot in zip(rail, ends, strict=True)
    )
    return (
        Group(
            "on fold",
            (
                Lines((np.array([start, end]),), look.pen(0.16, INK, (0.9, 0.3, 0.15, 0.3))),
                Lines((np.array(rail),), look.pen(0.06)),
                *arrows,
            ),
        ),
    )
