"""A drawing as a pattern: its facts and shapes become the tables of a pattern sheet."""

import re
from collections.abc import Iterable
from typing import Any

from pieces.drawing.drawing import Drawing, Fact, first, parted
from pieces.drawing.mapping_file import Mapping
from pieces.drawing.shape_of import NO_ARROW
from pieces.errors import DrawingError, listed
from pieces.grainline import Grain
from pieces.pattern import Pattern
from pieces.piece import PieceShape
from pieces.sheet.made_shape import BIAS_AND_ARROW
from pieces.sheet.pattern_file import pattern_of_tables
from pieces.sheet.pattern_sheet import FORMAT

ONE_SIZE = "one"
_CUT = re.compile(r"(\d{1,4})\s+(.*?)(\s+pair)?", re.DOTALL)
_QUANTITY = re.compile(r"(\d{1,4})(?:\s*,\s*(\d{1,4}))?")


def pattern_of(
    drawing: Drawing, *, name: str, mapping: Mapping | None = None
) -> tuple[Pattern, tuple[str, ...]]:
    """Return the pattern in a drawing, and in sentences what had to be assumed.

    Parameters
    ----------
    drawing
        As read from SVG or DXF.
    name
        Title of the pattern if neither drawing nor mapping says one.
    mapping
        Its tables outweigh what the drawing says.

    Raises
    ------
    PiecesError
        If the drawing or the mapping contradicts itself.
    """
    sheet = dict((mapping or Mapping()).sheet)
    notes = list(drawing.notes)
    sizes = _sizes(drawing, sheet)
    more = sheet.pop("pieces", {})
    pieces: dict[str, Any] = {}
    for shape in drawing.shapes:
        entry = pieces.setdefault(shape.name, {"sizes": {}, "facts": [], "has_arrow": False})
        for size in [shape.size] if shape.size else sizes:
            if size in entry["sizes"]:
                raise DrawingError(
                    f'piece "{shape.name}" is drawn twice in size {size}; name one otherwise'
                )
            entry["sizes"][size] = _shape_table(shape.shape)
            entry["has_arrow"] |= shape.has_arrow
        entry["facts"] += shape.facts
        notes += [f'piece "{shape.name}": {sentence}' for sentence in shape.assumed]
    tables = {name: _piece_table(name, entry, notes) for name, entry in pieces.items()}
    _merge(tables, more)
    for piece, table in tables.items():
        if table.get("grain") == Grain.BIAS:
            _without_arrows(piece, table, has_arrow=pieces[piece]["has_arrow"])
            notes = [note for note in notes if note != f'piece "{piece}": {NO_ARROW}']
    head = _head(drawing, name, sizes)
    head |= _views_and_cloths(drawing, pieces, tables)
    head |= sheet
    return pattern_of_tables({**head, "pieces": tables}), tuple(dict.fromkeys(notes))


def _sizes(drawing: Drawing, sheet: dict[str, Any]) -> list[str]:
    """Return the sizes in order: as the mapping, or the drawing says, or as they are met."""
    if isinstance(sheet.get("sizes"), list):
        return [str(size) for size in sheet["sizes"]]
    told = parted(first(drawing.facts, "sizes") or "")
    met = dict.fromkeys(shape.size for shape in drawing.shapes if shape.size)
    sizes = [*told, *(size for size in met if size not in told)]
    return sizes or [ONE_SIZE]


def _head(drawing: Drawing, name: str, sizes: list[str]) -> dict[str, Any]:
    facts = drawing.facts
    head: dict[str, Any] = {
        "format": FORMAT,
        "name": first(facts, "style name") or name,
        "units": "mm",
        "sizes": sizes,
    }
    for key, identifier in (("seam_allowance", "seam allowance"), ("note", "note")):
        value = first(facts, identifier)
        if value:
            head[key] = value
    ways = [entry.partition(" ") for entry in parted(first(facts, "matching") or "")]
    if ways:
        head["matching"] = {point: way for way, _, point in ways}
    return head


def _views_and_cloths(
    drawing: Drawing, pieces: dict[str, Any], tables: dict[str, Any]
) -> dict[str, Any]:
    told = parted(first(drawing.facts, "views") or "")
    of_piece = {
        name: parted(first(entry["facts"], "views") or "") for name, entry in pieces.items()
    }
    met = [view for views in of_piece.values() for view in views]
    views = {
        view: {"pieces": [name for name, used in of_piece.items() if view in used]}
        for view in dict.fromkeys((*told, *met))
    }
    cut = [cloth for table in tables.values() for cloth in table["cut"]]
    cloths = dict.fromkeys((*parted(first(drawing.facts, "cloths") or ""), *cut))
    return {
        "views": views or {"A": {"pieces": list(pieces)}},
        "cloths": {cloth: {} for cloth in cloths},
    }


