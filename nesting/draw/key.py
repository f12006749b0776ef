"""The foot of a picture: what the marks mean, what numbers and letters stand for, a reminder."""

from collections.abc import Mapping, Sequence

from nesting.draw.design_acts import match_mark
from nesting.draw.flow import Cell, flow
from nesting.draw.marker_body import Body
from nesting.draw.scene import (
    Act,
    Area,
    Arrow,
    Group,
    Lines,
    Text,
    cross,
    line,
    moved,
    rectangle,
    ring,
)
from nesting.draw.style import (
    CLOTH,
    CUT,
    FLAW,
    GRID,
    INK,
    SOFT_INK,
    SWATCH,
    UNDER_LAYER,
    Look,
    hatching,
)
from nesting.draw.words import REMINDER
from nesting.languages import marked

_SIZE = 0.78


def key_group(body: Body, room_mm: float, look: Look) -> tuple[Group, float]:
    """Return the foot of one marker, all below y = 0 and from x = 0, and its height in mm."""
    parts = [
        [_plain(told, look, bold=True) for told in body.doubts],
        _mark_cells(body, look),
        _told(look.words.say("Too small to write on:"), body.numbers, look),
        _told(
            look.words.say("Match points (same letter, same place on the seam):"),
            body.letters,
            look,
        ),
    ]
    return _foot(parts, room_mm, look)


def numbers_and_reminder(
    numbers: Mapping[str, str], room_mm: float, look: Look
) -> tuple[Group, float]:
    """Return a short foot: what the numbers stand for, and the reminder, with its height in mm."""
    return _foot([_told(look.words.say("Too small to write on:"), numbers, look)], room_mm, look)


def _foot(parts: Sequence[Sequence[Cell]], room_mm: float, look: Look) -> tuple[Group, float]:
    unit = look.unit_mm
    acts: list[Act] = []
    y = 0.0
    for cells in parts:
        if cells:
            set_out, deep = flow(cells, room_mm=room_mm, row_mm=1.55 * unit, gap_mm=1.5 * unit)
            acts += [moved(act, 0.0, y) for act in set_out]
            y -= deep + 0.25 * unit
    y -= 1.5 * unit
    acts.append(Text(look.words.say(REMINDER), (0.0, y), 1.0 * unit, INK, bold=True))
    return Group("key", tuple(acts)), 0.4 * unit - y


def _told(head: str, table: Mapping[str, str], look: Look) -> list[Cell]:
    """Return a heading and the table's entries, or nothing for an empty table."""
    if not table:
        return []
    return [_plain(head, look, bold=True), *_word_cells(table, look)]


def _word_cells(table: Mapping[str, str], look: Look) -> list[Cell]:
    return [_plain(f"{short} = {words}", look) for words, short in table.items()]


def _plain(words: str, look: Look, *, bold: bool = False) -> Cell:
    text = Text(words, (0.0, 0.4 * look.unit_mm), _SIZE * look.unit_mm, INK, bold=bold)
    return Cell((text,), text.width_mm)


def _mark_cells(body: Body, look: Look) -> list[Cell]:
    """Return a small sample of each mark that is on this marker, with its meaning."""
    unit = look.unit_mm
    cells = []
    for layer, acts, words in _samples(look):
        if not layer or layer in body.layers:
            text = Text(look.words.say(words), (2.5 * unit, 0.4 * unit), _SIZE * unit, INK)
            cells.append(Cell((*acts, text), 2.5 * unit + text.width_mm))
    return cells


def _samples(look: Look) -> list[tuple[str, tuple[Act, ...], str]]:
    """Return for each mark its layer, a sample about two units wide, and its meaning."""
    unit = look.unit_mm
    low, middle, high = 0.15 * unit, 0.68 * unit, 1.2 * unit
    centre, right = 0.95 * unit, 1.9 * unit
    pen = look.pen(0.07)
    box = rectangle(0.0, low, right, high)
    edge = Area(box, fill=SWATCH, pen=look.pen(0.06))
    hatch = Lines(hatching(box, step_mm=0.4 * unit), look.pen(0.04, SOFT_INK))
    across = line((0.0, middle), (right, middle))
    hole = Area(ring((centre, middle), 0.2 * unit), pen=look.pen(0.06))
    match = Lines(cross((centre, middle), 0.25 * unit), pen)
    dashes = Lines((across,), look.pen(0.05, INK, (0.35, 0.22)))
    notch = Lines((line((centre, low), (centre, 0.7 * unit)),), look.pen(0.13))
    grain = Arrow((0.0, middle), (right, middle), pen, 0.7 * unit)
    return [
        ("", (grain,), marked("grainline: head = top of the garment")),
        ("turned over", (edge, hatch), marked("hatched: turned over, pattern printed side down")),
        ("on fold", _fold_sample(look), marked("edge on the fold: do not cut it")),
        (
            "selvages meet",
            (Lines((across,), look.pen(0.1, CUT, (0.6, 0.3))),),
            marked("selvages meet: no piece crosses"),
        ),
        ("under layer", _under_sample(look), marked("comes of cutting through both layers")),
        ("internal lines", (dashes,), marked("mark, do not cut")),
        ("notches", (edge, notch), marked("notch")),
        ("drill holes", (hole,), marked("drill hole")),
        ("match points", (match,), marked("match point")),
        *_design_samples(look),
    ]


def _design_samples(look: Look) -> list[tuple[str, tuple[Act, ...], str]]:
    """Return the samples of what the cloth brings along."""
    unit = look.unit_mm
    low, middle, high = 0.15 * unit, 0.68 * unit, 1.2 * unit
    centre, right = 0.95 * unit, 1.9 * unit
    on = match_mark((centre, middle), look, meets=True)
    off = match_mark((centre, middle), look, meets=False)
    grid = Lines(
        (line((centre, low), (centre, high)), line((0.0, middle), (right, middle))),
        look.pen(0.045, GRID),
    )
    box = rectangle(0.0, low, right, high)
    flaw = (
        Area(box, fill=FLAW, pen=look.pen(0.06, CUT)),
        Lines(hatching(box, step_mm=0.25 * unit, deg=-45.0), look.pen(0.05, CUT)),
    )
    return [
        ("repeat grid", (Area(box, fill=CLOTH), grid), marked("repeat of the cloth")),
        ("meeting points", (on,), marked("meets its partner on the repeat")),
        ("points that miss", (off,), marked("misses its partner on the repeat")),
        ("flaws", flaw, marked("flaw: keep off")),
    ]


def _under_sample(look: Look) -> tuple[Act, ...]:
    unit = look.unit_mm
    box = rectangle(0.0, 0.15 * unit, 1.9 * unit, 1.2 * unit)
    inner = rectangle(0.35 * unit, 0.4 * unit, 1.55 * unit, 0.95 * unit)
    pen = look.pen(0.05, SOFT_INK, (0.3, 0.2))
    return Area(box, fill=UNDER_LAYER), Area(inner, pen=pen)


def _fold_sample(look: Look) -> tuple[Act, ...]:
    unit, pen = look.unit_mm, look.pen(0.07)
    foot, rail = 0.15 * unit, 1.1 * unit
    left, right = 0.5 * unit, 1.4 * unit
    return (
        Lines((line((0.0, foot), (1.9 * unit, foot)),), look.pen(0.16, INK, (0.5, 0.2))),
        Arrow((left, rail), (left, 0.2 * unit), pen, 0.45 * unit),
        Arrow((right, rail), (right, 0.2 * unit), pen, 0.45 * unit),
        Lines((line((left, rail), (right, rail)),), pen),
    )
