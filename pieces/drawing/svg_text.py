"""Write a drawing of pieces as SVG, in mm, with y turned down as SVG has it."""

from collections.abc import Iterable, Iterator
from xml.sax.saxutils import escape, quoteattr

from pieces.drawing.drawing import Drawing, DrawnShape, Fact, written
from pieces.drawing.labels import Role
from pieces.drawing.page import origins_of, page_box
from pieces.grainline import Point
from pieces.shaping.seam import SEW_LINE

_DOT_MM = 1.5
_STYLE = (
    '<g fill="none" stroke="#222222" stroke-width="0.6" stroke-linejoin="round" '
    'font-family="sans-serif" font-size="8">'
)
_ARROW = (
    '<defs><marker id="arrow-head" orient="auto" markerWidth="8" markerHeight="8" refX="6" '
    'refY="3" viewBox="0 0 6 6"><path d="M0 0L6 3L0 6z" fill="#222222" stroke="none"/></marker>'
    "</defs>"
)


def format_svg(drawing: Drawing, *, keep_places: bool = False) -> str:
    """Return the text of an SVG drawing; reading it back gives the same shapes and facts.

    Parameters
    ----------
    drawing
        At least one shape.
    keep_places
        True to leave every shape where its coordinates put it, as in a marker; False to spread
        them out so that none touches another.

    Raises
    ------
    DrawingError
        If there is nothing to draw.
    """
    origins = origins_of(drawing, keep_places=keep_places)
    left, low, right, high = page_box(drawing.shapes, origins)
    wide, tall = (_n(round(side, 3)) for side in (right - left, high - low))
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="{wide}mm" '
        f'height="{tall}mm" viewBox="0 0 {wide} {tall}"{_data(drawing.facts)}>'
    )
    lines = ['<?xml version="1.0" encoding="UTF-8"?>', head, _ARROW, _STYLE]
    for shape, (x, y) in zip(drawing.shapes, origins, strict=True):
        lines += _group(shape, (x - left, high - y))
    return "\n".join([*lines, "</g>", "</svg>", ""])


def _group(drawn: DrawnShape, at: Point) -> Iterator[str]:
    names = f" data-piece={_quoted(drawn.name)}"
    if drawn.size:
        names += f" data-size={_quoted(drawn.size)}"
    place = f'transform="translate({_n(at[0])} {_n(at[1])})" data-origin="0 0"'
    yield f'<g class="piece"{names}{_data(drawn.facts)} {place}>'
    yield from _marks(drawn)
    yield from _caption(drawn)
    yield "</g>"


def _marks(drawn: DrawnShape) -> Iterator[str]:
    shape = drawn.shape
    yield f'<path class="{Role.OUTLINE}" d="{_path(shape.outline_mm.tolist())}z"/>'
    if drawn.has_arrow:
        arrow = (shape.grainline.tail_mm, shape.grainline.head_mm)
        yield f'<path class="{Role.GRAIN}" d="{_path(arrow)}" marker-end="url(#arrow-head)"/>'
    if shape.fold_edge_mm is not None:
        dashes = 'stroke-dasharray="12 4 2 4" stroke-width="1.2"'
        yield f'<path class="{Role.FOLD}" d="{_path(shape.fold_edge_mm)}" {dashes}/>'
    for notch in shape.notches:
        yield _dot(Role.NOTCH, notch.at_mm)
    for match in shape.match_points:
        yield _dot(Role.MATCH, match.at_mm, f" data-name={_quoted(match.name)}")
    for hole in shape.drill_holes:
        yield _dot(Role.DRILL, hole.at_mm)
    for line in shape.internal_lines:
        role = Role.SEW if line.name == SEW_LINE else Role.LINE
        name = "" if role is Role.SEW else f" data-name={_quoted(line.name)}"
        path = _path(line.points_mm.tolist())
        yield f'<path data-role="{role}"{name} d="{path}" stroke-dasharray="4 2"/>'


def _dot(role: Role, at: Point, more: str = "") -> str:
    return f'<circle data-role="{role}"{more} cx="{_n(at[0])}" cy="{_n(-at[1])}" r="{_DOT_MM}"/>'


def _caption(drawn: DrawnShape) -> Iterator[str]:
    title = next((value for name, value in drawn.facts if name == "title"), drawn.name)
    (x0, y0), (x1, y1) = drawn.shape.grainline.tail_mm, drawn.shape.grainline.head_mm
    text = escape(written(f"{title} {drawn.size}".strip()))
    place = f'x="{_n(round((x0 + x1) / 2.0 + 4.0, 2))}" y="{_n(round(-(y0 + y1) / 2.0, 2))}"'
    yield f'<text data-role="ignore" {place} fill="#222222" stroke="none">{text}</text>'


def _data(facts: Iterable[Fact]) -> str:
    """Write facts as data attributes, the first of each name."""
    table: dict[str, str] = {}
    for name, value in facts:
        table.setdefault(name.replace(" ", "-"), value)
    return "".join(f" data-{key}={_quoted(value)}" for key, value in table.items())


def _quoted(value: str) -> str:
    return quoteattr(written(value))


def _path(points: Iterable[Iterable[float]]) -> str:
    return "M" + " ".join(f"{_n(x)},{_n(-y)}" for x, y in points)


def _n(number: float) -> str:
    number = float(number)
    return str(int(number)) if number.is_integer() and abs(number) < 1e15 else repr(number)
