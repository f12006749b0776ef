"""A pattern piece by piece, as a picture to check what was read: nothing is laid on cloth."""

from dataclasses import dataclass

import shapely

from nesting.draw.flow import Cell, flow
from nesting.draw.label_fit import Fit, fit_title
from nesting.draw.piece_acts import DrawnPiece, match_letters, piece_group
from nesting.draw.scene import (
    Act,
    Area,
    Group,
    Lines,
    Scene,
    Text,
    line,
    moved,
    rectangle,
    shrunk,
)
from nesting.draw.style import INK, PAPER, RULE, SOFT_INK, Look, fills, look_for
from pieces.drawing.pattern_facts import cut_words
from pieces.outline.polygon import bounds_mm
from pieces.pattern import Pattern
from pieces.piece import Piece, PieceShape

_WIDTH_SHARE = 1.5
"""How much wider than high the picture is meant to be."""


@dataclass(frozen=True)
class _Tile:
    """One piece with its words below, its lower left corner at the origin, mm."""

    acts: tuple[Act, ...]
    width_mm: float
    height_mm: float


def pattern_scene(pattern: Pattern) -> Scene:
    """Return every piece in every size: outline, grainline, fold, marks, names and measures."""
    shapes = [
        (piece, size, shape) for piece in pattern.pieces for size, shape in piece.shapes.items()
    ]
    boxes = [bounds_mm(shape.outline_mm) for _, _, shape in shapes]
    area = sum((high_x - x) * (high_y - y) for x, y, high_x, high_y in boxes)
    widest = max(box[2] - box[0] for box in boxes)
    room = max((1.4 * area * _WIDTH_SHARE) ** 0.5, widest)
    look = look_for(1.1 * room, 1.1 * room / _WIDTH_SHARE)
    colours = fills(piece.title for piece in pattern.pieces)
    letters = match_letters(shape for _, _, shape in shapes)
    tiles = [
        _tile(piece, size, shape, look=look, fill=colours[piece.title], letters=letters)
        for piece, size, shape in shapes
    ]
    return _scene(pattern, tiles, letters, max(room, *(tile.width_mm for tile in tiles)), look)


def _tile(
    piece: Piece, size: str, shape: PieceShape, *, look: Look, fill: str, letters: dict[str, str]
) -> _Tile:
    """Return a piece and, below it, its size, its measures and how often it is cut."""
    unit = look.unit_mm
    left, low, right, high = bounds_mm(shape.outline_mm)
    wide, tall = right - left, high - low
    label = _label(piece.title, shape, unit)
    drawn = DrawnPiece(
        shape,
        f"{piece.title}, size {size}",
        fill,
        turned_over=False,
        label=label,
        letters=letters,
    )
    fold = ["half, on the fold"] if shape.fold_edge_mm is not None else []
    lines = [
        *([piece.title] if label is None else []),
        f"size {size}:  {wide:.0f} x {tall:.0f} mm",
        "  |  ".join((f"cut {cut_words(piece.cuts)}", *fold)),
    ]
    words = [
        Text(
            told, (0.0, -(1.2 + 1.15 * number) * unit), 0.8 * unit, INK if number == 0 else SOFT_INK
        )
        for number, told in enumerate(lines)
    ]
    foot = (1.2 + 1.15 * len(lines)) * unit
    acts = (moved(piece_group(drawn, look), -left, -low), *words)
    width = max(wide, *(text.width_mm for text in words))
    return _Tile(tuple(moved(act, 0.0, foot) for act in acts), width, tall + foot)


def _label(title: str, shape: PieceShape, unit: float) -> Fit | None:
    """Return the title where it fits inside the piece, on one line or several, or None."""
    inner = shapely.Polygon(shape.outline_mm).buffer(-0.3 * unit)
    return fit_title(title, inner, largest_mm=1.5 * unit, least_mm=0.6 * unit)


def _scene(
    pattern: Pattern, tiles: list[_Tile], letters: dict[str, str], room: float, look: Look
) -> Scene:
    """Return the tiles in rows under a heading, and what the letters mean below."""
    unit = look.unit_mm
    margin = 2.0 * unit
    acts: list[Act] = []
    y = 0.0
    tallest_first = sorted(tiles, key=lambda tile: -tile.height_mm)
    for row in _rows(tallest_first, room, 2.0 * unit):
        y -= max(tile.height_mm for tile in row)
        x = 0.0
        for tile in row:
            acts.append(Group("tile", tuple(moved(act, x, y) for act in tile.acts)))
            x += tile.width_mm + 2.0 * unit
        y -= 1.5 * unit
    if letters:
        cells = [_key(letter, name, unit) for name, letter in letters.items()]
        key, deep = flow(cells, room_mm=room, row_mm=1.6 * unit, gap_mm=1.6 * unit)
        acts.append(Group("key", tuple(moved(act, 0.0, y) for act in key)))
        y -= deep
    head = _head(pattern, len(tiles), room, unit)
    height = -y + 2.0 * margin + 5.6 * unit
    lift = margin - y
    return Scene(
        width_mm=room + 2.0 * margin,
        height_mm=height,
        acts=(
            Area(rectangle(0.0, 0.0, room + 2.0 * margin, height), PAPER),
            *(moved(act, margin, lift) for act in acts),
            *(moved(act, margin, height - margin) for act in head),
        ),
        title=f"{pattern.name}: the pieces read",
        description=f"{len(tiles)} shapes with grainlines, fold edges, notches and measures.",
        paper=PAPER,
    )


def _rows(tiles: list[_Tile], room: float, gap: float) -> list[list[_Tile]]:
    """Return the tiles in their order, a new row where one does not fit any more."""
    rows: list[list[_Tile]] = []
    x = 0.0
    for tile in tiles:
        if not rows or x + tile.width_mm > room:
            rows.append([])
            x = 0.0
        rows[-1].append(tile)
        x += tile.width_mm + gap
    return rows


def _head(pattern: Pattern, count: int, room: float, unit: float) -> list[Act]:
    told = f"{count} shape{'s' if count > 1 else ''} in {len(pattern.sizes)} size"
    told += f"{'s' if len(pattern.sizes) > 1 else ''}.  Measure one before you cut."
    lines: list[Act] = []
    for words, y, size, bold in ((pattern.name, -1.9, 2.1, True), (told, -3.6, 1.0, False)):
        lines.append(shrunk(Text(words, (0.0, y * unit), size * unit, INK, bold=bold), room))
    rule = line((0.0, -4.4 * unit), (room, -4.4 * unit))
    lines.append(Lines((rule,), Look(unit).pen(0.04, RULE)))
    return lines


def _key(letter: str, name: str, unit: float) -> Cell:
    texts = (
        Text(letter, (0.0, 0.4 * unit), 0.8 * unit, INK, bold=True),
        Text(name, (1.2 * unit, 0.4 * unit), 0.8 * unit, SOFT_INK),
    )
    return Cell(texts, 1.2 * unit + texts[1].width_mm)
