"""Write a pattern as the text of a pattern sheet."""

import math
import re
from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal

import tomlkit

from pieces.errors import LengthError, PatternFileError
from pieces.grainline import Grain
from pieces.measures.parse import parse_length_mm
from pieces.pattern import ClothNeed, Notion, NotionKind, Pattern
from pieces.piece import Cut, Piece, PieceShape
from pieces.sheet.pattern_sheet import FORMAT
from pieces.wearer import ChildWearer

_LINE = 92
_UPRIGHT_DEG = 1e-6


def format_pattern(pattern: Pattern) -> str:
    """Return the text of a pattern sheet; reading it back gives an equal pattern.

    Only the arrow of a piece on the bias comes back in the middle: it has none of its own.

    Parameters
    ----------
    pattern
        Any pattern whose match points have different names within each shape.

    Returns
    -------
    str
        TOML with coordinates in mm, every digit kept.

    Raises
    ------
    PatternFileError
        If a shape has two match points of one name, a mark is not finite, or a length is too
        long or too short to be written as a decimal.
    """
    blocks = ["\n".join(_head(pattern))]
    blocks += [_cloth(cloth) for cloth in pattern.cloths]
    blocks += [
        _table(("views", view.name), {"about": view.about}, {"pieces": view.pieces})
        for view in pattern.views
    ]
    if pattern.matching:
        ways = {_key(name): way.value for name, way in pattern.matching.items()}
        blocks.append(_table(("matching",), {}, ways))
    blocks += [_notion(notion) for notion in pattern.notions]
    for piece in pattern.pieces:
        blocks.append(_piece(piece))
        blocks += [_shape(piece, size, shape) for size, shape in piece.shapes.items()]
    return "\n\n".join(blocks) + "\n"


def _head(pattern: Pattern) -> Iterator[str]:
    yield f"format = {FORMAT}"
    yield f"name = {_value(pattern.name)}"
    yield 'units = "mm"'
    yield f"sizes = {_value(pattern.sizes)}"
    if pattern.seam_allowance_mm is not None:
        yield f"seam_allowance = {_length('seam_allowance', pattern.seam_allowance_mm)}"
    yield from _lines({"note": pattern.note, "cautions": pattern.cautions})
    if pattern.child is not None:
        yield from _child(pattern.child)


def _child(child: ChildWearer) -> Iterator[str]:
    yield 'wearer = "child"'
    yield f"ages = [{child.youngest_years}, {child.oldest_years}]"
    yield f"garment = {_value(child.garment.value)}"


def _cloth(cloth: ClothNeed) -> str:
    keys = ("about", "suggested", "ask_for", "hang")
    return _table(("cloths", cloth.name), {key: getattr(cloth, key) for key in keys})


def _notion(notion: Notion) -> str:
    where = f'notion "{notion.name}"'
    lines = ["[[notions]]", f"name = {_value(notion.name)}"]
    kind = "" if notion.kind is NotionKind.OTHER else notion.kind.value
    lines += _lines({"detail": notion.detail, "kind": kind})
    if notion.size_mm is not None:
        lines.append(f"size = {_length(where, notion.size_mm)}")
    lines += _lines({"views": notion.views})
    if notion.counts is not None:
        lines.append(f"count = {_by_size({k: str(v) for k, v in notion.counts.items()})}")
    if notion.lengths_mm is not None:
        written = {size: _length(where, mm) for size, mm in notion.lengths_mm.items()}
        lines.append(f"length = {_by_size(written)}")
    return "\n".join(lines)


def _by_size(written: Mapping[str, str]) -> str:
    """Write one value if all sizes agree, else an inline table."""
    if len(set(written.values())) == 1:
        return next(iter(written.values()))
    return _inline_table(written)


def _inline_table(written: Mapping[str, str]) -> str:
    return "{ " + ", ".join(f"{_key(key)} = {text}" for key, text in written.items()) + " }"


def _piece(piece: Piece) -> str:
    entries = {"title": piece.title, "grain": piece.grain.value, "one_way": piece.one_way}
    text = _table(("pieces", piece.name), {"note": piece.note}, entries)
    cuts = (f"cut.{_key(cut.cloth)} = {_cut(cut)}" for cut in piece.cuts)
    return "\n".join((text, *cuts))


def _cut(cut: Cut) -> str:
    return f"{{ count = {cut.count}, pair = true }}" if cut.pair else str(cut.count)


