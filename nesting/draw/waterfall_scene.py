"""A waterfall: how a length is made up, each share beginning where the one before it ends."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from nesting.draw.rulers import SIDE, ruler_along
from nesting.draw.scene import (
    Act,
    Anchor,
    Area,
    Group,
    Lines,
    Pen,
    Scene,
    Text,
    line,
    moved,
    rectangle,
    scaled,
    shrunk,
)
from nesting.draw.style import CLOTH, CUT, INK, PAPER, RULE, SELVAGE, SOFT_INK, Look, tint
from nesting.errors import DrawError
from pieces.measures.units import UnitSystem


class BarKind(StrEnum):
    """What a bar stands for."""

    BASE = "base"
    SHARE = "share"
    TOTAL = "total"


@dataclass(frozen=True)
class Bar:
    """One row of a waterfall.

    Parameters
    ----------
    kind
        Where it begins from, a share on top of it, or the whole.
    name, detail
        What it is, and what there is to say of it; the detail may be empty.
    start_mm, end_mm
        From where to where it reaches, mm of cloth.
    length, cost
        Its length and its price in words; the price may be empty.
    """

    kind: BarKind
    name: str
    detail: str
    start_mm: float
    end_mm: float
    length: str
    cost: str = ""


@dataclass(frozen=True)
class WaterfallWords:
    """What stands around a waterfall: a title, a line under it, headings, and a foot."""

    title: str
    subtitle: str
    headings: tuple[str, str, str]
    foot: tuple[str, ...]


_MARGIN = 12.0
_HEAD = 18.0
_HEADING = 7.0
_ROW = 11.0
_NAME = 62.0
_BARS = 150.0
_LENGTH = 40.0
_COST = 22.0
_PAD = 3.0
_THICK = 5.6
_FILLS = {BarKind.BASE: CLOTH, BarKind.SHARE: tint(CUT, 0.28), BarKind.TOTAL: SELVAGE}


def waterfall_scene(bars: Sequence[Bar], words: WaterfallWords, units: UnitSystem) -> Scene:
    """Return a picture of bars one under another, 1 mm of the scene being 1 mm of paper.

    Parameters
    ----------
    bars
        From the base to the whole, at least one that reaches beyond 0.
    words
        What stands around them.
    units
        The person's own system, told first on the ruler.

    Raises
    ------
    DrawError
        If there is nothing to draw.
    """
    longest_mm = max((bar.end_mm for bar in bars), default=0.0)
    if longest_mm <= 0.0:
        raise DrawError("there is no length to draw; give at least one bar")
    share = _BARS / longest_mm
    has_cost = any(bar.cost for bar in bars)
    wide = _NAME + _BARS + _PAD + _LENGTH + (_COST if has_cost else 0.0)
    acts: list[Act] = [*_head(words, wide)]
    top = -_HEAD
    acts += _headings(words.headings, top, has_cost=has_cost)
    top -= _HEADING
    acts += _grid(longest_mm, share, top, rows=len(bars))
    for number, bar in enumerate(bars):
        acts.append(_row(bar, top - _ROW * (number + 1), share))
    acts += _steps(bars, top, share)
    ruler, low = _ruler(longest_mm, share, top - _ROW * len(bars), units)
    foot, low = _foot(words.foot, wide, low)
    high = -low + 2.0 * _MARGIN
    told = "; ".join(f"{bar.name}: {bar.length}" for bar in bars)
    return Scene(
        width_mm=wide + 2.0 * _MARGIN,
        height_mm=high,
        acts=tuple(moved(act, _MARGIN, high - _MARGIN) for act in (*acts, ruler, *foot)),
        title=f"{words.title}: {words.subtitle}",
        description=f"{told}.",
        paper=PAPER,
    )


def _head(words: WaterfallWords, wide: float) -> list[Act]:
    return [
        shrunk(Text(words.title, (0.0, -5.5), 6.5, INK, bold=True), wide),
        shrunk(Text(words.subtitle, (0.0, -12.5), 4.0, CUT, bold=True), wide),
    ]


def _headings(headings: tuple[str, str, str], top: float, *, has_cost: bool) -> list[Act]:
    """Return what the columns are, over a rule."""
    y = top - _HEADING + 2.4
    right = _NAME + _BARS + _PAD
    texts = [
        Text(headings[0], (0.0, y), 2.9, SOFT_INK),
        Text(headings[1], (right + _LENGTH - _PAD, y), 2.9, SOFT_INK, anchor=Anchor.END),
    ]
    if has_cost:
        at = (right + _LENGTH + _COST, y)
        texts.append(Text(headings[2], at, 2.9, SOFT_INK, anchor=Anchor.END))
    end = right + _LENGTH + (_COST if has_cost else 0.0)
    rule = Lines((line((0.0, top - _HEADING), (end, top - _HEADING)),), Pen(RULE, 0.3))
    return [*texts, rule]


def _grid(longest_mm: float, share: float, top: float, *, rows: int) -> list[Act]:
    """Return the lines where nothing and everything is."""
    low = top - _ROW * rows
    ends = [line((_NAME + x * share, top), (_NAME + x * share, low)) for x in (0.0, longest_mm)]
    return [Lines(tuple(ends), Pen(RULE, 0.12))]


def _row(bar: Bar, y: float, share: float) -> Group:
    """Return one bar with its words, its lower edge at ``y``."""
    is_share = bar.kind is BarKind.SHARE
    middle = y + _ROW / 2.0
    left, right = (_NAME + x * share for x in (bar.start_mm, bar.end_mm))
    name_y = middle + 0.5 if bar.detail else middle - 1.3
    acts: list[Act] = [
        shrunk(Text(bar.name, (0.0, name_y), 3.7, INK, bold=not is_share), _NAME - _PAD),
        shrunk(Text(bar.detail, (0.0, middle - 3.4), 2.7, SOFT_INK), _NAME - _PAD),
    ]
    foot, head = middle - _THICK / 2.0, middle + _THICK / 2.0
    if right - left < 0.25:  # a rule that costs nothing is a tick
        acts.append(Lines((line((right, foot), (right, head)),), Pen(CUT, 0.5)))
    else:
        edge = Pen(CUT if is_share else INK, 0.3)
        acts.append(Area(rectangle(left, foot, right, head), _FILLS[bar.kind], edge))
    column = _NAME + _BARS + _PAD + _LENGTH
    colour = CUT if bar.kind is BarKind.TOTAL else INK
    figures = ((bar.length, column - _PAD, _LENGTH - _PAD), (bar.cost, column + _COST, _COST - 1.0))
    for words, x, room in figures:
        text = Text(words, (x, middle - 1.3), 3.7, colour, bold=not is_share, anchor=Anchor.END)
        acts.append(shrunk(text, room))
    return Group("bar", tuple(act for act in acts if not _is_empty(act)), title=bar.name)


def _is_empty(act: Act) -> bool:
    return isinstance(act, Text) and not act.words


def _steps(bars: Sequence[Bar], top: float, share: float) -> list[Act]:
    """Return the thin lines from the end of one bar to the beginning of the next."""
    lines = []
    for number, (above, below) in enumerate(pairwise(bars)):
        x = _NAME + above.end_mm * share
        y = top - _ROW * (number + 1)
        reach = (_ROW - _THICK) / 2.0
        if below.kind is not BarKind.BASE:
            lines.append(line((x, y + reach), (x, y - reach)))
    return [Lines(tuple(lines), Pen(SOFT_INK, 0.15, (0.8, 0.6)))] if lines else []


def _ruler(longest_mm: float, share: float, y: float, units: UnitSystem) -> tuple[Act, float]:
    """Return a ruler of the cloth under the bars, to their scale, and where it ends."""
    look = Look(3.2 / share)
    ruler = scaled(ruler_along(longest_mm, 0.0, look, units), share)
    middle = y - (SIDE * 3.2 + 1.0)
    return moved(ruler, _NAME, middle), middle - SIDE * 3.2 - 1.0


def _foot(sentences: Sequence[str], wide: float, y: float) -> tuple[list[Act], float]:
    acts: list[Act] = []
    for sentence in sentences:
        y -= 4.4
        acts.append(shrunk(Text(sentence, (0.0, y), 2.9, SOFT_INK), wide))
    return acts, y
