"""The packing engine: pure geometry in any unit, knowing nothing of cloth.

>>> from nesting.engine import Strip, StripItem, pack
>>> square = StripItem(name="square", outline=[(0, 0), (1, 0), (1, 1), (0, 1)], quantity=4)
>>> pack(Strip(width=2.0, items=(square,)), effort="quick", workers=1).length
2.0
"""

from nesting.engine.compaction import valid_start
from nesting.engine.kernels.jit import cache_problem, kernels_are_ready
from nesting.engine.layout import layout_from, placements
from nesting.engine.lighter import prepare_for_quick
from nesting.engine.packing import Packing, Progress, ProgressCallback, StoppedBy
from nesting.engine.prepared import prepare
from nesting.engine.search import search
from nesting.engine.stop import EFFORTS, stop_rule
from nesting.engine.strip import (
    Axis,
    HeldTo,
    PhaseGroup,
    PhaseHold,
    Strip,
    StripItem,
    StripPlacement,
    placed_outline,
)
from nesting.engine.warm import warm_up
from nesting.errors import StripError

__all__ = [
    "EFFORTS",
    "Axis",
    "HeldTo",
    "Packing",
    "PhaseGroup",
    "PhaseHold",
    "Progress",
    "ProgressCallback",
    "StoppedBy",
    "Strip",
    "StripItem",
    "StripPlacement",
    "cache_problem",
    "kernels_are_ready",
    "pack",
    "placed_outline",
    "warm_up",
]


def pack(
    strip: Strip,
    *,
    effort: str | None = None,
    seconds: float | None = None,
    seed: int = 1,
    workers: int = 2,
    progress: ProgressCallback | None = None,
    start: tuple[StripPlacement, ...] | None = None,
) -> Packing:
    """Lay every copy of every item on the strip, as short as the search finds.

    Parameters
    ----------
    strip
        Width and items, any unit.
    effort
        ``"quick"``, ``"standard"`` or ``"thorough"``: an amount of work, so the result does
        not depend on the machine. Standard if neither effort nor seconds is given.
    seconds
        Wall-clock limit, above zero; compiling the kernels, on the first run ever, comes on top.
    seed
        Start of every random choice, 0 or above.
    workers
        Processes to use, at least 1.
    progress
        Called with a :class:`Progress` after each round; a true answer stops the search.
    start
        Where the copies lie in a packing known already. If that is valid, the result is never
        longer; small overlaps are repaired first if they can be.

    Returns
    -------
    Packing
        Valid at whatever moment the search stopped. Outlines lie in 0 <= x <= length and
        0 <= y <= width and overlap by no more than 1e-6 of the strip's largest extent in depth,
        each other and the regions to avoid; gap and holds are kept as closely.

    Raises
    ------
    DoesNotFitError
        If an item is wider than the strip in every pose it may take.
    StripError
        If effort, seconds, seed or workers is out of range, ``start`` speaks of other copies or
        poses, or no order leaves every copy a place that its holds allow.
    """
    if workers < 1 or seed < 0:
        raise StripError(f"workers {workers} must be at least 1 and seed {seed} at least 0")
    rule = stop_rule(effort, seconds)
    warm_up(separation=rule.separates)
    rule = rule.from_now()
    is_quick = not rule.separates and start is None
    prepared = prepare_for_quick(strip) if is_quick else prepare(strip)
    rule = rule.for_pieces(len(prepared.copies)).for_edges(len(prepared.no_fit.edges))
    known = None if start is None else valid_start(prepared, layout_from(prepared, strip, start))
    best, state = search(prepared, rule, seed=seed, workers=workers, progress=progress, start=known)
    length = best.length / prepared.scale - strip.gap
    return Packing(
        length=length,
        density=strip.area / (strip.width * length),
        placements=placements(prepared, strip, best),
        phases=tuple(float(phase) for phase in best.phases / prepared.scale),
        fills=state.fills,
        moves=state.moves,
        stopped_by=state.stopped_by or StoppedBy.EFFORT,
        seconds=rule.elapsed_s,
        history=tuple(state.history),
    )
