"""The cloth itself: layers, selvages, fold, the line where it is opened, and where it is cut."""

import numpy as np

from nesting.cloth.spread import HALVED_ACROSS, LAYERS, Spread, Stretch
from nesting.draw.cloth_frame import ClothFrame
from nesting.draw.design_acts import Design, grid_acts
from nesting.draw.scene import Act, Anchor, Area, Arrow, Group, Lines, Text, line, rectangle
from nesting.draw.style import CLOTH, CUT, INK, PAPER, SELVAGE, SOFT_INK, SPARE, UNDER_LAYER, Look
from nesting.draw.words import (
    FOLD_HERE,
    HALVE_HERE,
    OPEN_HERE,
    direction_words,
    spread_caption,
)
from nesting.languages import Words, marked
from pieces.measures.format import format_both
from pieces.outline.polygon import FloatArray

STUB = 4.2
"""How much of the rest of the bolt is shown past the cut, in units of the look."""
LANE = 1.6
"""Height of a lane of words above the cloth, in units of the look."""
PEEK = 0.38
"""How far the under layer of folded cloth peeks out, in units of the look."""


def cloth_group(frame: ClothFrame, look: Look, design: Design) -> Group:
    """Return everything that lies under the pieces."""
    acts: list[Act] = []
    for stretch, start, end in frame.runs():
        acts += _stretch_acts(frame, stretch, (start, end), look)
    acts += _spare_acts(frame, look)
    acts += grid_acts(frame, design, look)
    for stretch, start, end in frame.runs():
        acts += _selvage_acts(frame, stretch, (start, end), look)
    return Group("cloth", tuple(acts))


def _stretch_acts(
    frame: ClothFrame, stretch: Stretch, run_mm: tuple[float, float], look: Look
) -> list[Act]:
    start, end = run_mm
    low, high = frame.low_mm(stretch), frame.high_mm(stretch)
    acts: list[Act] = []
    halved = frame.halved_mm(stretch)
    if LAYERS[stretch.spread] == 2:
        peek = PEEK * look.unit_mm
        above = 0.0 if stretch.spread is Spread.DOUBLE else peek
        right = end if halved is None else halved
        under = rectangle(start - peek, low, right, high + above)
        acts.append(Area(under, fill=UNDER_LAYER, pen=look.pen(0.05, SOFT_INK)))
    acts.append(Area(rectangle(start, low, end, high), fill=CLOTH, pen=look.pen(0.06, SOFT_INK)))
    if halved is not None:
        second = rectangle(halved, low, stretch.end_mm, high)
        acts.append(Area(second, fill=UNDER_LAYER, pen=look.pen(0.05, SOFT_INK)))
    return acts


def _spare_acts(frame: ClothFrame, look: Look) -> list[Act]:
    """Return the cloth that is bought but empty, and the rest of the bolt past the cut."""
    stretch, _, shop = frame.runs()[-1]
    low, high = frame.low_mm(stretch), frame.high_mm(stretch)
    end = frame.marker.length_mm
    acts: list[Act] = [
        Area(_torn_stub(shop, STUB * look.unit_mm, low, high), fill=SPARE),
    ]
    if shop > end:
        acts.append(Area(rectangle(end, low, shop, high), fill=SPARE))
    return acts


def _torn_stub(x: float, length: float, low: float, high: float) -> FloatArray:
    """Return the rest of the bolt with a waving far edge, shape (n, 2), mm."""
    ys = np.linspace(low, high, 61)
    xs = x + length * (1.0 - 0.05 * (1.0 - np.cos(np.linspace(0.0, 8.0 * np.pi, 61))))
    return np.vstack([[(x, low)], np.column_stack((xs, ys)), [(x, high)]])


def _selvage_acts(
    frame: ClothFrame, stretch: Stretch, run_mm: tuple[float, float], look: Look
) -> list[Act]:
    """Return the shaded selvages of a stretch with their word."""
    deep = frame.selvage_mm
    if deep <= 0.0 or stretch.spread is Spread.DOUBLE:
        return []
    low, high = frame.low_mm(stretch), frame.high_mm(stretch)
    folded = stretch.spread in HALVED_ACROSS
    bands = [(high - deep, high, marked("both selvages") if folded else marked("selvage"))]
    if not folded:
        bands.append((low + deep, low, marked("selvage")))
    acts: list[Act] = []
    for inner, outer, words in bands:
        foot, top = sorted((inner, outer))
        band = rectangle(run_mm[0], foot, run_mm[1], top)
        acts.append(Area(band, fill=SELVAGE, pen=look.pen(0.03, SOFT_INK)))
        middle, size = _beside_band(inner, outer, look)
        acts += [
            Text(look.words.say(words), (x, middle - 0.27 * size), size, INK, anchor=Anchor.MIDDLE)
            for x in _spots(run_mm, look, every=32.0)
        ]
    return acts


