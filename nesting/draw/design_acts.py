"""What the cloth itself brings along: the grid of its repeat, matched points, and flaws."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from nesting.checks.laid_pieces import laid_on
from nesting.checks.match_checks import Match, matches_on
from nesting.cloth.bolt import repeat_on
from nesting.cloth.repeat import Axis
from nesting.cloth.spread import Spread, Stretch, laid_width_mm
from nesting.draw.cloth_frame import ClothFrame
from nesting.draw.scene import Act, Anchor, Area, Group, Lines, Text, diamond, line, rectangle
from nesting.draw.style import CUT, FLAW, GRID, Look, hatching
from nesting.plan.flaw_places import FlawPlace, flaw_places
from pieces.grainline import Point
from pieces.outline.polygon import FloatArray

FINEST_GRID = 0.35
"""A repeat of less than this, in units of the look, is not drawn: it would be a grey sheet."""

MatchedPoint = tuple[str, int, str]
"""Key of the cut item, number of the garment, and name of the match point."""


@dataclass(frozen=True)
class Design:
    """How the repeat meets the pieces of one marker.

    Parameters
    ----------
    start_mm
        For each axis that repeats, a place where a line of the grid lies: along, from the cut
        end; across, from the middle of the cloth. It is an axis of the design where pieces are
        turned top to bottom, which then match about it; else it runs through the first matched
        point.
    meets
        For each match point that has to agree with another, whether it does.
    """

    start_mm: Mapping[Axis, float]
    meets: Mapping[MatchedPoint, bool]


def design_of(frame: ClothFrame) -> Design:
    """Return how the repeat meets the pieces; nothing at all on cloth without one."""
    marker = frame.marker
    matches = tuple(matches_on(marker, tuple(laid_on(marker))))
    starts: dict[Axis, float] = {}
    meets: dict[MatchedPoint, bool] = {}
    for match in sorted(matches, key=lambda match: match.mirror_mm is None):
        starts.setdefault(match.axis, match.at_mm if match.mirror_mm is None else match.mirror_mm)
        for point in _points(match):
            meets[point] = meets.get(point, True) and match.holds
    for axis in Axis:
        if repeat_on(marker.bolt, axis) is not None:
            starts.setdefault(axis, 0.0)
    return Design(starts, meets)


def _points(match: Match) -> tuple[MatchedPoint, ...]:
    return tuple((item, match.garment, match.point) for item in sorted(match.items))


def grid_acts(frame: ClothFrame, design: Design, look: Look) -> list[Act]:
    """Return the grid of the repeat on every stretch."""
    lines: list[FloatArray] = []
    for stretch, start, end in frame.runs():
        low = frame.lift_mm(stretch)
        high = low + laid_width_mm(frame.marker.bolt, stretch.spread)
        xs = _steps(frame, design, Axis.ALONG, (start, end), look)
        lines += [line((x, low), (x, high)) for x in xs]
        middle = _middle_mm(frame, stretch)
        ys = _steps(frame, design, Axis.ACROSS, (low - middle, high - middle), look)
        lines += [line((start, middle + y), (end, middle + y)) for y in ys]
    if not lines:
        return []
    return [Group("repeat grid", (Lines(tuple(lines), look.pen(0.045, GRID)),))]


def _middle_mm(frame: ClothFrame, stretch: Stretch) -> float:
    """Return where the middle of the cloth, or the fold, lies in the frame."""
    shares = {Spread.LENGTHWISE: 0.0, Spread.DOUBLE: 0.25}
    from_low = shares.get(stretch.spread, 0.5) * frame.marker.bolt.usable_width_mm
    return frame.lift_mm(stretch) + from_low


def _steps(
    frame: ClothFrame, design: Design, axis: Axis, run_mm: tuple[float, float], look: Look
) -> list[float]:
    """Return the places of the grid's lines between two ends."""
    repeat_mm = repeat_on(frame.marker.bolt, axis)
    if repeat_mm is None or repeat_mm < FINEST_GRID * look.unit_mm:
        return []
    low, high = run_mm
    first = low + (design.start_mm[axis] - low) % repeat_mm
    return [float(at) for at in np.arange(first, high, repeat_mm)]


def match_mark(at_mm: Point, look: Look, *, meets: bool) -> Area:
    """Return the mark of a point on the repeat: a full diamond, or an open one if it is off."""
    corners = diamond(at_mm, 0.3 * look.unit_mm)
    return Area(corners, fill=CUT if meets else None, pen=look.pen(0.07, CUT))


def flaws_group(frame: ClothFrame, look: Look) -> Group | None:
    """Return every flaw, hatched and named, or None for cloth without any."""
    acts: list[Act] = []
    for stretch, start, end in frame.runs():
        for place in flaw_places(frame.marker.bolt, stretch.spread):
            if place.x0_mm < end and place.x1_mm > start:
                acts += _flaw(place, frame.lift_mm(stretch), (start, end), look)
    return Group("flaws", tuple(acts)) if acts else None


def _flaw(place: FlawPlace, lift_mm: float, run_mm: tuple[float, float], look: Look) -> list[Act]:
    x0, x1 = max(place.x0_mm, run_mm[0]), min(place.x1_mm, run_mm[1])
    y0, y1 = place.y0_mm + lift_mm, place.y1_mm + lift_mm
    box = rectangle(x0, y0, x1, y1)
    words = _flaw_words(look.words.say("flaw {number}", number=place.number), box, look)
    inside = words.at_mm[1] < y1
    plate = [Group("plate", (Area(words.box_mm, fill=FLAW),))] if inside else []
    hatch = hatching(box, step_mm=0.25 * look.unit_mm, deg=-45.0)
    return [
        Area(box, fill=FLAW, pen=look.pen(0.07, CUT)),
        Lines(hatch, look.pen(0.05, CUT)),
        *plate,
        words,
    ]


def _flaw_words(words: str, box: FloatArray, look: Look) -> Text:
    """Return the name of a flaw: in its middle if it has room there, else above it."""
    size = 0.62 * look.unit_mm
    (x0, y0), (x1, y1) = box.min(axis=0).tolist(), box.max(axis=0).tolist()
    at_mm = ((x0 + x1) / 2.0, (y0 + y1) / 2.0 - 0.27 * size)
    text = Text(words, at_mm, size, CUT, bold=True, anchor=Anchor.MIDDLE)
    if 1.1 * text.width_mm <= x1 - x0 and size <= y1 - y0:
        return text
    return replace(text, at_mm=(at_mm[0], y1 + 0.25 * size))
