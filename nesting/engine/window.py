"""Windows: the part of a strip that one attempt works on.

A strip of many pieces is shortened in one place at a time. Only the copies about that place move;
those before them stay where they are, and those beyond them move as one. So an attempt on a strip
of a thousand pieces costs little more than one on a hundred and fifty.
"""

from dataclasses import dataclass, replace

import numpy as np

from nesting.engine.layout import Layout, layout_of
from nesting.engine.no_fit import IntArray
from nesting.engine.prepared import PreparedStrip
from pieces.outline.polygon import FloatArray

PIECES_IN_WINDOW = 150


@dataclass(frozen=True, eq=False)
class Window:
    """A part of a strip, from one edge of the cloth to the other.

    Parameters
    ----------
    start, end
        Where it begins and ends along the strip, units.
    movers
        Numbers of the copies that lay in it, at least in part, when it was chosen.
    """

    start: float
    end: float
    movers: IntArray


def share_of_window(prepared: PreparedStrip) -> float:
    """Return how much of the strip a window takes, 1 for all of it.

    A strip with repeats, regions or fixed copies is one window: what lies beyond a smaller one
    could not move as one.
    """
    if len(prepared.groups) or len(prepared.obstacle_shapes):
        return 1.0
    return min(1.0, PIECES_IN_WINDOW / len(prepared.copies))


def whole_strip(layout: Layout) -> Window:
    """Return all of a strip as one window, however long it becomes."""
    return Window(0.0, np.inf, np.arange(len(layout.shapes)))


def window_about(prepared: PreparedStrip, layout: Layout, x: float) -> Window:
    """Return the window with ``x`` in its middle, or as near to it as the ends permit."""
    share = share_of_window(prepared)
    if share == 1.0:
        return whole_strip(layout)
    long = share * layout.length
    start = min(max(0.0, x - long / 2.0), layout.length - long)
    lefts, rights = sides_along(prepared, layout)
    movers = np.flatnonzero((rights >= start) & (lefts <= start + long))
    return Window(start, start + long, movers)


def sides_along(prepared: PreparedStrip, layout: Layout) -> tuple[FloatArray, FloatArray]:
    """Return where the box of each copy begins and ends along the strip."""
    lefts = layout.places[:, 0]
    return lefts, lefts + prepared.sizes[layout.shapes, 0]


def beyond(prepared: PreparedStrip, layout: Layout, window: Window) -> IntArray:
    """Return the numbers of the copies beyond a window, which begin in it or later."""
    lefts, _ = sides_along(prepared, layout)
    lie_still = np.ones(len(lefts), dtype=bool)
    lie_still[window.movers] = False
    return np.flatnonzero(lie_still & (lefts > window.start))


def moved_on(
    prepared: PreparedStrip, layout: Layout, window: Window, shift: float
) -> tuple[Layout, Window]:
    """Return a layout with all that lies beyond a window shifted along, and the window longer."""
    places = layout.places.copy()
    places[beyond(prepared, layout, window), 0] += shift
    moved = layout_of(prepared, layout.shapes, places, layout.phases)
    return moved, replace(window, end=window.end + shift)