def _beside_band(inner_mm: float, outer_mm: float, look: Look) -> tuple[float, float]:
    """Return where the word of a selvage stands and its type size: outside if it is narrow."""
    unit, deep = look.unit_mm, abs(outer_mm - inner_mm)
    if 0.85 * deep >= 0.5 * unit:
        return (inner_mm + outer_mm) / 2.0, min(0.85 * deep, 0.75 * unit)
    outward = 1.0 if outer_mm > inner_mm else -1.0
    return outer_mm + outward * 0.72 * unit, 0.6 * unit


def _spots(run_mm: tuple[float, float], look: Look, *, every: float) -> list[float]:
    """Return places evenly spread over a run, about ``every`` units apart, at least one."""
    start, end = run_mm
    count = max(1, round((end - start) / (every * look.unit_mm)))
    return [start + (end - start) * (i + 0.5) / count for i in range(count)]


def lines_group(frame: ClothFrame, look: Look) -> Group:
    """Return the lines that lie over the cloth: fold, opening, end of the pieces, cut."""
    acts: list[Act] = []
    for stretch, start, end in frame.runs():
        if stretch.spread in HALVED_ACROSS:
            acts.append(_fold(frame.low_mm(stretch), (start, end), look))
        if stretch.spread is Spread.DOUBLE:
            acts.append(_fold(frame.high_mm(stretch), (start, end), look, outward=1.0))
            middle = (frame.low_mm(stretch) + frame.high_mm(stretch)) / 2.0
            meet = Lines((line((start, middle), (end, middle)),), look.pen(0.1, CUT, (0.6, 0.3)))
            acts.append(Group("selvages meet", (meet,)))
        acts += _halving(frame, stretch, look)
    acts += [_opening(frame, stretch, look) for stretch in frame.marker.stretches[1:]]
    acts.append(_ends(frame, look))
    return Group("lines", tuple(acts))


def _halving(frame: ClothFrame, stretch: Stretch, look: Look) -> list[Act]:
    """Return the line across the cloth where it is folded crosswise, or cut to be turned."""
    x = frame.halved_mm(stretch)
    if x is None:
        return []
    low, high = frame.low_mm(stretch), frame.high_mm(stretch)
    if stretch.spread is Spread.TURNED:
        return [Group("cut across", (Lines((line((x, low), (x, high)),), look.pen(0.24, CUT)),))]
    gap = 0.3 * look.unit_mm
    heavy = Lines((line((x, low), (x, high)),), look.pen(0.18))
    dashed = Lines((line((x + gap, low), (x + gap, high)),), look.pen(0.09, INK, (0.9, 0.45)))
    return [Group("fold", (heavy, dashed))]


def _fold(y: float, run_mm: tuple[float, float], look: Look, *, outward: float = -1.0) -> Group:
    """Return the fold: a heavy line, a dashed one beside it, and the word, all outside."""
    start, end = run_mm
    gap = -outward * 0.3 * look.unit_mm
    size = 0.9 * look.unit_mm
    foot = y - gap - (0.95 * size if outward < 0.0 else -0.2 * size)
    words = [
        Text(look.words.say("fold"), (x, foot), size, INK, bold=True, anchor=Anchor.MIDDLE)
        for x in _spots(run_mm, look, every=24.0)
    ]
    return Group(
        "fold",
        (
            Lines((line((start, y), (end, y)),), look.pen(0.18)),
            Lines((line((start, y - gap), (end, y - gap)),), look.pen(0.09, INK, (0.9, 0.45))),
            *words,
        ),
    )


def _opening(frame: ClothFrame, stretch: Stretch, look: Look) -> Group:
    """Return the line where folded cloth is opened out."""
    x = stretch.start_mm
    ends = line((x, frame.bottom_mm), (x, frame.top_mm))
    return Group("open here", (Lines((ends,), look.pen(0.2, INK, (1.2, 0.5))),))


