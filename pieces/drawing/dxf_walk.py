"""Walk through a DXF document, and collect its lines, points and texts."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from pieces.drawing.affine import apply
from pieces.drawing.drawing import Fact, fact_of
from pieces.drawing.dxf_entity import DRAWN, strokes_of
from pieces.drawing.dxf_layers import guess_dialect, layer_role
from pieces.drawing.labels import Role, read_label
from pieces.drawing.limits import LONGEST_WORDS, Budget
from pieces.drawing.mark import Group, Mark, Marks, Writing
from pieces.errors import DrawingError
from pieces.grainline import Point
from pieces.outline.polygon import FloatArray

_DEEPEST = 4
_SAME_POINT_MM = 0.01
_UNITS_MM = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0, 14: 100.0}
"""Size of a unit by its code in the header ($INSUNITS): in, ft, mm, cm, m and dm."""

_UNIT_WORDS = {"METRIC": 1.0, "MM": 1.0, "CM": 10.0, "ENGLISH": 25.4, "INCH": 25.4, "INCHES": 25.4}


@dataclass
class _Found:
    marks: list[Mark] = field(default_factory=list)
    words: list[Writing] = field(default_factory=list)
    groups: list[Group] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


def walk(
    document: Any, *, unit_mm: float | None, dialect: str | None, layers: Mapping[str, Role]
) -> Marks:
    """Return all marks of a DXF document in mm.

    Parameters
    ----------
    document
        As ezdxf reads it.
    unit_mm
        Size of one unit, mm, or None to take it from the file.
    dialect
        Which list of layer numbers holds, or None to guess.
    layers
        What a mapping file says of layers.

    Raises
    ------
    DrawingError
        If the file does not say its unit, inserts go round in a circle, or limits are exceeded.
    """
    unit_mm, note = (unit_mm, "as asked") if unit_mm else _unit_of(document)
    if dialect is None:
        dialect = guess_dialect(
            (entity.dxftype(), entity.dxf.layer) for entity in _all_entities(document)
        )
    walker = _Walker(document, dialect, layers)
    walker.walk(np.diag([unit_mm, unit_mm, 1.0]))
    found = walker.found
    notes = [
        f"one unit of the drawing is {unit_mm:g} mm, {note}",
        f'layer numbers are read in the dialect "{dialect}"',
    ]
    return Marks(
        marks=tuple(found.marks),
        words=tuple(found.words),
        groups=tuple(found.groups),
        notes=(*notes, *found.notes),
    )


def _all_entities(document: Any) -> Iterator[Any]:
    yield from document.modelspace()
    for block in _blocks(document):
        yield from block


def _blocks(document: Any) -> Iterator[Any]:
    return (block for block in document.blocks if not block.name.startswith("*"))


def _unit_of(document: Any) -> tuple[float, str]:
    """Return the size of one unit as the header says, or else a text ``Units: ...``."""
    size_mm = _UNITS_MM.get(document.header.get("$INSUNITS", 0))
    if size_mm is not None:
        return size_mm, "as its header says"
    for entity in _all_entities(document):
        for identifier, value in _facts(entity):
            if identifier == "units" and value.strip().upper() in _UNIT_WORDS:
                return _UNIT_WORDS[value.strip().upper()], f'as "Units: {value.strip()}" says'
    raise DrawingError("the drawing does not say its unit; say it, as in --units mm or --units in")


def _facts(entity: Any) -> list[Fact]:
    """Return the facts in a text, and none for any other entity."""
    if entity.dxftype() == "TEXT":
        lines = [str(entity.dxf.text)]
    elif entity.dxftype() == "MTEXT":
        lines = str(entity.plain_text()).splitlines()
    else:
        return []
    facts = (fact_of(line[:LONGEST_WORDS]) for line in lines[:LONGEST_WORDS])
    return [fact for fact in facts if fact is not None]


class _Walker:
    def __init__(self, document: Any, dialect: str, layers: Mapping[str, Role]) -> None:
        self.found = _Found()
        self._document = document
        self._dialect, self._layers = dialect, layers
        self._budget = Budget()

    def walk(self, matrix: FloatArray) -> None:
        """Read the blocks that are inserted, or all if none is, and what lies outside blocks."""
        inserts = [e for e in self._document.modelspace() if e.dxftype() == "INSERT"]
        met: set[str] = set()
        for insert in inserts:
            name = insert.dxf.name
            block = self._document.blocks.get(name)
            if block is None or name in met:
                continue
            met.add(name)
            turned = matrix @ _insert_matrix(insert, block)
            turned[:2, 2] = 0.0  # a piece keeps its own coordinates
            if not self._block(block, turned):
                self._entities([insert], matrix, None, 0)
        if not inserts:
            for block in _blocks(self._document):
                self._block(block, matrix)
        loose = [e for e in self._document.modelspace() if e.dxftype() != "INSERT"]
        self._entities(loose, matrix, None, 0)

    def _block(self, block: Any, matrix: FloatArray) -> bool:
        """Read a block if it is a piece: it has an outline, or a text that names it."""
        roles = (self._role(entity) for entity in block if entity.dxftype() in DRAWN)
        named = any(name == "piece name" for entity in block for name, _ in _facts(entity))
        if not named and Role.OUTLINE not in roles:
            return False
        label = read_label(block.name)
        name = label.name or block.name
        self.found.groups.append(Group(name=name, size=label.size or ""))
        self._entities(list(block), matrix, len(self.found.groups) - 1, 0)
        return True

    def _entities(
        self, entities: list[Any], matrix: FloatArray, group: int | None, depth: int
    ) -> None:
        if depth > _DEEPEST:
            raise DrawingError(
                "blocks are inserted in blocks too deeply, or go round in a circle; explode them"
            )
        for entity in entities:
            self._budget.take_element()
            kind = entity.dxftype()
            if kind == "INSERT":
                block = self._document.blocks.get(entity.dxf.name)
                if block is not None:
                    inner = matrix @ _insert_matrix(entity, block)
                    self._entities(list(block), inner, group, depth + 1)
            elif kind in ("TEXT", "MTEXT"):
                at = apply(matrix, np.array([[entity.dxf.insert.x, entity.dxf.insert.y]]))[0]
                self._text(entity, (float(at[0]), float(at[1])), group)
            elif kind in DRAWN:
                self._drawn(entity, matrix, group)

    def _drawn(self, entity: Any, matrix: FloatArray, group: int | None) -> None:
        role = self._role(entity)
        if role is Role.IGNORE:
            return
        for stroke in strokes_of(entity, matrix, self._budget):
            self.found.marks.append(
                Mark(points_mm=stroke.points_mm, closed=stroke.closed, role=role, group=group)
            )

    def _role(self, entity: Any) -> Role | None:
        return layer_role(str(entity.dxf.layer), self._dialect, self._layers)

    def _text(self, entity: Any, at: Point, group: int | None) -> None:
        for fact in _facts(entity):
            identifier, value = fact
            if identifier == "match point":
                mark = Mark(points_mm=np.array([at]), role=Role.MATCH, name=value, group=group)
                self.found.marks.append(mark)
            elif identifier == "internal line":
                self._name_line(at, value, group)
            else:
                self.found.words.append(Writing(fact=fact, at_mm=at, group=group))

    def _name_line(self, at: Point, name: str, group: int | None) -> None:
        """Name the last line without a name that begins where the text stands."""
        marks = self.found.marks
        for i in range(len(marks) - 1, -1, -1):
            one = marks[i]
            if one.group != group:
                return
            gap = float(np.hypot(*(one.points_mm[0] - at)))
            if one.role is Role.LINE and not one.name and gap <= _SAME_POINT_MM:
                marks[i] = replace(one, name=name)
                return


def _insert_matrix(insert: Any, block: Any) -> FloatArray:
    """Return the map of an insert: its base to the origin, scale, turn, then its place."""
    base, at = block.block.dxf.base_point, insert.dxf.insert
    turn = np.radians(insert.dxf.rotation)
    cosine, sine = float(np.cos(turn)), float(np.sin(turn))
    if insert.dxf.rotation % 90.0 == 0.0:
        cosine, sine = round(cosine), round(sine)
    turned = np.array([[cosine, -sine, at.x], [sine, cosine, at.y], [0.0, 0.0, 1.0]])
    scaled = np.diag([insert.dxf.xscale, insert.dxf.yscale, 1.0])
    moved = np.array([[1.0, 0.0, -base.x], [0.0, 1.0, -base.y], [0.0, 0.0, 1.0]])
    matrix: FloatArray = turned @ scaled @ moved
    return np.diag([-1.0, 1.0, 1.0]) @ matrix if insert.dxf.extrusion.z < 0.0 else matrix
