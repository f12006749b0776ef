"""The head of a picture: what is laid, what to ask for, and the figures."""

from collections.abc import Iterator

from nesting.cloth.spread import Spread
from nesting.cloth.words import cloth_words, nap_words
from nesting.draw.cloth_frame import ClothFrame
from nesting.draw.flow import Cell, flow
from nesting.draw.scene import Act, Group, Lines, Text, line, moved, shrunk
from nesting.draw.style import CUT, INK, RULE, SOFT_INK, Look
from nesting.draw.words import (
    ask_words,
    selection_words,
    spread_words,
)
from nesting.languages import ENGLISH, Words, marked
from nesting.marker.marker import Marker
from nesting.marker.measure import cut_length_mm, utilisation
from pieces.measures.format import format_both
from pieces.measures.widths import format_width, format_width_both

Bounds = tuple[float | None, float | None]
"""What no marker spread this way can beat, and what none can however it is spread, mm."""


def figures(
    frame: ClothFrame, bounds_mm: Bounds = (None, None), words: Words = ENGLISH
) -> tuple[tuple[str, str], ...]:
    """Return the figures of a marker, each with its name, in the bolt's units."""
    marker = frame.marker
    bolt = marker.bolt
    told = [
        (words.say("shop length"), format_both(frame.shop_mm, bolt.units, up=True)),
        (words.say("marker length"), format_both(marker.length_mm, bolt.units)),
        (words.say("to spare"), format_width(_spare_mm(frame), bolt.units)),
        (words.say("bolt width"), format_width_both(bolt.width_mm, bolt.units)),
        (words.say("usable width"), format_width_both(bolt.usable_width_mm, bolt.units)),
        (words.say("nap"), nap_words(bolt, words)),
        (words.say("folded or open"), spread_words(marker, words)),
        (words.say("utilisation"), f"{100.0 * utilisation(marker):.1f} %"),
    ]
    told += [(name.lower(), value) for name, value in cloth_words(bolt, words)]
    told += [
        (words.say(name), format_both(bound_mm, bolt.units))
        for name, bound_mm in bound_names(marker, bounds_mm)
    ]
    return tuple((name, words.figures(value)) for name, value in told)


def _spare_mm(frame: ClothFrame) -> float:
    return max(0.0, frame.shop_mm - cut_length_mm(frame.marker))


def bound_names(marker: Marker, bounds_mm: Bounds) -> Iterator[tuple[str, float]]:
    """Yield each bound that is known, mm, with the marked words for what it is true of."""
    this_way_mm, open_mm = bounds_mm
    if all(stretch.spread is Spread.OPEN for stretch in marker.stretches):
        if this_way_mm is not None:
            yield marked("cannot be shorter than"), this_way_mm
        return
    if this_way_mm is not None:
        yield marked("spread like this, not shorter than"), this_way_mm
    if open_mm is not None:
        yield marked("laid open, not shorter than"), open_mm


def head_group(
    frame: ClothFrame, heading: str, *, bounds_mm: Bounds, room_mm: float, look: Look
) -> tuple[Group, float]:
    """Return the head, all below y = 0 and from x = 0, and its height in mm."""
    unit, marker = look.unit_mm, frame.marker
    lines = (
        (heading, 2.1 * unit, True, INK, 2.0),
        (f"{selection_words(marker, look.words)}, {marker.cloth}", 1.25 * unit, False, INK, 1.9),
        (ask_words(marker, frame.shop_mm, look.words), 1.5 * unit, True, CUT, 2.3),
    )
    acts: list[Act] = []
    y = 0.0
    for words, wanted, bold, colour, drop in lines:
        y -= drop * unit
        acts.append(shrunk(Text(words, (0.0, y), wanted, colour, bold=bold), room_mm))
    y -= 1.0 * unit
    acts.append(Lines((line((0.0, y), (room_mm, y)),), look.pen(0.04, RULE)))
    told = figures(frame, bounds_mm, look.words)[1:]  # the line above says the first
    cells = [_figure(name, value, look) for name, value in told]
    set_out, deep = flow(cells, room_mm=room_mm, row_mm=2.7 * unit, gap_mm=1.6 * unit)
    acts.append(Group("figures", tuple(moved(act, 0.0, y) for act in set_out)))
    return Group("head", tuple(acts)), deep - y


def _figure(name: str, value: str, look: Look) -> Cell:
    unit = look.unit_mm
    texts = (
        Text(name, (0.0, 1.35 * unit), 0.68 * unit, SOFT_INK),
        Text(value, (0.0, 0.2 * unit), 0.92 * unit, INK, bold=True),
    )
    return Cell(texts, max(text.width_mm for text in texts))
