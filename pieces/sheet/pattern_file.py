"""Read and write the pattern sheet, a TOML file that a person can write by hand.

The format is described in docs/pattern-file.md.
"""

import contextlib
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import numpy as np

from pieces.errors import PatternFileError, PiecesError
from pieces.files.atomic_file import write_text_atomically
from pieces.files.bounded_file import read_text
from pieces.files.toml_text import parse_toml
from pieces.grainline import Grain, Point
from pieces.marks import DrillHole, InternalLine, MatchPoint, MatchWay, Notch
from pieces.measures.parse import parse_length_mm
from pieces.measures.units import MM_PER_INCH, UnitSystem
from pieces.outline.polygon import FloatArray
from pieces.pattern import ClothNeed, Notion, NotionKind, Pattern, View
from pieces.piece import Cut, Piece, PieceShape
from pieces.sheet.made_shape import altered, base_of
from pieces.sheet.pattern_sheet import (
    CutTable,
    NotionTable,
    PieceTable,
    ShapeTable,
    SheetTable,
    one_line,
    read_sheet,
)
from pieces.sheet.pattern_text import format_pattern
from pieces.wearer import ChildWearer, GarmentKind

__all__ = ["format_pattern", "parse_pattern", "pattern_of_tables", "read_pattern", "write_pattern"]

LARGEST_BYTES = 20_000_000
MOST_VERTICES = 100_000
_MM_PER_UNIT = {"mm": 1.0, "cm": 10.0, "in": MM_PER_INCH}


def read_pattern(path: Path | str) -> Pattern:
    """Read a pattern sheet from a file.

    Parameters
    ----------
    path
        TOML file in UTF-8, at most 20 MB.

    Raises
    ------
    PatternFileError
        If the file cannot be read or is no pattern sheet; the sentence names the file, the
        table and the value.
    """
    path = Path(path)
    text = read_text(path, "pattern sheet", largest_bytes=LARGEST_BYTES, error=PatternFileError)
    try:
        return parse_pattern(text)
    except PatternFileError as error:
        told = "" if path.suffix.lower() == ".toml" else "; a pattern sheet ends in .toml"
        raise PatternFileError(f"{path}: {error}{told}") from error


def parse_pattern(text: str) -> Pattern:
    """Read a pattern sheet from its text.

    Parameters
    ----------
    text
        TOML; see docs/pattern-file.md.

    Raises
    ------
    PatternFileError
        If the text is no TOML or no pattern sheet; the sentence names the table and the value.
    """
    return pattern_of_tables(parse_toml(text, "the sheet", error=PatternFileError))


def pattern_of_tables(tables: Mapping[str, Any]) -> Pattern:
    """Return the pattern in the tables of a sheet, read from TOML or made in another way.

    Raises
    ------
    PatternFileError
        If the tables are no pattern sheet; the sentence names the table and the value.
    """
    sheet = read_sheet(tables)
    with _told_from(""):
        return _pattern(sheet)


def write_pattern(pattern: Pattern, path: Path | str) -> None:
    """Write a pattern sheet, all of it or nothing; reading it back gives an equal pattern.

    Raises
    ------
    PatternFileError
        If the pattern cannot be said in a sheet (see :func:`format_pattern`), or the file
        cannot be written.
    """
    text = format_pattern(pattern)
    try:
        write_text_atomically(path, text)
    except UnicodeEncodeError:
        raise PatternFileError(
            f'pattern "{pattern.name!a}" holds a broken letter that no file can keep; retype it'
        ) from None
    except OSError as error:
        raise PatternFileError(f"{path} cannot be written: {error.strerror or error}") from error


@contextlib.contextmanager
def _told_from(where: str) -> Iterator[None]:
    """Put the table's name before a refusal, unless the refusal names it already."""
    try:
        yield
    except PiecesError as error:
        told = str(error)
        complete = isinstance(error, PatternFileError) or told.startswith(where.removesuffix(": "))
        raise PatternFileError(one_line(told if complete else where + told)) from error


def _pattern(sheet: SheetTable) -> Pattern:
    scale = _MM_PER_UNIT[sheet.units]
    seam_mm = None
    if sheet.seam_allowance is not None:
        with _told_from("seam_allowance: "):
            seam_mm = parse_length_mm(sheet.seam_allowance, allow_zero=True)
    return Pattern(
        name=sheet.name,
        sizes=tuple(sheet.sizes),
        pieces=tuple(_piece(name, table, scale) for name, table in sheet.pieces.items()),
        views=tuple(
            View(name, tuple(table.pieces), table.about) for name, table in sheet.views.items()
        ),
        cloths=tuple(
            ClothNeed(name, table.about, tuple(table.suggested), table.ask_for, table.hang)
            for name, table in sheet.cloths.items()
        ),
        notions=tuple(_notion(table, sheet.sizes) for table in sheet.notions),
        cautions=tuple(sheet.cautions),
        seam_allowance_mm=seam_mm,
        note=sheet.note,
        matching={name: MatchWay(way) for name, way in sheet.matching.items()},
        child=_child(sheet),
        units=UnitSystem.IMPERIAL if sheet.units == "in" else UnitSystem.METRIC,
    )


