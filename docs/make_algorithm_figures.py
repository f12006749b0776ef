"""Make the figures of docs/algorithm.md from what the engine really works out, from the checkout.

``python docs/make_algorithm_figures.py`` writes docs/pictures/algorithm-*.png. They come out the
same wherever the same versions run.
"""

import sys
from itertools import combinations
from pathlib import Path

import numpy as np
import shapely

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from nesting.cloth.bolt import Bolt
from nesting.cloth.lay_rules import LayRules
from nesting.draw import save_scene
from nesting.draw.scene import (
    Act,
    Area,
    Lines,
    Pen,
    Scene,
    Text,
    line,
    moved,
    rectangle,
    scaled,
)
from nesting.draw.style import CLOTH, CUT, INK, PAPER, RULE, fills, tint
from nesting.draw.text_width import wrapped
from nesting.engine.compaction import compacted
from nesting.engine.depth_grids import depth_grids
from nesting.engine.explore import shrunk
from nesting.engine.fill import fill
from nesting.engine.kernels.depth import FREE
from nesting.engine.layout import Layout, layout_of_fill
from nesting.engine.no_fit import in_units, no_fit_polygon, no_fit_table, unit_scale
from nesting.engine.orders import sensible_orders
from nesting.engine.prepared import PreparedStrip, prepare
from nesting.engine.separate import begin, go_on
from nesting.engine.separation_state import is_valid
from nesting.lay.strips import SIMPLIFY_MM, strip_for
from nesting.marker.cut_list import Selection, cut_list
from nesting.plan.lay_plan import lay_plan
from pieces.outline.polygon import FloatArray
from pieces.outline.simplify import simplify_outward
from pieces.outline.transform import turn
from pieces.sheet.pattern_file import read_pattern

PICTURES = ROOT / "docs" / "pictures"
WIDE_MM = 240.0
EDGE_MM = 8.0
ROOM_MM = WIDE_MM - 2.0 * EDGE_MM
PICTURE_MM, LEGEND_MM = 152.0, 64.0
WORDS_MM = 4.2
FIXED, MOVING, WITHIN = "#56B4E9", "#E69F00", "#0072B2"
THIN, FINE = Pen(INK, 0.2), Pen(RULE, 0.15)
SEED, SHORTER, MOST_MOVES = 1, 0.03, 400_000
"""The search shortens by half a hundredth at once, which the eye would hardly see."""


def outline_of(pattern: str, piece: str) -> FloatArray:
    """Return a demo piece in size M as the engine gets it, mm: simplified, its arrow along x.

    The lower left corner of the box around it is at 0, 0.
    """
    shape = read_pattern(ROOT / "demo" / f"{pattern}.toml").piece(piece).shape("M")
    lying = simplify_outward(turn(shape.outline_mm, -90.0), SIMPLIFY_MM)
    corner: FloatArray = lying.min(axis=0)
    return lying - corner


def sentences(told: list[tuple[str | None, str]], x: float, y: float, wide: float) -> list[Act]:
    """Set sentences one under another from a top left corner, each behind its swatch."""
    acts: list[Act] = []
    for colour, sentence in told:
        if colour is not None:
            acts.append(Area(rectangle(x, y - WORDS_MM, x + 5.0, y), fill=colour, pen=FINE))
        left = x if colour is None else x + 7.5
        for words in wrapped(sentence, wide - (left - x), WORDS_MM):
            acts.append(Text(words, (left, y - 0.85 * WORDS_MM), WORDS_MM, INK))
            y -= 1.35 * WORDS_MM
        y -= 0.6 * WORDS_MM
    return acts


def dot(at: FloatArray, radius: float) -> Area:
    """Return a round mark."""
    round_mm = shapely.get_coordinates(shapely.Point(at).buffer(radius))[:-1]
    return Area(round_mm, fill=INK)


def areas(shape: shapely.Geometry, fill: str) -> list[Act]:
    """Return every polygon of a shape as an area."""
    polygons = [part for part in shapely.get_parts(shape) if part.geom_type == "Polygon"]
    return [Area(np.array(part.exterior.coords)[:-1], fill=fill) for part in polygons]


