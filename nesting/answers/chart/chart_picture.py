"""A yardage chart as a picture: figures for each view, over strips of cloth to scale.

Behind every figure lies a strip of cloth as long as what it asks for, on one scale for the whole
chart, so that the eye sees what the figures say. The least of each size is set in bold.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from nesting.answers.chart.chart import Chart
from nesting.answers.chart.chart_tables import NO_CELL, foot_words
from nesting.answers.compare import CompareRow
from nesting.cloth.bolt import Bolt
from nesting.cloth.words import nap_words
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
    shrunk,
)
from nesting.draw.style import CLOTH, CUT, INK, PAPER, RULE, SELVAGE, SOFT_INK
from nesting.draw.text_width import wrapped
from nesting.draw.words import REMINDER
from nesting.languages import ENGLISH, Words
from pieces.measures.format import format_length
from pieces.measures.units import UnitSystem
from pieces.measures.widths import format_width

_MARGIN = 12.0
_HEAD = 17.0
_BAND = 14.0
_ROW = 10.5
_BETWEEN = 7.0
_NAME = 50.0
_COLUMN = 33.0
_LEAST_WIDE = 150.0
_PAD = 2.0


@dataclass(frozen=True)
class _Paper:
    """Where things stand on the paper, mm, y counted down from the top margin as negative."""

    chart: Chart
    words: Words

    @property
    def wide(self) -> float:
        return max(_NAME + _COLUMN * len(self.chart.request.sizes), _LEAST_WIDE)

    @property
    def column(self) -> float:
        return (self.wide - _NAME) / len(self.chart.request.sizes)

    @property
    def units(self) -> UnitSystem:
        return self.chart.request.bolts[0].units

    @cached_property
    def longest_mm(self) -> float:
        """The longest shop length of the chart, mm of cloth; 1 if nothing could be laid."""
        laid = [row.result for row in self.chart.all_rows if row.result is not None]
        return max((result.shop_length_mm for result in laid), default=1.0)

    @cached_property
    def bolts(self) -> tuple[Bolt, ...]:
        """The bolts with equal widths side by side, in order of first mention."""
        widths = list(dict.fromkeys(bolt.width_mm for bolt in self.chart.request.bolts))
        return tuple(sorted(self.chart.request.bolts, key=lambda bolt: widths.index(bolt.width_mm)))


def chart_scene(chart: Chart, words: Words = ENGLISH) -> Scene:
    """Return a yardage chart as a picture, 1 mm of the scene being 1 mm of paper."""
    paper, request = _Paper(chart, words), chart.request
    acts: list[Act] = list(_head(paper))
    y = -_HEAD
    for view in request.views:
        acts += _view(paper, view, y)
        y -= _BAND + _ROW * len(request.bolts) + _BETWEEN
    foot, y = _foot(paper, y)
    acts += foot
    high = -y + 2.0 * _MARGIN
    return Scene(
        width_mm=paper.wide + 2.0 * _MARGIN,
        height_mm=high,
        acts=tuple(moved(act, _MARGIN, high - _MARGIN) for act in acts),
        title=words.say("Yardage chart: {pattern}", pattern=request.pattern.name),
        description=words.say(
            "How much {cloth} views {views} take in {sizes}.",
            cloth=request.cloth,
            views=", ".join(request.views),
            sizes=", ".join(request.sizes),
        ),
        paper=PAPER,
    )


def _head(paper: _Paper) -> Iterator[Act]:
    request = paper.chart.request
    yield shrunk(Text(request.pattern.name, (0.0, -5.0), 6.5, INK, bold=True), paper.wide)
    if paper.units is UnitSystem.METRIC:
        told = paper.words.say(
            "How much {cloth} to ask for; in small type the same in yards or inches",
            cloth=request.cloth,
        )
    else:
        told = paper.words.say(
            "How much {cloth} to ask for; in small type the same in metres", cloth=request.cloth
        )
    yield shrunk(Text(told, (0.0, -11.5), 3.8, CUT, bold=True), paper.wide)


def _view(paper: _Paper, view: str, top: float) -> list[Act]:
    """Return the block of one view: a band with the sizes, then a row for each bolt."""
    request = paper.chart.request
    about = request.pattern.view(view).about
    low = top - _BAND
    acts: list[Act] = [
        Area(rectangle(0.0, low, paper.wide, low + 7.5), SELVAGE),
        shrunk(
            Text(paper.words.say("width of the cloth"), (_PAD, low + 2.3), 3.0, INK),
            _NAME - 2 * _PAD,
        ),
    ]
    heading = paper.words.say("View {view}", view=view)
    title = Text(heading, (0.0, top - 4.0), 4.4, INK, bold=True)
    acts.append(title)
    if about:
        room = paper.wide - title.width_mm - 4.0
        at = (title.width_mm + 4.0, top - 4.0)
        acts.append(shrunk(Text(about, at, 3.0, SOFT_INK), room))
    for number, size in enumerate(request.sizes):
        left = _NAME + number * paper.column + _PAD
        text = Text(size, (left, low + 2.1), 4.0, INK, bold=True)
        acts.append(shrunk(text, paper.column - 2.0 * _PAD))
    before: float | None = None
    for number, bolt in enumerate(paper.bolts):
        acts += _row(paper, view, bolt, low - _ROW * (number + 1), is_new=bolt.width_mm != before)
        before = bolt.width_mm
    return [Group("view", tuple(acts), heading)]


def _row(paper: _Paper, view: str, bolt: Bolt, y: float, *, is_new: bool) -> Iterator[Act]:
    """Yield the row of one bolt, its lower edge at ``y``; the width is told once."""
    top = y + _ROW
    start = 0.0 if is_new else 0.5 * _NAME
    yield Lines((line((start, top), (paper.wide, top)),), Pen(RULE, 0.3 if is_new else 0.12))
    if is_new:
        width = paper.words.figures(format_width(bolt.width_mm, bolt.units))
        yield shrunk(Text(width, (_PAD, y + 3.4), 4.4, INK, bold=True), 0.5 * _NAME - _PAD)
    nap = Text(nap_words(bolt, paper.words), (0.5 * _NAME, y + 3.6), 3.1, INK)
    yield shrunk(nap, 0.5 * _NAME - _PAD)
    for number, size in enumerate(paper.chart.request.sizes):
        row = paper.chart.cell(view, size, bolt)
        yield from _cell(paper, row, (_NAME + number * paper.column, y), _is_least(paper, row))


def _is_least(paper: _Paper, row: CompareRow) -> bool:
    """Tell whether no other bolt asks for less for the same view and size."""
    chosen = row.request.selections[0]
    beside = paper.chart.rows[chosen.view, chosen.size]
    lengths = [other.result.shop_length_mm for other in beside if other.result is not None]
    return row.result is not None and row.result.shop_length_mm <= min(lengths) + 1e-6


def _cell(
    paper: _Paper, row: CompareRow, corner: tuple[float, float], is_least: bool
) -> Iterator[Act]:
    """Yield one figure over its strip of cloth."""
    x, y = corner
    room = paper.column - 2.0 * _PAD
    if row.result is None:
        yield Text(NO_CELL, (x + _PAD, y + 4.2), 4.2, SOFT_INK)
        return
    length = row.result.shop_length_mm
    end = x + _PAD + room * length / paper.longest_mm
    yield Area(rectangle(x + _PAD, y + 1.1, end, y + 2.7), CLOTH, Pen(SELVAGE, 0.15))
    yield Lines((line((end, y + 0.8), (end, y + 3.0)),), Pen(CUT, 0.35))
    metric = paper.units is UnitSystem.METRIC
    other = UnitSystem.IMPERIAL if metric else UnitSystem.METRIC
    told, beside = (
        paper.words.figures(format_length(length, units)) for units in (paper.units, other)
    )
    first = Text(told, (x + _PAD, y + 4.6), 4.2, INK, bold=is_least)
    first = shrunk(first, 0.62 * room)
    yield first
    second = Text(beside, (x + _PAD + room, y + 4.6), 2.6, SOFT_INK, anchor=Anchor.END)
    yield shrunk(second, room - first.width_mm - 1.2)


def _foot(paper: _Paper, y: float) -> tuple[list[Act], float]:
    """Return the notes below the tables, and where they end."""
    acts: list[Act] = []
    told = (
        paper.words.say("Strips of cloth are to scale. Bold: the least of a size."),
        *foot_words(paper.chart, paper.words),
        paper.words.say(REMINDER),
    )
    for sentence in told:
        for row in wrapped(sentence, paper.wide, 2.9):
            y -= 4.1
            acts.append(Text(row, (0.0, y), 2.9, SOFT_INK))
    return acts, y
