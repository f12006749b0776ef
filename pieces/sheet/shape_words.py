"""Pieces by measure in one line each, as typed on a command line."""

import re
from collections.abc import Sequence
from typing import Any

from pieces.errors import ShapeError
from pieces.pattern import Pattern
from pieces.shaping.shapes import KINDS
from pieces.sheet.pattern_file import pattern_of_tables
from pieces.sheet.pattern_sheet import FORMAT

EXAMPLE = "body: rectangle; width 40cm; height 50cm; seam 1cm; cut 2 shell"
_LONGEST = 500
_ONE_SIZE = "one"
_MEASURES = {name for _, needed, optional in KINDS.values() for name in (*needed, *optional)}
_PLAIN = {"title", "grain", "note"}
_CUT = re.compile(r"(\d{1,4})\s+(\S.*?)(\s+pair)?")
_SEAM = re.compile(r"(?:([A-Za-z]\w*)\s+)?(\S.*)")


def pattern_of_shapes(texts: Sequence[str], *, name: str) -> Pattern:
    """Return a pattern of pieces by measure, in one size and one view.

    Parameters
    ----------
    texts
        A piece each: its name, a colon, the kind of shape, then entries parted by semicolons.
    name
        Title of the pattern.

    Raises
    ------
    PiecesError
        If a text cannot be read, or a measure is missing or out of range.

    Examples
    --------
    40 by 50 cm with a seam of 1 cm all round reach from -10 to 410 and 510 mm:

    >>> body = pattern_of_shapes([EXAMPLE], name="Bag").piece("body").shape("one")
    >>> body.outline_mm.min(axis=0).tolist(), body.outline_mm.max(axis=0).tolist()
    ([-10.0, -10.0], [410.0, 510.0])
    """
    pieces: dict[str, Any] = {}
    for text in texts:
        piece, table = _piece(text)
        if piece in pieces:
            raise ShapeError(f'two shapes are called "{piece}"; give each its own name')
        pieces[piece] = table
    cloths: dict[str, dict[str, str]] = {
        cloth: {} for table in pieces.values() for cloth in table["cut"]
    }
    return pattern_of_tables(
        {
            "format": FORMAT,
            "name": name,
            "units": "mm",
            "sizes": [_ONE_SIZE],
            "cloths": cloths,
            "views": {"A": {"pieces": list(pieces)}},
            "pieces": pieces,
        }
    )


def _piece(text: str) -> tuple[str, dict[str, Any]]:
    name, colon, rest = text[:_LONGEST].partition(":")
    entries = [" ".join(entry.split()) for entry in rest.split(";")]
    entries = [entry for entry in entries if entry]
    if len(text) > _LONGEST or not colon or not name.strip() or not entries:
        raise ShapeError(f'shape "{text[:60]}" cannot be read; write it like "{EXAMPLE}"')
    table: dict[str, Any] = {"cut": {}}
    shape: dict[str, Any] = {"shape": {"kind": entries[0]}}
    for entry in entries[1:]:
        _read(entry, table, shape)
    table["cut"] = table["cut"] or {"shell": 1}
    table["sizes"] = {_ONE_SIZE: shape}
    return name.strip(), table


def _read(entry: str, table: dict[str, Any], shape: dict[str, Any]) -> None:
    """Put one entry where it belongs: among the facts of the piece, or of its shape."""
    word, _, value = entry.partition(" ")
    key = word.lower().replace("-", "_")
    if key == "cut" and (cut := _CUT.fullmatch(value)) is not None:
        table["cut"][cut[2]] = {"count": int(cut[1]), "pair": cut[3] is not None}
    elif key == "seam" and (seam := _SEAM.fullmatch(value)) is not None:
        shape.setdefault("seam", {})[(seam[1] or "rest").lower()] = seam[2]
    elif key == "fold" and value:
        shape["fold"] = value
    elif key in _PLAIN and value:
        table[key] = value
    elif key == "one_way" and not value:
        table["one_way"] = True
    elif key == "folded" and not value:
        shape["shape"]["folded"] = True
    elif key == "angle" and value:
        shape["shape"]["angle"] = _angle(value)
    elif key in _MEASURES and key != "folded" and value:
        shape["shape"][key] = value
    else:
        known = ", ".join(sorted((*_MEASURES, *_PLAIN, "cut", "fold", "one_way", "seam")))
        raise ShapeError(f'"{entry[:60]}" cannot be read; an entry begins with one of {known}')


def _angle(text: str) -> float:
    try:
        return float(text.replace(",", "."))
    except ValueError:
        raise ShapeError(f'angle "{text[:40]}" is no number of degrees') from None
