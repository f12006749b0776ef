"""From the keys of a sheet to a shape: by measure or by points, then seam, then length."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from pieces.errors import LengthError, ShapeError, listed
from pieces.grainline import Grainline, Point
from pieces.marks import InternalLine
from pieces.measures.parse import parse_length_mm
from pieces.outline.polygon import FloatArray, as_outline, signed_area_mm2
from pieces.piece import FoldEdge, PieceShape
from pieces.shaping.length_change import change_length
from pieces.shaping.seam import add_seam
from pieces.shaping.shapes import Figure, make_figure, upright
from pieces.sheet.pattern_sheet import ChangeTable, ShapeTable

_NEAR_MM = 0.01
BIAS_AND_ARROW = (
    'grain "bias" and a grainline are both given, which can be read in two ways; if the arrow is '
    "printed on the pattern it lies along the warp, slanted as it is: leave the bias out; if the "
    "piece is to lie at 45 degrees with its drawing upright, leave the grainline out"
)
_WORDS = ("angle", "part", "folded")


@dataclass(frozen=True, eq=False)
class Base:
    """What a shape rests on, mm: its outline, the names of its edges, arrow, fold and lines."""

    outline_mm: FloatArray
    edges: tuple[str, ...]
    grainline: Grainline
    fold_edge_mm: FoldEdge | None
    internal_lines: tuple[InternalLine, ...]


def base_of(table: ShapeTable, scale: float, *, on_bias: bool = False) -> Base:
    """Return outline, arrow and fold edge of a shape, from points or from measures.

    Parameters
    ----------
    table
        As it stands in the sheet.
    scale
        Millimetres in one unit of the sheet's coordinates.
    on_bias
        Whether the piece is said to be cut on the bias, and so has no arrow of its own.

    Raises
    ------
    PiecesError
        If both or neither of outline and shape are given, one of them is not right, or an arrow
        stands beside the bias.
    """
    if table.shape is None and table.outline is None:
        raise ShapeError('key "outline" is missing; add it')
    if table.shape is not None and table.outline is not None:
        raise ShapeError("outline and shape are both given; keep one of them")
    if on_bias and table.grainline is not None:
        raise ShapeError(BIAS_AND_ARROW)
    if table.shape is None and table.grainline is None and not on_bias:
        raise ShapeError('key "grainline" is missing; add it')
    figure = _figure(table, scale)
    arrow = upright(figure.outline_mm)
    if table.grainline is not None:
        arrow = Grainline(*(_point(pair, scale) for pair in table.grainline))
    return Base(
        figure.outline_mm, figure.edges, arrow, _fold(table, figure, scale), figure.internal_lines
    )


def altered(shape: PieceShape, table: ShapeTable, edges: Sequence[str], scale: float) -> PieceShape:
    """Return the shape with the seam allowance and the change of length its table asks for.

    Raises
    ------
    PiecesError
        If an edge is not known, or an allowance or change cannot be made.
    """
    if table.seam is not None:
        shape = add_seam(shape, _allowances(table.seam, edges))
    changes: list[tuple[ChangeTable, float]] = []
    if table.lengthen is not None:
        changes.append((table.lengthen, 1.0))
    if table.shorten is not None:
        changes.append((table.shorten, -1.0))
    for change, sign in changes:
        blend_mm = None if change.over is None else parse_length_mm(change.over, allow_zero=True)
        by_mm = sign * parse_length_mm(change.by)
        shape = change_length(shape, _point(change.at, scale), by_mm, blend_mm=blend_mm)
    return shape


def _figure(table: ShapeTable, scale: float) -> Figure:
    if table.shape is None:
        points = np.array(table.outline, dtype=np.float64).reshape(-1, 2) * scale
        outline = as_outline(points)
        named = table.edges
        if signed_area_mm2(points) < 0.0:  # written clockwise, and turned round since
            named = {name: pair[::-1] for name, pair in named.items()}
        return Figure(outline, _edge_names(outline, named, scale))
    given = {key: value for key, value in table.shape if value is not None and key != "kind"}
    words = {key: value for key, value in given.items() if key in _WORDS}
    lengths = {}
    for key, text in given.items():
        if key not in _WORDS:
            try:
                lengths[key] = parse_length_mm(text, allow_zero=key in ("inner", "seams"))
            except LengthError as error:
                raise ShapeError(f"shape {key}: {error}") from error
    return make_figure(table.shape.kind, lengths, words)


def _fold(table: ShapeTable, figure: Figure, scale: float) -> FoldEdge | None:
    if table.fold_edge is not None:
        start, end = (_point(pair, scale) for pair in table.fold_edge)
        return start, end
    if table.fold is None:
        return None
    first, last = figure.ends_mm(table.fold)
    return _point(first, 1.0), _point(last, 1.0)


def _edge_names(
    outline: FloatArray, named: Mapping[str, Sequence[Sequence[float]]], scale: float
) -> tuple[str, ...]:
    """Return a name for each edge: an entry goes anticlockwise from its first point to its last."""
    names = [""] * len(outline)
    for name, pair in named.items():
        first, last = (_vertex(outline, _point(point, scale), name) for point in pair)
        for i in range((last - first) % len(outline)):
            names[(first + i) % len(outline)] = name
    return tuple(names)


def _vertex(outline: FloatArray, point: Point, name: str) -> int:
    gaps = np.hypot(*(outline - point).T)
    nearest = int(gaps.argmin())
    if gaps[nearest] > _NEAR_MM:
        raise ShapeError(
            f'edge "{name}" ends at ({point[0]:g}, {point[1]:g}) mm, which is no point of the '
            "outline; give two of its points"
        )
    return nearest


def _allowances(seam: str | Mapping[str, str], edges: Sequence[str]) -> list[float]:
    """Return an allowance for each edge; ``rest`` is for those not named, else they get none."""
    if isinstance(seam, str):
        return [parse_length_mm(seam, allow_zero=True)] * len(edges)
    unknown = [name for name in seam if name != "rest" and name not in edges]
    if unknown:
        known = listed(sorted({name for name in edges if name})) or "none has a name"
        raise ShapeError(f'seam: there is no edge "{unknown[0]}"; the edges are {known}')
    widths = {name: parse_length_mm(text, allow_zero=True) for name, text in seam.items()}
    return [widths.get(name, widths.get("rest", 0.0)) for name in edges]


def _point(pair: Sequence[float] | FloatArray, scale: float) -> Point:
    return float(pair[0]) * scale, float(pair[1]) * scale
