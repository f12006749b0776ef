"""Walk through the tree of an SVG drawing, and collect its lines, points and texts."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import NamedTuple
from xml.etree.ElementTree import Element

import numpy as np

from pieces.drawing.affine import apply, read_transform
from pieces.drawing.drawing import Fact, fact_of, plain
from pieces.drawing.labels import Label, Role, read_label
from pieces.drawing.limits import LONGEST_WORDS, Budget
from pieces.drawing.mark import Group, Mark, Marks, Writing
from pieces.drawing.svg_element import SHAPES, strokes_of
from pieces.drawing.svg_path import Stroke
from pieces.drawing.svg_units import page_matrix, user_length
from pieces.errors import DrawingError
from pieces.outline.polygon import FloatArray

SVG = "{http://www.w3.org/2000/svg}"
LABEL = "{http://www.inkscape.org/namespaces/inkscape}label"
_HREFS = ("href", "{http://www.w3.org/1999/xlink}href")
_GROUPS = frozenset({"g", "a", "switch"})
_LEFT_OUT = {"image": "pictures are left out", "foreignObject": "foreign objects are left out"}
_DEEPEST_USE = 8


class Names(NamedTuple):
    """What a mapping file says of the names in a drawing."""

    roles: Mapping[str, Role]
    pieces: Mapping[str, tuple[str, str]]


@dataclass(frozen=True, eq=False)
class _Place:
    """Where the walk is: the map to mm, and what the groups around say."""

    matrix: FloatArray
    role: Role | None = None
    name: str = ""
    size: str = ""
    group: int | None = None
    uses: int = 0


@dataclass
class _Found:
    marks: list[Mark] = field(default_factory=list)
    words: list[Writing] = field(default_factory=list)
    groups: list[Group] = field(default_factory=list)
    notes: dict[str, None] = field(default_factory=dict)


def walk(root: Element, *, unit_mm: float | None, names: Names) -> Marks:
    """Return all marks of an SVG drawing in mm, y up.

    Raises
    ------
    DrawingError
        If it is no SVG drawing, holds what is not read safely, or exceeds the limits.
    """
    if root.tag != f"{SVG}svg":
        raise DrawingError("the file is XML but no SVG drawing; save the drawing as plain SVG")
    matrix, notes = page_matrix(root.attrib, unit_mm)
    walker = _Walker(root, names)
    walker.children(root, _Place(matrix))
    found = walker.found
    return Marks(
        marks=tuple(found.marks),
        words=tuple(found.words),
        groups=tuple(found.groups),
        facts=_data_facts(root),
        notes=(*notes, *found.notes),
    )


class _Walker:
    def __init__(self, root: Element, names: Names) -> None:
        self.found = _Found()
        self._names = names
        self._budget = Budget()
        self._by_id = {e.attrib["id"]: e for e in root.iter() if "id" in e.attrib}

    def children(self, parent: Element, place: _Place) -> None:
        for child in parent:
            if isinstance(child.tag, str):
                self._element(child, place)

    def _element(self, element: Element, place: _Place) -> None:
        tag = element.tag.removeprefix(SVG)
        self._budget.take_element()
        _refuse_active(tag, element.attrib)
        if _is_hidden(element.attrib):
            self.found.notes["what is hidden is left out"] = None
        elif tag == "text" and element.attrib.get("data-role") == Role.IGNORE:
            return
        elif tag in _LEFT_OUT:
            self.found.notes[_LEFT_OUT[tag]] = None
        elif tag == "svg":
            raise DrawingError("the drawing holds a drawing inside it; ungroup or inline it")
        elif tag in _GROUPS or tag in SHAPES or tag in ("use", "text"):
            self._visible(element, tag, self._inside(element, tag, place))

    def _visible(self, element: Element, tag: str, place: _Place) -> None:
        if place.role is Role.IGNORE:
            return
        if tag in SHAPES:
            for stroke in strokes_of(tag, element.attrib, place.matrix, self._budget):
                self.found.marks.append(_mark(stroke, element.attrib, place))
        elif tag == "use":
            self._use(element, place)
        elif tag == "text":
            self._text(element, place)
        else:
            self.children(element, place)

    def _inside(self, element: Element, tag: str, place: _Place) -> _Place:
        """Return what holds inside an element: its map, and what its names say."""
        if "transform" in element.attrib:
            place = replace(
                place, matrix=place.matrix @ read_transform(element.attrib["transform"])
            )
        if tag == "text":
            return place
        labels = list(self._labels(element.attrib))
        for label in labels:
            place = replace(
                place,
                role=label.role or place.role,
                name=label.name or ("" if label.role else place.name),
                size=label.size or place.size,
            )
        if tag in _GROUPS and (
            any(label.is_piece for label in labels)
            or (place.group is None and self._has_outline(element))
        ):
            place = self._enter_piece(element, place)
        return place

    def _enter_piece(self, element: Element, place: _Place) -> _Place:
        if place.group is not None:
            raise DrawingError(
                f'piece group "{place.name}" lies inside another piece; move it out of it'
            )
        x, y = apply(place.matrix, _origin(element.attrib))[0].tolist()
        has_origin = "data-origin" in element.attrib
        group = Group(
            name=place.name,
            size=place.size,
            facts=_data_facts(element),
            origin_mm=(x, y) if has_origin else (0.0, 0.0),
        )
        self.found.groups.append(group)
        return replace(place, group=len(self.found.groups) - 1, role=None, name="")

    def _labels(self, attributes: Mapping[str, str]) -> Iterator[Label]:
        """Yield what id, class, label and data of an element say, the weightiest last."""
        roles, pieces = self._names
        given = [attributes.get(key, "") for key in ("id", "class", LABEL, "data-role")]
        given[1:2] = attributes.get("class", "").split()[:20]
        texts = list(dict.fromkeys(text for text in given if text))
        for text in texts:
            yield read_label(text, roles)
        if "data-name" in attributes:
            yield Label(name=plain(attributes["data-name"]))
        if "data-piece" in attributes:
            yield Label(None, plain(attributes["data-piece"]), is_piece=True)
        if "data-size" in attributes:
            yield Label(size=plain(attributes["data-size"]))
        for text in texts:
            if text in pieces:
                yield Label(Role.OUTLINE, pieces[text][0], pieces[text][1] or None)

    def _has_outline(self, group: Element) -> bool:
        """Tell whether a group of several shapes holds one that is named an outline."""
        shapes = [e for e in group if isinstance(e.tag, str) and e.tag.removeprefix(SVG) in SHAPES]
        labels = (label for e in shapes for label in self._labels(e.attrib))
        return sum(label.role is Role.OUTLINE for label in labels) == 1 and len(list(group)) > 1

    def _use(self, element: Element, place: _Place) -> None:
        link = next((element.attrib[key] for key in _HREFS if key in element.attrib), "")
        if not link.startswith("#"):
            raise DrawingError(
                f'the drawing uses "{link[:60]}" from outside it, and nothing is fetched; unlink '
                "the clone, or copy it in"
            )
        if place.uses >= _DEEPEST_USE:
            raise DrawingError("clones of clones are nested too deeply, or go round in a circle")
        target = self._by_id.get(link[1:])
        if target is None:
            return
        self._budget.take_shape()
        x, y = (user_length(element.attrib.get(key, "0")) for key in ("x", "y"))
        moved = place.matrix @ np.array([[1.0, 0.0, x], [0.0, 1.0, y], [0.0, 0.0, 1.0]])
        self._element(target, replace(place, matrix=moved, uses=place.uses + 1))

    def _text(self, element: Element, place: _Place) -> None:
        x, y = (_first_number(element.attrib.get(key, "0")) for key in ("x", "y"))
        at = apply(place.matrix, np.array([[x, y]]))[0].tolist()
        lines = ["".join(element.itertext())]
        if any(True for _ in element):
            lines = ["".join(part.itertext()) for part in element]
        for line in lines[:LONGEST_WORDS]:
            fact = fact_of(" ".join(line[:LONGEST_WORDS].split()))
            if fact is not None:
                self.found.words.append(Writing(fact=fact, at_mm=(at[0], at[1]), group=place.group))


def _mark(stroke: Stroke, attributes: Mapping[str, str], place: _Place) -> Mark:
    points = stroke.points_mm
    style = attributes.get("style", "")
    starts, ends = (
        f"marker-{end}" in attributes or f"marker-{end}:url" in style.replace(" ", "")
        for end in ("start", "end")
    )
    if place.role is Role.GRAIN and starts and not ends:
        points = points[::-1]
    return Mark(
        points_mm=points,
        closed=stroke.closed,
        role=place.role,
        name=place.name,
        size=place.size,
        group=place.group,
    )


def _data_facts(element: Element) -> tuple[Fact, ...]:
    """Return the facts in the data attributes of an element."""
    facts = (
        fact_of(f"{key.removeprefix('data-')}: {value[:LONGEST_WORDS]}")
        for key, value in element.attrib.items()
        if key.startswith("data-")
    )
    passed = {"piece", "role", "name", "origin", "size"}
    return tuple(fact for fact in facts if fact is not None and fact[0] not in passed)


def _origin(attributes: Mapping[str, str]) -> FloatArray:
    words = attributes.get("data-origin", "0 0").replace(",", " ").split()
    try:
        x, y = (float(word) for word in words)
    except ValueError:
        raise DrawingError(f'data-origin "{" ".join(words)[:40]}" is not two numbers') from None
    return np.array([[x, y]])


def _first_number(text: str) -> float:
    """Return the first of a list of places, or 0 where it is no plain length."""
    try:
        return user_length((text.replace(",", " ").split() or ["0"])[0])
    except DrawingError:
        return 0.0


def _is_hidden(attributes: Mapping[str, str]) -> bool:
    style = attributes.get("style", "").replace(" ", "")
    return (
        attributes.get("display") == "none"
        or attributes.get("visibility") in ("hidden", "collapse")
        or "display:none" in style
        or "visibility:hidden" in style
    )


def _refuse_active(tag: str, attributes: Mapping[str, str]) -> None:
    if tag == "script" or any(key.startswith("on") for key in attributes):
        raise DrawingError("the drawing holds a script; save it as plain SVG without scripts")
    if "transform:" in attributes.get("style", "").replace(" ", "").replace("-origin", ""):
        raise DrawingError("a shape is moved by its style; save the drawing as plain SVG 1.1")
