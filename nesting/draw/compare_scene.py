"""Several markers side by side at one scale, with bars for the lengths to buy."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import zip_longest

from nesting.cloth.spread import Spread
from nesting.cloth.words import nap_words
from nesting.draw.cloth_frame import ClothFrame
from nesting.draw.key import numbers_and_reminder
from nesting.draw.marker_body import Body, marker_body, right_edge_mm
from nesting.draw.rulers import SIDE, ruler_along
from nesting.draw.scene import Act, Area, Group, Scene, Text, moved, rectangle, shrunk
from nesting.draw.style import CLOTH, INK, PAPER, SELVAGE, Look, look_for
from nesting.draw.words import selection_words, spread_words
from nesting.errors import DrawError
from nesting.languages import ENGLISH, Words
from nesting.marker.marker import Marker
from nesting.marker.measure import utilisation
from pieces.measures.format import format_both
from pieces.measures.widths import format_width_both

Entry = tuple[str, Marker, float | None]
_MARGIN = 1.6
_GAP = 3.0
_BAR_ROW = 2.1
_WIDE_TO_HIGH = 1.5


@dataclass(frozen=True)
class _Cell:
    """One marker of the picture, its lower left corner at the origin."""

    acts: tuple[Act, ...]
    width_mm: float
    height_mm: float


def compare_scene(
    entries: Sequence[Entry], *, is_choice: bool = True, words: Words = ENGLISH
) -> Scene:
    """Return a picture of several markers at one scale, 1 mm of cloth being 1 mm of the scene.

    Parameters
    ----------
    entries
        For each marker its heading, the marker, and a length in mm that no marker of that lay
        can beat, or None.
    is_choice
        True if one of the cloths is to be chosen: then bars compare what each asks for. False if
        all of them are cut, each for some of the pieces.
    words
        Of the language it is written in.

    Raises
    ------
    DrawError
        If there is no entry.
    EmptyMarkerError
        If a marker has nothing placed.
    """
    if not entries:
        raise DrawError("there is no marker to compare; give at least one")
    frames = [ClothFrame(marker) for _, marker, _ in entries]
    columns, look = _grid(frames, words)
    unit = look.unit_mm
    cells, numbers = _cells(entries, frames, look)
    grid, grid_wide, grid_high = _set_out(cells, columns, _GAP * unit)
    room = max(grid_wide, 50.0 * unit)
    title = _title(entries, words, is_choice=is_choice)
    bars = frames if is_choice else ()
    head, head_mm = _head(title, entries, bars, room_mm=room, look=look)
    margin = _MARGIN * unit
    foot, foot_mm = numbers_and_reminder(numbers, room, look)
    grid_y = margin + foot_mm + 0.8 * unit
    height = grid_y + grid_high + 1.5 * unit + head_mm + margin
    acts = (
        moved(head, margin, height - margin),
        *(moved(act, margin, grid_y) for act in grid),
        moved(foot, margin, margin + foot_mm),
    )
    told = "; ".join(
        f"{heading}: {format_both(frame.shop_mm, frame.marker.bolt.units, up=True)}"
        for (heading, _, _), frame in zip(entries, frames, strict=True)
    )
    description = words.say("Length to buy. {lengths}.", lengths=words.figures(told))
    return Scene(room + 2.0 * margin, height, acts, title, description, PAPER)


def _title(entries: Sequence[Entry], words: Words, *, is_choice: bool) -> str:
    names = dict.fromkeys(marker.pattern for _, marker, _ in entries)
    told = words.say("How much to buy") if is_choice else words.say("What lies where")
    return words.joined(":", told, ", ".join(names))


def _grid(frames: Sequence[ClothFrame], words: Words) -> tuple[int, Look]:
    """Return the number of columns whose picture is nearest to three by two, and its sizes."""
    wide = max(frame.cut_mm for frame in frames)
    highs = [frame.top_mm - frame.bottom_mm for frame in frames]

    def picture(columns: int) -> tuple[float, float]:
        rows = [highs[i : i + columns] for i in range(0, len(highs), columns)]
        return columns * wide * 1.12, sum(max(row) for row in rows) * 1.3

    def away(columns: int) -> float:
        width, height = picture(columns)
        empty = -len(frames) % columns
        return abs(math.log(width / height / _WIDE_TO_HIGH)) + 0.5 * empty

    columns = min(range(1, len(frames) + 1), key=away)
    width, height = picture(columns)
    return columns, look_for(0.85 * width, 0.85 * height, words)


def _cells(
    entries: Sequence[Entry], frames: Sequence[ClothFrame], look: Look
) -> tuple[list[_Cell], Mapping[str, str]]:
    """Return a cell for each entry, and the numbers that stand for pieces too small for words."""
    numbers: Mapping[str, str] = {}
    cells = []
    for entry, frame in zip(entries, frames, strict=True):
        body = marker_body(frame, look, is_plain=True, numbers=numbers)
        numbers = body.numbers
        cells.append(_cell(entry, frame, body, look))
    return cells, numbers


def _cell(entry: Entry, frame: ClothFrame, body: Body, look: Look) -> _Cell:
    """Return the cloth with its heading and ruler."""
    heading, marker, lower_bound_mm = entry
    unit, units, words = look.unit_mm, marker.bolt.units, look.words
    along_y = frame.top_mm + (1.25 + SIDE) * unit
    width = right_edge_mm(frame, look)
    used = words.say("utilisation {share} %", share=f"{100 * utilisation(marker):.1f}")
    if lower_bound_mm is not None:
        bound = format_both(lower_bound_mm, units)
        is_open = all(stretch.spread is Spread.OPEN for stretch in marker.stretches)
        used += ", " + (
            words.say("cannot be shorter than {length}", length=bound)
            if is_open
            else words.say("spread like this, not shorter than {length}", length=bound)
        )
    told = [
        (used, 0.8, False),
        (f"{spread_words(marker, words)}, {nap_words(marker.bolt, words)}", 0.8, False),
        (_bought(marker, frame, words), 1.1, False),
        (heading, 1.4, True),
    ]
    acts: list[Act] = [*body.acts, ruler_along(frame.cut_mm, along_y, look, units)]
    y = along_y + (SIDE + 0.6) * unit
    for sentence, share, bold in told:
        text = Text(words.figures(sentence), (0.0, y), share * unit, INK, bold=bold)
        acts.append(shrunk(text, width))
        y += 1.35 * share * unit + 0.3 * unit
    low = frame.bottom_mm - (1.9 if frame.is_folded_first else 1.2) * unit
    return _Cell(tuple(moved(act, 0.0, -low) for act in acts), width, y - low)


def _bought(marker: Marker, frame: ClothFrame, words: Words) -> str:
    units = marker.bolt.units
    return words.say(
        "{length} of {width} wide",
        length=format_both(frame.shop_mm, units, up=True),
        width=format_width_both(marker.bolt.width_mm, units),
    )


def _set_out(
    cells: Sequence[_Cell], columns: int, gap_mm: float
) -> tuple[tuple[Act, ...], float, float]:
    """Return the cells in rows from the top, with the width and height of them all, mm."""
    rows = [cells[i : i + columns] for i in range(0, len(cells), columns)]
    wide = [
        max(cell.width_mm for cell in column if cell is not None) for column in zip_longest(*rows)
    ]
    height = sum(max(cell.height_mm for cell in row) for row in rows) + gap_mm * (len(rows) - 1)
    acts: list[Act] = []
    top = height
    for row in rows:
        x = 0.0
        for cell, column_mm in zip(row, wide, strict=False):
            acts.append(
                Group("marker", tuple(moved(act, x, top - cell.height_mm) for act in cell.acts))
            )
            x += column_mm + gap_mm
        top -= max(cell.height_mm for cell in row) + gap_mm
    return tuple(acts), sum(wide) + gap_mm * (len(wide) - 1), height


def _head(
    title: str,
    entries: Sequence[Entry],
    frames: Sequence[ClothFrame],
    *,
    room_mm: float,
    look: Look,
) -> tuple[Group, float]:
    """Return title and bars, all below y = 0, and their height in mm; no frames, no bars."""
    unit = look.unit_mm
    at = (0.0, -2.0 * unit)
    acts: list[Act] = [shrunk(Text(title, at, 2.0 * unit, INK, bold=True), room_mm)]
    told = dict.fromkeys(
        f"{selection_words(marker, look.words)}, {marker.cloth}" for _, marker, _ in entries
    )
    acts.append(shrunk(Text("; ".join(told), (0.0, -3.9 * unit), 1.2 * unit, INK), room_mm))
    y = -4.6 * unit
    if not frames:
        return Group("head", tuple(acts)), -y
    names = max(Text(name, (0.0, 0.0), unit, INK, bold=True).width_mm for name, _, _ in entries)
    left = min(names, 0.35 * room_mm) + unit
    per_mm = max(room_mm - left - 24.0 * unit, 10.0 * unit) / max(f.shop_mm for f in frames)
    least = min(frame.shop_mm for frame in frames)
    for (name, _, _), frame in zip(entries, frames, strict=True):
        y -= _BAR_ROW * unit
        more_mm = frame.shop_mm - least if len(entries) > 1 else None
        acts += _bar(name, frame, (left, y, per_mm), more_mm=more_mm, look=look)
    return Group("head", tuple(acts)), -y


def _bar(
    name: str,
    frame: ClothFrame,
    where: tuple[float, float, float],
    *,
    more_mm: float | None,
    look: Look,
) -> list[Act]:
    """Return one bar with its name at the left and its length at the right."""
    left, y, per_mm = where
    unit, units = look.unit_mm, frame.marker.bolt.units
    end = left + frame.shop_mm * per_mm
    best = more_mm is not None and more_mm <= 1e-6
    told = format_both(frame.shop_mm, units, up=True)
    if best:
        told = look.words.say("{length}, the least", length=told)
    elif more_mm is not None:
        more = format_both(more_mm, units)
        told = look.words.say("{length}, {more} more", length=told, more=more)
    return [
        shrunk(Text(name, (0.0, y + 0.4 * unit), unit, INK, bold=best), left - 0.6 * unit),
        Area(
            rectangle(left, y, end, y + 1.4 * unit),
            fill=SELVAGE if best else CLOTH,
            pen=look.pen(0.14 if best else 0.06),
        ),
        Text(look.words.figures(told), (end + 0.6 * unit, y + 0.35 * unit), unit, INK, bold=best),
    ]
