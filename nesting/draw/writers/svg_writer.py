"""Replay a scene as an SVG file, 1 mm of the scene being 1 mm of the drawing."""

from xml.sax.saxutils import escape, quoteattr

from nesting.draw.scene import Act, Area, Arrow, Group, Lines, Pen, Scene, Text
from nesting.draw.text_width import is_measured
from pieces.outline.polygon import FloatArray

_FONT = "DejaVu Sans, Verdana, sans-serif"


def svg_text(scene: Scene) -> str:
    """Return the scene as an SVG document: no scripts, nothing fetched from elsewhere."""
    width, height = _number(scene.width_mm), _number(scene.height_mm)
    writer = _SvgWriter(scene.height_mm)
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}" role="img" aria-labelledby="title desc" '
        f'font-family="{_FONT}" stroke-linejoin="round">',
        f'<title id="title">{_told(scene.title)}</title>',
        f'<desc id="desc">{_told(scene.description)}</desc>',
        f'<rect width="{width}" height="{height}" fill="{scene.paper}"/>',
        *(line for act in scene.acts for line in writer.lines(act)),
        "</svg>",
    ]
    return "\n".join(lines) + "\n"


class _SvgWriter:
    """Turns acts into elements; the only place where y is flipped."""

    def __init__(self, height_mm: float) -> None:
        self._height = height_mm

    def lines(self, act: Act) -> list[str]:
        """Return the elements of one act."""
        match act:
            case Group():
                return self._group(act)
            case Area():
                return [self._area(act)]
            case Lines():
                return [self._open_lines(act.lines_mm, act.pen)]
            case Arrow():
                head = Area(act.triangle_mm, fill=act.pen.colour)
                return [self._open_lines((act.shaft_mm,), act.pen), self._area(head)]
            case Text():
                return [self._text(act)]

    def _group(self, group: Group) -> list[str]:
        title = [f"<title>{_told(group.title)}</title>"] if group.title else []
        inner = [line for act in group.acts for line in self.lines(act)]
        return [f"<g class={quoteattr(group.name.replace(' ', '-'))}>", *title, *inner, "</g>"]

    def _area(self, area: Area) -> str:
        stroke = "" if area.pen is None else _stroke(area.pen)
        return f'<path d="{self._path(area.outline_mm)}Z" fill="{area.fill or "none"}"{stroke}/>'

    def _open_lines(self, lines_mm: tuple[FloatArray, ...], pen: Pen) -> str:
        path = "".join(self._path(points) for points in lines_mm)
        return f'<path d="{path}" fill="none"{_stroke(pen)}/>'

    def _text(self, text: Text) -> str:
        x, y = _number(text.at_mm[0]), _number(self._height - text.at_mm[1])
        turned = f' transform="rotate({_number(-text.turn_deg)} {x} {y})"' if text.turn_deg else ""
        weight = ' font-weight="bold"' if text.bold else ""
        width = (
            f' textLength="{_number(text.width_mm)}" lengthAdjust="spacingAndGlyphs"'
            if is_measured(text.words) and text.words
            else ""
        )
        return (
            f'<text x="{x}" y="{y}" font-size="{_number(text.height_mm)}" fill="{text.colour}" '
            f'text-anchor="{text.anchor.value}"{weight}{turned}{width}>{_told(text.words)}</text>'
        )

    def _path(self, points: FloatArray) -> str:
        flipped = ((x, self._height - y) for x, y in points.tolist())
        return "M" + "L".join(f"{_number(x)} {_number(y)}" for x, y in flipped)


def _stroke(pen: Pen) -> str:
    dash = " ".join(_number(step) for step in pen.dash_mm)
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return f' stroke="{pen.colour}" stroke-width="{_number(pen.width_mm)}"{dashed}'


def _number(value: float) -> str:
    """Return a thousandth of a millimetre at the finest."""
    written = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if written in ("-0", "") else written


def _told(words: str) -> str:
    """Return words safe inside an element; characters that XML forbids become question marks."""
    return escape(
        "".join(letter if _may_stand(letter) else "\N{REPLACEMENT CHARACTER}" for letter in words)
    )


def _may_stand(letter: str) -> bool:
    if letter in "\t\n":
        return True
    return letter >= " " and letter not in "\ufffe\uffff" and not "\ud800" <= letter <= "\udfff"
