"""The head of a picture: what is laid, what to ask for, and the figures."""

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
from nesting.languages import ENGLISH, Words
from nesting.marker.measure import utilisation
from pieces.measures.format import format_both
from pieces.measures.widths import format_width_both


def figures(
    frame: ClothFrame, lower_bound_mm: float | None = None, words: Words = ENGLISH
) -> tuple[tuple[str, str], ...]:
    """Return the figures of a marker, each with its name, in the bolt's units."""
    marker = frame.marker
    bolt = marker.bolt
    told = [
        (words.say("shop length"), format_both(frame.shop_mm, bolt.units)),
        (words.say("marker length"), format_both(marker.length_mm, bolt.units)),
        (words.say("bolt width"), format_width_both(bolt.width_mm, bolt.units)),
        (words.say("usable width"), format_width_both(bolt.usable_width_mm, bolt.units)),
        (words.say("nap"), nap_words(bolt, words)),
        (words.say("spread"), spread_words(marker, words)),
        (words.say("utilisation"), f"{100.0 * utilisation(marker):.1f} %"),
    ]
    told += [(name.lower(), value) for name, value in cloth_words(bolt, words)]
    if lower_bound_mm is not None:
        told.append((words.say("cannot be shorter than"), format_both(lower_bound_mm, bolt.units)))
    return tuple((name, words.figures(value)) for name, value in told)


def head_group(
    frame: ClothFrame, heading: str, *, lower_bound_mm: float | None, room_mm: float, look: Look
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
    told = figures(frame, lower_bound_mm, look.words)[1:]  # the line above says the first
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
