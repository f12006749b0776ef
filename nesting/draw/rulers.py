"""Rulers along and across the cloth, inches or yards on one side and centimetres on the other."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from nesting.draw.scene import Act, Anchor, Group, Lines, Text, line
from nesting.draw.style import INK, SOFT_INK, Look
from nesting.draw.words import metre_mark
from pieces.measures.format import format_yards
from pieces.measures.units import MM_PER_INCH, MM_PER_YARD, UnitSystem

_TYPE = 0.62
_LONG, _SHORT = 0.55, 0.28
SIDE = 1.55
"""How far an along ruler reaches to each side of its line, in units of the look."""
ACROSS = 3.3
"""How far an across ruler reaches to each side of its line, in units of the look."""


@dataclass(frozen=True)
class Scale:
    """Marks of one system.

    Parameters
    ----------
    labelled_mm, ticked_mm
        From one label, and one tick, to the next.
    words
        What is written at a length.
    """

    labelled_mm: float
    ticked_mm: float
    words: Callable[[float], str]


_INCH_STEPS = (1.0, 2.0, 5.0, 10.0, 20.0)
_EIGHTHS = (1, 2, 4, 8, 16, 40, 80)
_METRIC_STEPS = (20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0, 10000.0)


def along_scales(look: Look, units: UnitSystem) -> tuple[Scale, Scale]:
    """Return the scales for a ruler along the cloth, the person's own system first."""
    room = 4.2 * look.unit_mm
    eighth = MM_PER_YARD / 8
    yards = _chosen([eighth * count for count in _EIGHTHS], room)
    fine = MM_PER_INCH if 0.4 * look.unit_mm <= MM_PER_INCH else eighth
    ours = Scale(yards, min(fine, yards), format_yards)
    return _ordered(ours, _metric(look, room), units)


def across_scales(look: Look, units: UnitSystem) -> tuple[Scale, Scale]:
    """Return the scales for a ruler across the cloth, the person's own system first."""
    room = 3.2 * look.unit_mm
    inches = _chosen([MM_PER_INCH * step for step in _INCH_STEPS], room)
    fine = MM_PER_INCH if 0.4 * look.unit_mm <= MM_PER_INCH else inches
    ours = Scale(inches, fine, lambda mm: f"{mm / MM_PER_INCH:.0f} in")
    return _ordered(ours, _metric(look, room), units)


def _metric(look: Look, room_mm: float) -> Scale:
    labelled = _chosen(_METRIC_STEPS, room_mm)
    ticked = _chosen((10.0, 20.0, 50.0, 100.0, 500.0), 0.4 * look.unit_mm)
    return Scale(labelled, min(labelled, ticked), metre_mark)


def _chosen(steps: list[float] | tuple[float, ...], room_mm: float) -> float:
    return next((step for step in steps if step >= room_mm), steps[-1])


def _ordered(imperial: Scale, metric: Scale, units: UnitSystem) -> tuple[Scale, Scale]:
    return (imperial, metric) if units is UnitSystem.IMPERIAL else (metric, imperial)


def ruler_along(length_mm: float, y_mm: float, look: Look, units: UnitSystem) -> Group:
    """Return a ruler from x = 0 at height ``y_mm``, the person's own system below the line."""
    below, above = along_scales(look, units)
    base = Lines((line((0.0, y_mm), (length_mm, y_mm)),), look.pen(0.06))
    return Group(
        "rulers",
        (
            base,
            *_along(below, length_mm, y_mm, look=look, side=-1.0),
            *_along(above, length_mm, y_mm, look=look, side=1.0),
        ),
    )


def _along(scale: Scale, length_mm: float, y_mm: float, *, look: Look, side: float) -> list[Act]:
    unit, type_mm = look.unit_mm, _TYPE * look.unit_mm
    acts: list[Act] = [
        _ticks(scale, length_mm, look, lambda at, deep: ((at, y_mm), (at, y_mm + side * deep)))
    ]
    base = y_mm + side * _LONG * unit + (0.12 * unit if side > 0 else -0.12 * unit - 0.73 * type_mm)
    for at in _marks(scale.labelled_mm, length_mm):
        anchor = Anchor.START if at == 0.0 else Anchor.MIDDLE
        words = "0" if at == 0.0 else scale.words(at)
        acts.append(Text(words, (at, base), type_mm, INK, anchor=anchor))
    return acts


def ruler_across(
    low_mm: float, width_mm: float, x_mm: float, *, look: Look, units: UnitSystem
) -> Group:
    """Return an upright ruler at ``x_mm`` that measures ``width_mm`` upward from ``low_mm``."""
    near, far = across_scales(look, units)
    base = Lines((line((x_mm, low_mm), (x_mm, low_mm + width_mm)),), look.pen(0.06))
    acts = [base]
    sides = ((near, 1.0, Anchor.START), (far, -1.0, Anchor.END))
    return Group(
        "rulers",
        (*acts, *(act for s in sides for act in _across(s, (low_mm, width_mm, x_mm), look))),
    )


def _across(
    side: tuple[Scale, float, Anchor], where_mm: tuple[float, float, float], look: Look
) -> list[Act]:
    scale, sign, anchor = side
    low, width, x = where_mm
    unit, type_mm = look.unit_mm, _TYPE * look.unit_mm
    acts: list[Act] = [
        _ticks(scale, width, look, lambda at, deep: ((x, low + at), (x + sign * deep, low + at)))
    ]
    for at in _marks(scale.labelled_mm, width):
        words = "0" if at == 0.0 else scale.words(at)
        place = (x + sign * (_LONG + 0.15) * unit, low + at - 0.36 * type_mm)
        acts.append(Text(words, place, type_mm, INK, anchor=anchor))
    return acts


def _ticks(
    scale: Scale,
    length_mm: float,
    look: Look,
    stroke: Callable[[float, float], tuple[tuple[float, float], tuple[float, float]]],
) -> Lines:
    """Return short ticks, and long ones where there is a label."""
    long = [stroke(at, _LONG * look.unit_mm) for at in _marks(scale.labelled_mm, length_mm)]
    short = [stroke(at, _SHORT * look.unit_mm) for at in _marks(scale.ticked_mm, length_mm)]
    return Lines(tuple(line(*ends) for ends in (*long, *short)), look.pen(0.04, SOFT_INK))


def _marks(step_mm: float, length_mm: float) -> list[float]:
    count = int(np.floor(length_mm / step_mm + 1e-9))
    return [float(step_mm * i) for i in range(count + 1)]
