"""Hypothesis strategies for outlines, shapes, pieces and patterns."""

import math
from dataclasses import replace
from typing import Any

import numpy as np
from hypothesis import strategies as st

from pieces.grainline import Grain, Grainline
from pieces.marks import DrillHole, InternalLine, MatchPoint, MatchWay, Notch
from pieces.outline.polygon import FloatArray
from pieces.pattern import ClothNeed, Notion, NotionKind, Pattern, View
from pieces.piece import Cut, Piece, PieceShape
from pieces.shaping.shapes import upright
from pieces.wearer import ChildWearer, GarmentKind

angles_deg = st.one_of(
    st.sampled_from([0.0, 90.0, 180.0, 270.0]), st.floats(-720.0, 720.0, allow_nan=False)
)
coordinates_mm = st.floats(-2000.0, 2000.0, allow_nan=False)
points_mm = st.tuples(coordinates_mm, coordinates_mm)
texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
names = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=8)


@st.composite
def damaged(draw: st.DrawFn, data: bytes, scraps: list[bytes]) -> bytes:
    """Draw the bytes of a file changed, cut out or put in at one to six places."""
    out = bytearray(data)
    for _ in range(draw(st.integers(1, 6))):
        at = draw(st.integers(0, len(out) - 1))
        long = draw(st.integers(0, 12))
        out[at : at + long] = draw(st.sampled_from(scraps) | st.binary(max_size=4))
    return bytes(out)


@st.composite
def star_outlines(draw: st.DrawFn) -> FloatArray:
    """Draw an outline that is seen whole from the origin: simple, most often not convex."""
    count = draw(st.integers(3, 14))
    spread = min(0.35 * 360.0 / count, 25.0)  # neighbours stay in order and within 180 degrees
    vertices = []
    for i in range(count):
        radius = draw(st.integers(200, 4000)) / 10.0
        jitter = draw(st.integers(-100, 100)) / 100.0 * spread
        angle = math.radians(360.0 * i / count + jitter)
        vertices.append((radius * math.cos(angle), radius * math.sin(angle)))
    return np.array(vertices)


@st.composite
def skyline_outlines(draw: st.DrawFn) -> FloatArray:
    """Draw the union of columns that stand side by side on y = 0, the first one at x = 0."""
    widths = draw(st.lists(st.integers(5, 200), min_size=1, max_size=7))
    heights = draw(st.lists(st.integers(10, 500), min_size=len(widths), max_size=len(widths)))
    edges = [0, *np.cumsum(widths).tolist()]
    vertices = [(0, 0), (edges[-1], 0)]
    for i in reversed(range(len(widths))):
        vertices += [(edges[i + 1], heights[i]), (edges[i], heights[i])]
    kept = [v for i, v in enumerate(vertices) if v != vertices[i - 1]]
    return np.array(kept, dtype=np.float64)


outlines = st.one_of(star_outlines(), skyline_outlines())


@st.composite
def grainlines(draw: st.DrawFn) -> Grainline:
    """Draw an arrow of at least 1 mm."""
    x, y = draw(points_mm)
    length = draw(st.floats(2.0, 500.0))
    angle = math.radians(draw(angles_deg))
    return Grainline((x, y), (x + length * math.cos(angle), y + length * math.sin(angle)))


@st.composite
def shapes(draw: st.DrawFn, *, on_fold: bool = False) -> PieceShape:
    """Draw a shape with any marks; its fold edge, if wanted, need not lie on the outline."""
    mark_names = draw(st.lists(names, max_size=3, unique=True))
    lines = st.builds(
        InternalLine, names, st.lists(points_mm, min_size=2, max_size=4).map(np.array)
    )
    return PieceShape(
        outline_mm=draw(outlines),
        grainline=draw(grainlines()),
        fold_edge_mm=draw(st.tuples(points_mm, points_mm)) if on_fold else None,
        notches=tuple(map(Notch, draw(st.lists(points_mm, max_size=3)))),
        match_points=tuple(MatchPoint(name, draw(points_mm)) for name in mark_names),
        drill_holes=tuple(map(DrillHole, draw(st.lists(points_mm, max_size=2)))),
        internal_lines=tuple(draw(st.lists(lines, max_size=2))),
    )