def _shape(piece: Piece, size: str, shape: PieceShape) -> str:
    where = f'piece "{piece.name}", size {size}'
    path = ("pieces", piece.name, "sizes", size)
    arrow = (shape.grainline.tail_mm, shape.grainline.head_mm)
    lines = [f"[{_path(path)}]", f"outline = {_points(where, shape.outline_mm.tolist())}"]
    if piece.grain is not Grain.BIAS:
        lines.append(f"grainline = {_points(where, arrow)}")
    elif abs(shape.grainline.angle_deg - 90.0) > _UPRIGHT_DEG:
        raise PatternFileError(
            f"{where}: on the bias a sheet takes what points up the drawing to lie at 45 degrees, "
            f"and this piece is turned by {shape.grainline.angle_deg - 90.0:g} degrees from there; "
            "turn its outline upright"
        )
    if shape.fold_edge_mm is not None:
        lines.append(f"fold_edge = {_points(where, shape.fold_edge_mm)}")
    lines += _marks(where, shape)
    for line in shape.internal_lines:
        lines += ["", f"[[{_path((*path, 'internal_lines'))}]]", f"name = {_value(line.name)}"]
        lines.append(f"points = {_points(where, line.points_mm.tolist())}")
    return "\n".join(lines)


def _marks(where: str, shape: PieceShape) -> Iterator[str]:
    if shape.notches:
        yield f"notches = {_points(where, (mark.at_mm for mark in shape.notches))}"
    if shape.drill_holes:
        yield f"drill_holes = {_points(where, (mark.at_mm for mark in shape.drill_holes))}"
    if len({mark.name for mark in shape.match_points}) < len(shape.match_points):
        raise PatternFileError(
            f"{where}: two match points have one name, and a sheet keeps one of each name; "
            "write the half piece, or rename one"
        )
    for mark in shape.match_points:
        yield f"match_points.{_key(mark.name)} = {_pair(where, mark.at_mm)}"


def _table(
    path: tuple[str, ...], optional: Mapping[str, object], needed: Mapping[str, object] = {}
) -> str:
    written = [f"{key} = {_value(value)}" for key, value in needed.items()]
    return "\n".join([f"[{_path(path)}]", *written, *_lines(optional)])


def _lines(optional: Mapping[str, object]) -> Iterator[str]:
    """Write the keys that hold something."""
    for key, value in optional.items():
        if value:
            yield f"{key} = {_value(value)}"


def _value(value: object) -> str:
    plain = list(value) if isinstance(value, tuple) else value
    return str(tomlkit.item(plain).as_string())


def _path(keys: Iterable[str]) -> str:
    return ".".join(_key(key) for key in keys)


def _key(name: str) -> str:
    """Write a key bare where TOML allows that, else in quotes."""
    return name if re.fullmatch(r"[A-Za-z0-9_-]+", name) else _value(name)


def _length(where: str, length_mm: float) -> str:
    text = f"{Decimal(repr(float(length_mm))).normalize():f} mm"
    try:
        same = parse_length_mm(text, allow_zero=True) == length_mm
    except LengthError as error:
        raise PatternFileError(f"{where}: {error}") from error
    if not same:
        raise PatternFileError(f"{where}: length {length_mm!r} mm cannot be written exactly")
    return f'"{text}"'


def _points(where: str, pairs: Iterable[Iterable[float]]) -> str:
    """Write points on one line if they fit, else several on each line."""
    written = [_pair(where, pair) for pair in pairs]
    if sum(map(len, written)) + 2 * len(written) <= _LINE - 16:
        return f"[{', '.join(written)}]"
    lines, line = [], ""
    for text in written:
        if line and len(line) + len(text) > _LINE:
            lines.append(line)
            line = ""
        line += f"{' ' if line else '    '}{text},"
    return "\n".join(["[", *lines, line, "]"])


def _pair(where: str, pair: Iterable[float]) -> str:
    return f"[{', '.join(_number(where, value) for value in pair)}]"


def _number(where: str, value: float) -> str:
    value = float(value)
    if not math.isfinite(value):
        raise PatternFileError(f"{where}: a mark has the coordinate {value}; it must be finite")
    if value.is_integer() and abs(value) < 1e15 and repr(value) != "-0.0":
        return str(int(value))
    return repr(value)