def _child(sheet: SheetTable) -> ChildWearer | None:
    """Return for which children the sheet is, if it says that it is for children."""
    if sheet.wearer != "child":
        for key in ("ages", "garment"):
            if getattr(sheet, key) is not None:
                raise PatternFileError(
                    f'{key} is only for patterns for children; add wearer = "child", or remove it'
                )
        return None
    if sheet.ages is None:
        raise PatternFileError(
            'wearer = "child" needs the ages the sizes are for, such as ages = [3, 8]'
        )
    kind = GarmentKind.OTHER_CLOTHING if sheet.garment is None else GarmentKind(sheet.garment)
    with _told_from("ages: "):
        return ChildWearer(sheet.ages[0], sheet.ages[1], kind)


def _notion(table: NotionTable, sizes: Sequence[str]) -> Notion:
    where = f'notion "{table.name}": '
    counts: Mapping[str, int] | None = None
    lengths_mm: Mapping[str, float] | None = None
    if table.count is not None:
        counts = _for_each_size(table.count, sizes)
    if table.length is not None:
        with _told_from(where):
            written: Mapping[str, str] = _for_each_size(table.length, sizes)
            lengths_mm = {size: parse_length_mm(text) for size, text in written.items()}
    with _told_from(where):
        size_mm = None if table.size is None else parse_length_mm(table.size)
    return Notion(
        name=table.name,
        detail=table.detail,
        views=tuple(table.views),
        counts=counts,
        lengths_mm=lengths_mm,
        kind=NotionKind(table.kind),
        size_mm=size_mm,
    )


def _for_each_size(value: Any, sizes: Sequence[str]) -> Mapping[str, Any]:
    return value if isinstance(value, dict) else dict.fromkeys(sizes, value)


def _piece(name: str, table: PieceTable, scale: float) -> Piece:
    where = f'piece "{name}"'
    cuts = tuple(_cut(where, cloth, entry) for cloth, entry in table.cut.items())
    shapes = {}
    for size, shape in table.sizes.items():
        with _told_from(f"{where}, size {size}: "):
            shapes[size] = _shape(shape, scale, on_bias=table.grain == "bias")
    with _told_from(f"{where}: "):
        return Piece(
            name=name,
            title=name if table.title is None else table.title,
            cuts=cuts,
            shapes=shapes,
            grain=Grain(table.grain),
            one_way=table.one_way,
            note=table.note,
        )


def _cut(where: str, cloth: str, entry: int | CutTable) -> Cut:
    count, pair = (entry, False) if isinstance(entry, int) else (entry.count, entry.pair)
    where = f'{where}, cut "{cloth}": '
    if count < 1:
        raise PatternFileError(f"{where}count {count} is below 1; cut at least one")
    if pair and count % 2:
        raise PatternFileError(f"{where}count {count} is odd, and mirrored pairs need an even one")
    return Cut(cloth, count, pair)


def _shape(table: ShapeTable, scale: float, *, on_bias: bool) -> PieceShape:
    drawn = table.outline or ()
    if len(drawn) > MOST_VERTICES:
        raise PatternFileError(
            f"an outline has {len(drawn):,} vertices, more than {MOST_VERTICES:,}; "
            "draw its curves with fewer"
        )
    base = base_of(table, scale, on_bias=on_bias)
    names = list(table.match_points)
    places = _scaled(list(table.match_points.values()), scale)
    shape = PieceShape(
        outline_mm=base.outline_mm,
        grainline=base.grainline,
        fold_edge_mm=base.fold_edge_mm,
        notches=tuple(Notch(at) for at in _scaled(table.notches, scale)),
        match_points=tuple(map(MatchPoint, names, places)),
        drill_holes=tuple(DrillHole(at) for at in _scaled(table.drill_holes, scale)),
        internal_lines=(
            *base.internal_lines,
            *(InternalLine(line.name, _array(line.points, scale)) for line in table.internal_lines),
        ),
    )
    return altered(shape, table, base.edges, scale)


def _array(pairs: Sequence[Sequence[float]], scale: float) -> FloatArray:
    return np.array(_scaled(pairs, scale), dtype=np.float64).reshape(-1, 2)


def _scaled(pairs: Sequence[Sequence[float]], scale: float) -> list[Point]:
    return [(x * scale, y * scale) for x, y in pairs]