def save(name: str, high: float, acts: list[Act], title: str) -> None:
    """Write one figure."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    scene = Scene(WIDE_MM, high, tuple(acts), title=title, description=title, paper=PAPER)
    save_scene(scene, PICTURES / f"algorithm-{name}.png")


def no_fit_figure() -> None:
    """Draw the front of the waistcoat, and where the flap of the knapsack must not go."""
    fixed, moving = outline_of("waistcoat", "front"), outline_of("knapsack", "flap")
    border = max(no_fit_polygon(fixed, moving), key=len)
    low, high = border.min(axis=0), border.max(axis=0) + moving.max(axis=0)
    share = PICTURE_MM / (high - low)[0]
    nestled = deepest_hollow(border)
    overlapping = moving.max(axis=0) * (-0.55, 0.0) + fixed.max(axis=0) * (0.0, 0.3)
    free = high - moving.max(axis=0) * (1.05, 1.0)

    acts: list[Act] = [
        Area(border, fill=tint(WITHIN, 0.12)),
        Area(fixed, fill=tint(FIXED, 0.5), pen=Pen(INK, 0.3 / share)),
    ]
    for at in (overlapping, nestled, free):
        acts.append(Area(moving + at, fill=tint(MOVING, 0.35), pen=Pen(INK, 0.3 / share)))
        both = shapely.intersection(shapely.Polygon(fixed), shapely.Polygon(moving + at))
        acts += areas(both, CUT)
    acts.append(Area(border, pen=Pen(WITHIN, 0.6 / share)))
    acts += [dot(at, 1.3 / share) for at in (overlapping, nestled, free)]
    tall = (high - low)[1] * share + 2.0 * EDGE_MM
    drawn = [moved(scaled(act, share), *(EDGE_MM - low * share)) for act in acts]
    told = [
        (tint(FIXED, 0.5), "The front of the waistcoat, which lies still."),
        (tint(MOVING, 0.35), "The flap of the knapsack in three places. The dot is its reference "
         "point: the lower left corner of the box around it."),
        (tint(WITHIN, 0.12), "Their no-fit polygon. While the dot is inside it, the two overlap."),
        (CUT, "An overlap."),
        (None, "With the dot on the blue line the two touch, as in the armhole; beyond the line "
         "they lie apart."),
    ]  # fmt: skip
    drawn += sentences(told, PICTURE_MM + 2.0 * EDGE_MM, tall - EDGE_MM, LEGEND_MM)
    save("no-fit", tall, drawn, "The no-fit polygon of two pieces")


def deepest_hollow(ring: FloatArray) -> FloatArray:
    """Return the vertex of a ring that lies deepest in a hollow of it."""
    hull = shapely.boundary(shapely.convex_hull(shapely.Polygon(ring)))
    deepest: FloatArray = ring[np.argmax(shapely.distance(shapely.points(ring), hull))]
    return deepest


def depth_figure() -> None:
    """Draw the cells over that no-fit polygon, and the edges that one of them lists."""
    outlines = outline_of("waistcoat", "front"), outline_of("knapsack", "flap")
    scale = unit_scale(max(float(outline.max()) for outline in outlines))
    grids = depth_grids(no_fit_table(tuple(in_units(outline, scale) for outline in outlines)))
    edges, pairs, boxes, lookups, cells, lists = grids.arrays
    box, number = boxes[0, 1], pairs[0, 1]
    in_row, first_cell = lookups[1, 0, 6:8].astype(int)
    columns, rows = in_row - 2, int(lookups[1, 0, 5]) - 1
    low, step = box[:2], (box[2:] - box[:2]) / (columns, rows)
    share = PICTURE_MM / (box[2] - box[0])
    first_edge, past_edge = grids.edge_starts[number]

    acts: list[Act] = []
    within = np.array(
        [
            first_cell + (row + 1) * in_row + column + 1
            for row in range(rows)
            for column in range(columns)
        ]
    )
    listed = cells[within + 1, 1] - cells[within, 1]
    deepest = cells[within, 0].max()
    for at, least in enumerate(cells[within, 0]):
        corner = low + step * (at % columns, at // columns)
        if least == FREE:
            fill = PAPER
        else:
            fill = tint(MOVING, 0.5) if least == 0 else tint(WITHIN, 0.15 + 0.55 * least / deepest)
        acts.append(
            Area(rectangle(*corner, *(corner + step)), fill=fill, pen=Pen(RULE, 0.12 / share))
        )
    acts.append(edge_lines(edges[first_edge:past_edge], Pen(INK, 0.35 / share)))
    column, row = ((deepest_hollow(edges[first_edge:past_edge, :2]) - low) / step).astype(int)
    shown = row * columns + column
    cell = within[shown]
    near = edges[lists[cells[cell, 1] : cells[cell + 1, 1]]]
    acts.append(edge_lines(near, Pen(CUT, 1.1 / share)))
    corner = low + step * (shown % columns, shown // columns)
    acts.append(Area(rectangle(*corner, *(corner + step)), pen=Pen(CUT, 0.8 / share)))
    tall = (box[3] - box[1]) * share + 2.0 * EDGE_MM
    drawn = [moved(scaled(act, share), *(EDGE_MM - low * share)) for act in acts]
    told = [
        (PAPER, "No place in such a cell overlaps. Nothing has to be looked at."),
        (tint(MOVING, 0.5), "The border passes through or near by: the edges listed in the cell "
         "tell on which side of it a place lies, and how deep."),
        (tint(WITHIN, 0.45), "Inside: the darker, the greater the least depth noted in the cell."),
        (CUT, f"One cell, and the {len(near)} of {past_edge - first_edge} edges that it lists. "
         f"The {columns} x {rows} cells list {listed.mean():.1f} edges on average."),
    ]  # fmt: skip
    drawn += sentences(told, PICTURE_MM + 2.0 * EDGE_MM, tall - EDGE_MM, LEGEND_MM)
    save("depth", tall, drawn, "The depth grid over a no-fit polygon")


def edge_lines(edges: FloatArray, pen: Pen) -> Lines:
    """Return edges, each x, y, dx, dy and more, as lines."""
    return Lines(tuple(np.array([edge[:2], edge[:2] + edge[2:4]]) for edge in edges), pen)


def strip_figure() -> None:
    """Draw two waistcoats on 45 in: filled, shortened too far, separated, compacted."""
    pattern = read_pattern(ROOT / "demo" / "waistcoat.toml")
    bolt, rules = Bolt(width_mm=1143.0), LayRules()
    (stretch,) = lay_plan(cut_list(pattern, (Selection("A", "M", 2),), "shell"), bolt, rules)
    prepared = prepare(strip_for(stretch, bolt, rules))
    rng = np.random.default_rng(SEED)
    filled = min((fill(prepared, order) for order in sensible_orders(prepared)),
                 key=lambda one: one.length)  # fmt: skip
    start = layout_of_fill(prepared, filled)
    short, window = shrunk(prepared, start, start.length * (1.0 - SHORTER), rng)
    attempt = begin(prepared, short, start.length * (1.0 - SHORTER), window, rng)
    ended = go_on(prepared, attempt, moves=MOST_MOVES, deadline=float("inf"))
    if not is_valid(prepared, ended.best):
        raise SystemExit("the pieces were not separated; try another seed, or shorten less")
    steps = {
        "Bottom-left fill": start,
        f"{100 * SHORTER:.0f} % off, right of a random cut": short,
        f"Separated, after {ended.moves:,} moves": ended.best,
        "Compacted": compacted(prepared, ended.best, window),
    }
    wide = (ROOM_MM - EDGE_MM) / 2.0
    share = wide / start.length
    tall = prepared.width * share + 3.0 * WORDS_MM
    acts: list[Act] = []
    for number, (told, layout) in enumerate(steps.items()):
        x = EDGE_MM + number % 2 * (wide + EDGE_MM)
        y = EDGE_MM + (1 - number // 2) * (tall + 2.0)
        length = f"{layout.length / prepared.scale / 10.0:.1f} cm"
        head = Text(f"{number + 1}. {told}: {length}", (0.0, tall - 1.5 * WORDS_MM), WORDS_MM, INK)
        acts += [moved(act, x, y) for act in (*strip_acts(prepared, layout, wide, share), head)]
    high = 2.0 * (tall + EDGE_MM) - 4.0
    save("separation", high, acts, "A strip shortened, separated and compacted")


def strip_acts(prepared: PreparedStrip, layout: Layout, long_mm: float, share: float) -> list[Act]:
    """Return cloth so long with its pieces, overlaps in red, and the line where it ends."""
    wide, reach = prepared.width * share, layout.length * share
    colours = list(fills(map(str, range(len(prepared.quantities)))).values())
    lying = [
        (prepared.shapes[shape] + place) * share
        for shape, place in zip(layout.shapes, layout.places, strict=True)
    ]
    acts: list[Act] = [Area(rectangle(0.0, 0.0, long_mm, wide), fill=CLOTH)]
    acts += [
        Area(outline, fill=colours[item], pen=THIN)
        for outline, item in zip(lying, prepared.copies, strict=True)
    ]
    for one, other in combinations(map(shapely.Polygon, lying), 2):
        both = shapely.buffer(shapely.intersection(one, other), -0.02)
        acts += areas(both, CUT)
    return [*acts, Lines((line((reach, -1.0), (reach, wide + 1.0)),), Pen(CUT, 0.6))]


if __name__ == "__main__":
    no_fit_figure()
    depth_figure()
    strip_figure()
