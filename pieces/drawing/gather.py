"""From lines and points to pieces: which marks belong to which outline."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt
import shapely

from pieces.drawing.drawing import Drawing, DrawnShape, Fact, first
from pieces.drawing.labels import Role
from pieces.drawing.limits import MOST_PIECES
from pieces.drawing.mark import Group, Mark, Marks, Writing
from pieces.drawing.shape_of import shape_of
from pieces.errors import DrawingError, PiecesError
from pieces.grainline import Point
from pieces.outline.polygon import area_mm2, bounds_mm

IntArray = npt.NDArray[np.intp]

_NEAR_MM = 3.0


@dataclass(frozen=True, kw_only=True)
class _OnePiece:
    """One piece to be: its outline, and what stands in it."""

    group: Group
    outline: Mark
    marks: tuple[Mark, ...]
    facts: tuple[Fact, ...]


def gather(read: Marks) -> Drawing:
    """Return the pieces of a drawing.

    A group that is a piece holds one outline: the one so named, or else its largest closed line.
    Outlines outside such groups take what lies inside them. Where nothing is named at all, every
    closed line that lies in no other is a piece.

    Raises
    ------
    DrawingError
        If there is no outline, a group holds two, or a piece cannot be made of its marks.
    """
    _refuse_many(len(read.groups))
    by_group: dict[int | None, list[Mark]] = {}
    for mark in read.marks:
        by_group.setdefault(mark.group, []).append(mark)
    grouped = [_of_group(i, read, by_group.get(i, [])) for i in range(len(read.groups))]
    loose = by_group.get(None, [])
    words = [one for one in read.words if one.group is None]
    named = [mark for mark in loose if mark.role is Role.OUTLINE]
    notes = list(read.notes)
    if not grouped and not named:
        named = _outermost(loose)
        if named:
            notes.append("no line is named an outline, so every outermost closed line is a piece")
    found, facts, unused = _by_place(named, loose, words)
    sheets = [*grouped, *found]
    if not sheets:
        raise DrawingError(
            "the drawing has no closed line for an outline; name the group of a piece "
            '"piece front" and its cut line "outline"'
        )
    _refuse_many(len(sheets))
    if unused:
        notes.append(f"{unused} lines and points outside all outlines are left out")
    shapes = tuple(_drawn(i, sheet) for i, sheet in enumerate(sheets))
    return Drawing(shapes=shapes, facts=(*read.facts, *facts), notes=tuple(notes))


def _refuse_many(count: int) -> None:
    if count > MOST_PIECES:
        raise DrawingError(f"the drawing has {count:,} pieces; the limit is {MOST_PIECES:,}")


def _of_group(number: int, read: Marks, marks: Sequence[Mark]) -> _OnePiece:
    group = read.groups[number]
    told = f'piece "{group.name}"' if group.name else f"piece group {number + 1}"
    outlines = [mark for mark in marks if mark.role is Role.OUTLINE]
    if len(outlines) > 1:
        raise DrawingError(f"{told} has {len(outlines)} outlines; give each piece its own group")
    if not outlines:
        closed = [mark for mark in marks if mark.role is None and _is_closed(mark)]
        outlines = sorted(closed, key=lambda mark: -area_mm2(mark.points_mm))[:1]
    if not outlines:
        raise DrawingError(f'{told} has no closed line; name its cut line "outline"')
    facts = [one.fact for one in read.words if one.group == number]
    rest = tuple(mark for mark in marks if mark is not outlines[0])
    return _OnePiece(group=group, outline=outlines[0], marks=rest, facts=(*group.facts, *facts))


def _outermost(marks: Iterable[Mark]) -> list[Mark]:
    """Return the closed lines without a part to play that lie in no other."""
    closed = [mark for mark in marks if mark.role is None and _is_closed(mark)]
    closed.sort(key=lambda mark: -area_mm2(mark.points_mm))
    closed = [mark for mark in closed[: 2 * MOST_PIECES] if area_mm2(mark.points_mm) > 0.0]
    places = _Places(closed)
    kept: list[int] = []
    for i, mark in enumerate(closed):
        if not places.is_held(mark.middle_mm, kept):
            kept.append(i)
    return [closed[i] for i in kept]


def _is_closed(mark: Mark) -> bool:
    points = mark.points_mm
    return len(points) > 2 and (mark.closed or np.allclose(points[0], points[-1], atol=1e-6))


class _Places:
    """The surfaces of outlines, to find out in which of them a point lies."""

    def __init__(self, outlines: Sequence[Mark]) -> None:
        areas = np.array([area_mm2(outline.points_mm) for outline in outlines])
        boxes = np.array([bounds_mm(outline.points_mm) for outline in outlines]).reshape(-1, 4)
        self._smallest_first = np.argsort(areas, kind="stable")
        self._low, self._high = boxes[:, :2] - _NEAR_MM, boxes[:, 2:] + _NEAR_MM
        surfaces = [shapely.polygons(outline.points_mm) for outline in outlines]
        self._surfaces = np.array(surfaces, dtype=object)

    def home_of(self, point: Point) -> int | None:
        """Return the number of the smallest outline that holds a point, or hardly misses it."""
        holding = self._holding(point, self._smallest_first)
        return int(holding[0]) if len(holding) else None

    def is_held(self, point: Point, by: Sequence[int]) -> bool:
        """Tell whether one of some outlines holds a point."""
        return len(self._holding(point, np.array(by, dtype=np.intp))) > 0

    def _holding(self, point: Point, among: IntArray) -> IntArray:
        boxed = (self._low[among] <= point).all(axis=1) & (point <= self._high[among]).all(axis=1)
        near = among[boxed]
        held = shapely.dwithin(self._surfaces[near], shapely.points(point), _NEAR_MM)
        return near[np.asarray(held, dtype=np.bool_)]


def _by_place(
    outlines: Sequence[Mark], marks: Sequence[Mark], words: Sequence[Writing]
) -> tuple[list[_OnePiece], list[Fact], int]:
    """Give each mark and text to the smallest outline that holds it; count those left over."""
    _refuse_many(len(outlines))
    taken: dict[int | None, list[Mark]] = {}
    told: dict[int | None, list[Fact]] = {}
    own = {id(mark) for mark in outlines}
    places = _Places(outlines)
    for mark in marks:
        if id(mark) not in own:
            taken.setdefault(places.home_of(mark.middle_mm), []).append(mark)
    for one in words:
        told.setdefault(places.home_of(one.at_mm), []).append(one.fact)
    sheets = [
        _OnePiece(
            group=Group(name=outline.name, size=outline.size),
            outline=outline,
            marks=tuple(taken.get(i, ())),
            facts=tuple(told.get(i, ())),
        )
        for i, outline in enumerate(outlines)
    ]
    return sheets, told.get(None, []), len(taken.get(None, []))


def _drawn(number: int, sheet: _OnePiece) -> DrawnShape:
    facts = sheet.facts
    name = first(facts, "piece name") or sheet.group.name or sheet.outline.name
    size = first(facts, "size") or sheet.group.size or sheet.outline.size
    assumed = []
    if not name:
        name = f"piece_{number + 1}"
        assumed.append("the drawing gives it no name")
    try:
        shape, more = shape_of(sheet.outline, sheet.marks, sheet.group.origin_mm)
    except PiecesError as error:
        told = f'piece "{name}"' + (f", size {size}" if size else "")
        raise DrawingError(f"{told}: {error}") from error
    others = tuple(fact for fact in facts if fact[0] not in ("piece name", "size"))
    has_arrow = any(mark.role is Role.GRAIN for mark in sheet.marks)
    drawn = DrawnShape(name=name, size=size, shape=shape, facts=others, has_arrow=has_arrow)
    return replace(drawn, assumed=(*assumed, *more))
