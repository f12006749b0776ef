"""Compaction: shifting all copies at once by linear programming, so that the strip gets shorter.

Each near pair stays within a convex region of free places around where it lies now, which bounds
the shifts by half-planes; the length is what is made least (Li & Milenkovic 1995, "Compaction and
separation algorithms for non-convex polygons and their applications").
"""

from nesting.engine.compaction_lp import shortest
from nesting.engine.kernels.separate import move_to_allowed
from nesting.engine.layout import Layout, layout_of
from nesting.engine.prepared import PreparedStrip
from nesting.engine.separation_state import is_valid, new_board
from nesting.engine.window import Window, whole_strip

MOST_ROUNDS = 8
LEAST_GAIN = 1e-4


def compacted(prepared: PreparedStrip, start: Layout, window: Window) -> Layout:
    """Return a valid layout at most as long as the valid layout ``start``.

    Only the copies of a window shift, and what lies beyond them follows as one.
    Rounds of shifts go on until one gains less than a ten-thousandth. A result that is not valid,
    as rounding in the solver may cause, is thrown away.
    """
    best = start
    for _ in range(MOST_ROUNDS):
        shifted = shortest(prepared, best, window)
        if shifted is None or shifted.length >= best.length or not is_valid(prepared, shifted):
            break
        gained, best = best.length - shifted.length, shifted
        if gained < LEAST_GAIN * best.length:
            break
    return best


def repaired(prepared: PreparedStrip, start: Layout, window: Window) -> Layout | None:
    """Return a valid layout near ``start``, which overlaps a little, or None if none is found.

    Every overlapping pair is pushed apart along its nearest way out, all shifts at once. The
    length may come out longer or shorter.
    """
    shifted = shortest(prepared, start, window)
    if shifted is None or not is_valid(prepared, shifted):
        return None
    return shifted


def valid_start(prepared: PreparedStrip, start: Layout) -> Layout | None:
    """Return a start that is valid and keeps to its holds, or None if it cannot be made so."""
    problem = new_board(prepared, start.phases).problem
    places = start.places.copy()
    if not move_to_allowed(start.length, start.shapes, places, problem):
        return None
    held = layout_of(prepared, start.shapes, places, start.phases)
    return held if is_valid(prepared, held) else repaired(prepared, held, whole_strip(held))
