"""A scene: what is drawn, in plain acts, before anybody asks in which kind of file.

Everything is in millimetres, x to the right and y up. Acts are painted in order, later ones over
earlier ones. Writers replay a scene and know nothing of cloth.
"""

import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from enum import StrEnum

import numpy as np

from nesting.draw.text_width import text_width_mm
from pieces.grainline import Point
from pieces.outline.polygon import FloatArray
from pieces.outline.transform import place

CAP_SHARE = 0.73
"""Height of a capital letter over the height of the text."""
DROP_SHARE = 0.24
"""How far letters such as g reach below the base line, over the height of the text."""

_STEPS = np.linspace(0.0, 2.0 * np.pi, 24, endpoint=False)
AROUND = np.column_stack((np.cos(_STEPS), np.sin(_STEPS)))
"""Points on a circle of radius 1, shape (24, 2)."""


class Anchor(StrEnum):
    """Which point of a line of text stands at its place."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True)
class Pen:
    """How a line is drawn.

    Parameters
    ----------
    colour
        Hexadecimal colour such as ``"#202020"``.
    width_mm
        Thickness, mm.
    dash_mm
        Lengths of stroke and gap in turn, mm; empty for an unbroken line.
    """

    colour: str
    width_mm: float
    dash_mm: tuple[float, ...] = ()


@dataclass(frozen=True, eq=False)
class Area:
    """A closed outline, shape (n, 2), mm, filled or edged or both."""

    outline_mm: FloatArray
    fill: str | None = None
    pen: Pen | None = None


@dataclass(frozen=True, eq=False)
class Lines:
    """Open lines, each of shape (n, 2), mm, drawn with one pen."""

    lines_mm: tuple[FloatArray, ...]
    pen: Pen


@dataclass(frozen=True)
class Arrow:
    """A straight arrow from tail to head, its head a filled triangle ``head_mm`` long."""

    tail_mm: Point
    tip_mm: Point
    pen: Pen
    head_mm: float

    @property
    def shaft_mm(self) -> FloatArray:
        """The line from the tail into the head, shape (2, 2), mm."""
        tail, tip = np.array(self.tail_mm), np.array(self.tip_mm)
        return np.array([tail, tip - self._along() * self.head_mm * 0.8])

    @property
    def triangle_mm(self) -> FloatArray:
        """The head, shape (3, 2), mm."""
        along, tip = self._along(), np.array(self.tip_mm)
        across = np.array([-along[1], along[0]]) * self.head_mm * 0.36
        back = tip - along * self.head_mm
        return np.array([tip, back + across, back - across])

    def _along(self) -> FloatArray:
        step = np.array(self.tip_mm) - np.array(self.tail_mm)
        unit: FloatArray = step / np.linalg.norm(step)
        return unit


@dataclass(frozen=True)
class Text:
    """One line of words.

    Parameters
    ----------
    words
        What is written, on one line.
    at_mm
        Where the anchor stands, on the base line, mm.
    height_mm
        Type size: from the top of the tallest letter to the bottom of the lowest, mm.
    colour
        Hexadecimal colour.
    turn_deg
        Degrees anticlockwise about ``at_mm``.
    bold
        True for heavy type.
    anchor
        Which point of the line stands at ``at_mm``.
    """

    words: str
    at_mm: Point
    height_mm: float
    colour: str
    turn_deg: float = 0.0
    bold: bool = False
    anchor: Anchor = Anchor.START

    def __post_init__(self) -> None:
        """Write line ends and control characters as spaces: a line of text is one line."""
        object.__setattr__(self, "words", "".join(map(_printable, self.words)))

    @property
    def width_mm(self) -> float:
        """Width of the line, mm."""
        return text_width_mm(self.words, self.height_mm, bold=self.bold)

    @property
    def box_mm(self) -> FloatArray:
        """Corners of the box around the letters, shape (4, 2), mm."""
        left = -self.width_mm * {"start": 0.0, "middle": 0.5, "end": 1.0}[self.anchor.value]
        right = left + self.width_mm
        low, high = -DROP_SHARE * self.height_mm, CAP_SHARE * self.height_mm
        box = np.array([(left, low), (right, low), (right, high), (left, high)])
        return place(box, turn_deg=self.turn_deg, x=self.at_mm[0], y=self.at_mm[1])


def _printable(letter: str) -> str:
    return " " if unicodedata.category(letter) in ("Cc", "Cs", "Zl", "Zp") else letter


@dataclass(frozen=True)
class Group:
    """Acts that belong together.

    Parameters
    ----------
    name
        Layer: ``"cloth"``, ``"piece"``, ``"rulers"``, ``"words"`` and so on.
    acts
        What is in it, in order of painting.
    title
        What a reader is told of it, or empty.
    """

    name: str
    acts: tuple["Act", ...]
    title: str = ""


Act = Area | Lines | Arrow | Text | Group


@dataclass(frozen=True)
class Scene:
    """A picture in mm.

    Parameters
    ----------
    width_mm, height_mm
        Size; the lower left corner is the origin.
    acts
        In order of painting.
    title, description
        What the picture is, for readers who cannot see it.
    paper
        Colour behind everything.
    """

    width_mm: float
    height_mm: float
    acts: tuple[Act, ...]
    title: str
    description: str
    paper: str = field(default="#FFFFFF")


def moved(act: Act, dx_mm: float, dy_mm: float) -> Act:
    """Return the act moved by (dx, dy)."""
    shift = np.array([dx_mm, dy_mm])
    match act:
        case Area():
            return replace(act, outline_mm=act.outline_mm + shift)
        case Lines():
            return replace(act, lines_mm=tuple(line + shift for line in act.lines_mm))
        case Arrow():
            return replace(
                act,
                tail_mm=(act.tail_mm[0] + dx_mm, act.tail_mm[1] + dy_mm),
                tip_mm=(act.tip_mm[0] + dx_mm, act.tip_mm[1] + dy_mm),
            )
        case Text():
            return replace(act, at_mm=(act.at_mm[0] + dx_mm, act.at_mm[1] + dy_mm))
        case Group():
            return replace(act, acts=tuple(moved(inner, dx_mm, dy_mm) for inner in act.acts))


def scaled(act: Act, share: float) -> Act:
    """Return the act with every length times ``share``, about the origin."""
    match act:
        case Area():
            pen = None if act.pen is None else _scaled_pen(act.pen, share)
            return replace(act, outline_mm=act.outline_mm * share, pen=pen)
        case Lines():
            lines = tuple(line * share for line in act.lines_mm)
            return Lines(lines, _scaled_pen(act.pen, share))
        case Arrow():
            return Arrow(
                (act.tail_mm[0] * share, act.tail_mm[1] * share),
                (act.tip_mm[0] * share, act.tip_mm[1] * share),
                _scaled_pen(act.pen, share),
                act.head_mm * share,
            )
        case Text():
            at_mm = (act.at_mm[0] * share, act.at_mm[1] * share)
            return replace(act, at_mm=at_mm, height_mm=act.height_mm * share)
        case Group():
            return replace(act, acts=tuple(scaled(inner, share) for inner in act.acts))


def shrunk(text: Text, room_mm: float) -> Text:
    """Return a text, smaller if it is wider than its room, mm."""
    share = min(1.0, room_mm / max(text.width_mm, 1e-9))
    return replace(text, height_mm=text.height_mm * share)


def _scaled_pen(pen: Pen, share: float) -> Pen:
    steps = tuple(step * share for step in pen.dash_mm)
    return Pen(pen.colour, pen.width_mm * share, steps)


def walk(acts: tuple[Act, ...], layer: str = "") -> Iterator[tuple[str, Act]]:
    """Yield every act that is no group, with the name of the innermost group around it."""
    for act in acts:
        if isinstance(act, Group):
            yield from walk(act.acts, act.name)
        else:
            yield layer, act


def line(*points: Point) -> FloatArray:
    """Return points as a line of shape (n, 2)."""
    return np.array(points, dtype=np.float64)


def rectangle(x0: float, y0: float, x1: float, y1: float) -> FloatArray:
    """Return the corners of a rectangle, anticlockwise, shape (4, 2).

    Examples
    --------
    >>> rectangle(0, 0, 3, 2).tolist()
    [[0.0, 0.0], [3.0, 0.0], [3.0, 2.0], [0.0, 2.0]]
    """
    return np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], dtype=np.float64)


def diamond(at_mm: Point, reach_mm: float) -> FloatArray:
    """Return the corners of a square on its tip about a point, anticlockwise, shape (4, 2)."""
    x, y = at_mm
    return line((x - reach_mm, y), (x, y - reach_mm), (x + reach_mm, y), (x, y + reach_mm))


def cross(at_mm: Point, arm_mm: float) -> tuple[FloatArray, FloatArray]:
    """Return the two strokes of an upright cross about a point."""
    x, y = at_mm
    return line((x - arm_mm, y), (x + arm_mm, y)), line((x, y - arm_mm), (x, y + arm_mm))


def ring(at_mm: Point, radius_mm: float) -> FloatArray:
    """Return a small circle about a point as an outline, shape (24, 2)."""
    return AROUND * radius_mm + at_mm