@st.composite
def half_shapes(draw: st.DrawFn) -> PieceShape:
    """Draw a half piece: columns on the fold edge y = 0, with marks on it and off it."""
    outline = draw(skyline_outlines())
    width = float(outline[1, 0])
    inside = st.tuples(st.floats(0.0, width), st.one_of(st.just(0.0), st.floats(1.0, 500.0)))
    return PieceShape(
        outline_mm=outline,
        grainline=Grainline((0.0, 5.0), (width, 5.0)),
        fold_edge_mm=((width, 0.0), (0.0, 0.0)),
        notches=tuple(map(Notch, draw(st.lists(inside, max_size=3)))),
        drill_holes=tuple(map(DrillHole, draw(st.lists(inside, max_size=3)))),
    )


@st.composite
def pieces(draw: st.DrawFn, name: str, sizes: tuple[str, ...], cloths: tuple[str, ...]) -> Piece:
    """Draw a piece with a shape in each size, cut from some of the cloths."""
    on_fold = draw(st.booleans())
    chosen = draw(st.lists(st.sampled_from(cloths), min_size=1, unique=True))
    cuts = []
    for cloth in chosen:
        pair = not on_fold and draw(st.booleans())
        count = draw(st.integers(1, 4))
        cuts.append(Cut(cloth, 2 * count if pair else count, pair))
    grain = draw(st.sampled_from(Grain))
    drawn = {size: draw(shapes(on_fold=on_fold)) for size in sizes}
    if grain is Grain.BIAS:  # such a piece has no arrow of its own
        drawn = {
            size: replace(shape, grainline=upright(shape.outline_mm))
            for size, shape in drawn.items()
        }
    return Piece(
        name=name,
        title=draw(texts),
        cuts=tuple(cuts),
        shapes=drawn,
        grain=grain,
        one_way=draw(st.booleans()),
        note=draw(texts),
    )


@st.composite
def notions(draw: st.DrawFn, sizes: tuple[str, ...], views: tuple[str, ...]) -> Notion:
    """Draw a notion bought by number or by length, or thread left to be estimated."""
    kind = draw(st.sampled_from(NotionKind))
    by_number = draw(st.booleans())
    estimated = kind is NotionKind.THREAD and draw(st.booleans())
    amounts: Any = st.integers(1, 99) if by_number else st.floats(0.5, 9999.0)
    table = {size: draw(amounts) for size in sizes}
    return Notion(
        name=draw(names),
        detail=draw(texts),
        views=tuple(draw(st.lists(st.sampled_from(views), unique=True))),
        counts=table if by_number and not estimated else None,
        lengths_mm=None if by_number or estimated else table,
        kind=kind,
        size_mm=draw(st.none() | st.floats(0.5, 999.0).map(lambda mm: round(mm, 3))),
    )


children = st.builds(
    lambda ages, garment: ChildWearer(min(ages), max(ages), garment),
    st.tuples(st.integers(0, 17), st.integers(0, 17)),
    st.sampled_from(GarmentKind),
)


def _unique_names(most: int) -> st.SearchStrategy[tuple[str, ...]]:
    return st.lists(names, min_size=1, max_size=most, unique=True).map(tuple)


@st.composite
def ways_of(draw: st.DrawFn, drawn: tuple[Piece, ...]) -> dict[str, MatchWay]:
    """Draw a way of matching for some of the match points of these pieces."""
    shapes_drawn = (shape for piece in drawn for shape in piece.shapes.values())
    marks = {mark.name for shape in shapes_drawn for mark in shape.match_points}
    return {name: draw(st.sampled_from(MatchWay)) for name in sorted(marks) if draw(st.booleans())}


@st.composite
def patterns(draw: st.DrawFn) -> Pattern:
    """Draw a pattern with odd names: dots, quotes, line ends and any script."""
    sizes, cloths, views = (draw(_unique_names(2)) for _ in range(3))
    piece_names = draw(_unique_names(2))
    chosen = st.lists(st.sampled_from(piece_names), min_size=1, unique=True).map(tuple)
    drawn = tuple(draw(pieces(name, sizes, cloths)) for name in piece_names)
    return Pattern(
        name=draw(texts),
        sizes=sizes,
        pieces=drawn,
        matching=draw(ways_of(drawn)),
        views=tuple(View(name, draw(chosen), draw(texts)) for name in views),
        cloths=tuple(
            ClothNeed(
                name,
                draw(texts),
                tuple(draw(st.lists(texts, max_size=2))),
                draw(texts),
                draw(texts),
            )
            for name in cloths
        ),
        notions=tuple(draw(st.lists(notions(sizes, views), max_size=2))),
        cautions=tuple(draw(st.lists(texts, max_size=2))),
        seam_allowance_mm=draw(st.none() | st.floats(0.0, 50.0).map(lambda mm: round(mm, 6))),
        note=draw(texts),
        child=draw(st.none() | children),
    )