def _ends(frame: ClothFrame, look: Look) -> Group:
    """Return a thin line where the pieces end and a heavy one where the shop cuts, with words."""
    stretch, _, shop = frame.runs()[-1]
    low, high = frame.low_mm(stretch), frame.high_mm(stretch)
    units, unit = frame.marker.bolt.units, look.unit_mm
    length = frame.marker.length_mm
    words = look.words
    shop_words = words.figures(format_both(frame.shop_mm, units, up=True))
    cut = (
        words.say("cut here: {length} before washing", length=shop_words)
        if frame.marker.bolt.shrink_along
        else words.say("cut here: {length}", length=shop_words)
    )
    end = words.say("pieces end at {length}", length=words.figures(format_both(length, units)))
    middle = (low + high) / 2.0
    size = _fitting(cut, 1.15 * unit, 0.95 * (high - low), bold=True)
    small = _fitting(end, 0.75 * unit, 0.95 * (high - low))
    return Group(
        "ends",
        (
            Lines((line((length, low), (length, high)),), look.pen(0.05, INK, (0.15, 0.2))),
            Lines(
                (line((shop, low - 0.6 * unit), (shop, high + 0.6 * unit)),), look.pen(0.24, CUT)
            ),
            Text(cut, (shop + 1.5 * unit, middle), size, CUT, 90.0, True, Anchor.MIDDLE),
            Text(end, (shop + 2.9 * unit, middle), small, INK, 90.0, anchor=Anchor.MIDDLE),
        ),
    )


def _fitting(words: str, size_mm: float, room_mm: float, *, bold: bool = False) -> float:
    """Return the type size, made smaller if the words would not fit into the room."""
    width = Text(words, (0.0, 0.0), size_mm, INK, bold=bold).width_mm
    return size_mm * min(1.0, room_mm / width)


def lanes_group(frame: ClothFrame, foot_mm: float, look: Look) -> tuple[Group, float]:
    """Return the lanes of words above the cloth from height ``foot_mm`` up, and where they end."""
    lane, y = LANE * look.unit_mm, foot_mm
    acts: list[Act] = []
    texts: list[Act] = []
    for x, words in reversed(_captions(frame, look.words)):
        drops, text = _caption(frame, x, y, words=words, look=look)
        acts += drops
        texts += [Group("plate", (Area(text.box_mm, fill=PAPER),)), text] if drops else [text]
        y += lane
    acts += texts
    acts.append(_nap_lane(frame, y, look))
    return Group("words", tuple(acts)), y + lane


def _captions(frame: ClothFrame, said: Words) -> list[tuple[float, str]]:
    """Return what is done with the cloth along it, each with its place."""
    told: list[tuple[float, str]] = []
    before = None
    for stretch in frame.marker.stretches:
        words = spread_caption(frame.marker.bolt, stretch.spread, said)
        if before is not None:
            is_open = stretch.spread is Spread.OPEN
            if is_open and before in OPEN_HERE:
                words = said.say(OPEN_HERE[before])
            elif not is_open:
                words = said.say(FOLD_HERE, how=words)
        told.append((stretch.start_mm, words))
        halved = frame.halved_mm(stretch)
        if halved is not None:
            told.append((halved, said.say(HALVE_HERE[stretch.spread])))
        before = stretch.spread
    return told


def _caption(
    frame: ClothFrame, x: float, y: float, *, words: str, look: Look
) -> tuple[list[Act], Text]:
    """Return words about the cloth from x on, starting there, and a line down to it."""
    unit = look.unit_mm
    text = Text(words, (x + 0.5 * unit, y), 0.95 * unit, INK, bold=True)
    if x <= 0.0:
        return [], Text(words, (0.0, y), 0.95 * unit, INK, bold=True)
    overhang = x + 0.5 * unit + text.width_mm > frame.cut_mm + STUB * unit
    if overhang:
        text = Text(words, (x - 0.5 * unit, y), 0.95 * unit, INK, 0.0, True, Anchor.END)
    drop = Lines((line((x, y + 0.8 * unit), (x, frame.top_mm)),), look.pen(0.06, SOFT_INK))
    return [drop], text


def _nap_lane(frame: ClothFrame, y: float, look: Look) -> Group:
    """Return the direction of the nap, repeated along the cloth, or that there is none."""
    unit, size = look.unit_mm, 0.85 * look.unit_mm
    middle = y + 0.27 * size
    pen = look.pen(0.09)
    told = direction_words(frame.marker.bolt, look.words)
    if not frame.marker.bolt.has_direction:
        return Group(
            "nap",
            (
                Arrow((1.4 * unit, middle), (0.0, middle), pen, 0.7 * unit),
                Arrow((1.4 * unit, middle), (2.8 * unit, middle), pen, 0.7 * unit),
                Text(told, (3.4 * unit, y), size, INK),
            ),
        )
    acts: list[Act] = []
    text = Text(told, (0.0, y), size, INK)
    chunk = text.width_mm + 4.6 * unit
    count = max(1, int(frame.cut_mm // (chunk + 3.0 * unit)))
    for i in range(count):
        x = i * frame.cut_mm / count
        acts.append(Text(told, (x, y), size, INK))
        tail = x + text.width_mm + 0.6 * unit
        acts.append(Arrow((tail, middle), (tail + 4.0 * unit, middle), pen, 0.8 * unit))
    return Group("nap", tuple(acts))