def _piece_table(name: str, entry: dict[str, Any], notes: list[str]) -> dict[str, Any]:
    facts: list[Fact] = entry["facts"]
    table: dict[str, Any] = {"sizes": entry["sizes"]}
    is_half = any("fold_edge" in shape for shape in entry["sizes"].values())
    table["cut"] = _cuts(name, facts, is_half=is_half)
    if not table["cut"]:
        table["cut"] = {"shell": 1}
        notes.append(f'piece "{name}": no cut count is told, so one is cut from shell')
    for key in ("title", "note"):
        value = first(facts, key)
        if value is not None:
            table[key] = value
    grain = first(facts, "grain")
    if grain is not None:
        table["grain"] = grain.lower()
    one_way = (first(facts, "one way") or "").lower()
    if one_way in ("true", "yes"):
        table["one_way"] = True
    return table


def _without_arrows(name: str, table: dict[str, Any], *, has_arrow: bool) -> None:
    """Take the arrows out of a piece on the bias, which has none of its own.

    Raises
    ------
    DrawingError
        If one is drawn.
    """
    if has_arrow:
        raise DrawingError(f'piece "{name}": {BIAS_AND_ARROW}')
    for shape in table["sizes"].values():
        del shape["grainline"]


def _cuts(name: str, facts: Iterable[Fact], *, is_half: bool) -> dict[str, Any]:
    """Return the cut counts, from ``Cut`` or from pairs of ``Material`` and ``Quantity``."""
    facts = list(facts)
    told = first(facts, "cut")
    if told is not None:
        matches = [(entry, _CUT.fullmatch(entry)) for entry in parted(told)]
        wrong = next((entry for entry, match in matches if match is None), None)
        if wrong is not None:
            raise DrawingError(
                f'piece "{name}": cut "{wrong[:60]}" cannot be read; write it like "2 shell pair"'
            )
        return {
            m[2]: {"count": int(m[1]), "pair": m[3] is not None}
            for _, m in matches
            if m is not None
        }
    materials = [value or "shell" for identifier, value in facts if identifier == "material"]
    quantities = [value for identifier, value in facts if identifier == "quantity"]
    if not quantities:
        return dict.fromkeys(materials, 1)
    materials = list(dict.fromkeys(materials)) or ["shell"]
    quantities += quantities[-1:] * (len(materials) - len(quantities))
    return {
        cloth: _quantity(name, text, is_half=is_half)
        for cloth, text in zip(materials, quantities, strict=False)
    }


def _quantity(name: str, text: str, *, is_half: bool) -> dict[str, Any]:
    """Read ``right,left``: equal numbers are mirrored pairs, one number alone is plain."""
    match = _QUANTITY.fullmatch(text.strip())
    if match is None:
        raise DrawingError(
            f'piece "{name}": quantity "{text[:40]}" cannot be read; write it like 2 or 1,1'
        )
    right, left = int(match[1]), int(match[2] or 0)
    if not right or not left or is_half:
        return {"count": right + left, "pair": False}
    if right != left:
        raise DrawingError(
            f'piece "{name}": quantity {right},{left} cuts more on one side than on the other; '
            "draw the two as pieces of their own"
        )
    return {"count": right + left, "pair": True}


def _merge(tables: dict[str, Any], more: Any) -> None:
    """Put what the mapping says of pieces over what the drawing says."""
    for name, table in more.items() if isinstance(more, dict) else ():
        if name not in tables:
            known = listed(f'"{one}"' for one in tables)
            raise DrawingError(
                f'the mapping tells of piece "{name}", which is not drawn; drawn are {known}'
            )
        if not isinstance(table, dict) or "sizes" in table:
            raise DrawingError(f'mapping of piece "{name}": give a table without sizes')
        tables[name] |= table


def _shape_table(shape: PieceShape) -> dict[str, Any]:
    table: dict[str, Any] = {
        "outline": shape.outline_mm.tolist(),
        "grainline": [list(shape.grainline.tail_mm), list(shape.grainline.head_mm)],
        "notches": [list(mark.at_mm) for mark in shape.notches],
        "drill_holes": [list(mark.at_mm) for mark in shape.drill_holes],
        "match_points": {mark.name: list(mark.at_mm) for mark in shape.match_points},
        "internal_lines": [
            {"name": line.name, "points": line.points_mm.tolist()} for line in shape.internal_lines
        ],
    }
    if shape.fold_edge_mm is not None:
        table["fold_edge"] = [list(point) for point in shape.fold_edge_mm]
    return table
