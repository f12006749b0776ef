"""Exploring: shorten a valid layout a little, separate, compact, and try again elsewhere.

After a success the strip shrinks again. After a failure the layout goes to a pool ordered by the
overlap that remained, and one of the pool is tried again with two large copies swapped. Its number
in the pool is drawn from a normal distribution, so that layouts with little overlap come more
often.

The outline is that of Elkeran 2013, "A new approach for sheet nesting problem using guided cuckoo
search and pairwise clustering", and Imamichi, Yagiura & Nagamochi 2009. The pool drawn by a normal
distribution and the swap of two large copies are the scheme of Gardeyn, Vanden Berghe & Wauters
2025 (arXiv 2509.13329v1, "An open-source heuristic to reboot 2D nesting research"). What differs
here: the strip is shortened less with every failure, the pool keeps a limited number of layouts, a
layout that nearly succeeded is repaired, every valid one is compacted by linear programming, and
long strips are worked on in windows.
"""

import time
from dataclasses import dataclass, replace

import numpy as np

from nesting.engine.compaction import compacted, repaired
from nesting.engine.layout import Layout, layout_of
from nesting.engine.no_fit import IntArray
from nesting.engine.prepared import PreparedStrip
from nesting.engine.separate import Attempt, begin, go_on
from nesting.engine.separation_state import is_valid
from nesting.engine.window import Window, moved_on, share_of_window, window_about

BOLDEST_SHRINK, LEAST_SHRINK = 0.005, 0.0005
MODESTY = 0.85
NEAR_MISS = 0.05
LEAST_GAIN = 1e-6
MOST_POOLED = 20
SHARE_OF_LARGE = 0.5
SHARE_OF_PHASES = 0.3
SPREAD_IN_POOL = 0.25


@dataclass(frozen=True, eq=False)
class Failed:
    """Where an attempt ended that did not succeed.

    Parameters
    ----------
    layout
        Its layout of least overlap.
    overlap
        The overlap that remained.
    window, length
        The part of the strip it worked on, and the length it kept to.
    """

    layout: Layout
    overlap: float
    window: Window
    length: float


@dataclass(frozen=True, eq=False)
class Explorer:
    """Where an explorer stands.

    Parameters
    ----------
    best
        The shortest valid layout it knows.
    attempt
        An attempt under way, if any.
    pool
        Failed attempts on a length a little shorter, least overlap first.
    failures
        How many attempts have failed since the best layout was found.
    moves
        Moves made in the last call of :func:`explore`.
    """

    best: Layout
    attempt: Attempt | None = None
    pool: tuple[Failed, ...] = ()
    failures: int = 0
    moves: int = 0


def explore(
    prepared: PreparedStrip,
    explorer: Explorer,
    *,
    seed: tuple[int, ...],
    moves: int,
    seconds: float | None,
) -> Explorer:
    """Explore for about ``moves`` moves and return where the explorer stands then.

    An attempt under way at the end goes on in the next call. Stops early when ``seconds`` run out
    or a layout is reached that cannot be beaten.
    """
    rng = np.random.default_rng(seed)
    deadline = float("inf") if seconds is None else time.monotonic() + seconds
    made = 0
    while made < moves and time.monotonic() < deadline:
        if explorer.best.length <= prepared.unbeatable_length:
            break
        attempt = explorer.attempt or _next_attempt(prepared, explorer, rng)
        ran = go_on(prepared, attempt, moves=moves - made, deadline=deadline)
        made += max(1, ran.moves - attempt.moves)
        if ran.is_over:
            explorer = replace(_after(prepared, explorer, ran), attempt=None)
        else:
            explorer = replace(explorer, attempt=ran)
    return replace(explorer, moves=made)


def _next_attempt(prepared: PreparedStrip, explorer: Explorer, rng: np.random.Generator) -> Attempt:
    """Return a new attempt: on the best layout shortened, or on one of the pool changed a little.

    Where a window is a small part of the strip, mostly another window of the best layout is taken.
    """
    share = share_of_window(prepared)
    boldness = MODESTY ** (share * explorer.failures)
    shrink = share * max(LEAST_SHRINK, BOLDEST_SHRINK * boldness)
    length = max(prepared.unbeatable_length, explorer.best.length * (1.0 - shrink))
    if not explorer.pool or (share < 1.0 and rng.random() > share):
        start, window = shrunk(prepared, explorer.best, length, rng)
    else:
        drawn = SPREAD_IN_POOL * len(explorer.pool) * abs(rng.normal())
        chosen = explorer.pool[min(int(drawn), len(explorer.pool) - 1)]
        shift = length - chosen.length
        start, window = moved_on(prepared, chosen.layout, chosen.window, shift)
        start = changed_a_little(prepared, start, window, rng)
    return begin(prepared, start, length, window, rng)


def _after(prepared: PreparedStrip, explorer: Explorer, ended: Attempt) -> Explorer:
    """Return where the explorer stands after an attempt: with a new layout, or one more failure."""
    found = _made_valid(prepared, ended)
    if found is not None and found.length < explorer.best.length * (1.0 - LEAST_GAIN):
        return Explorer(found)
    failed = Failed(ended.best, ended.overlap, ended.window, ended.length)
    pool = sorted((*explorer.pool, failed), key=lambda failed: failed.overlap)
    return replace(explorer, pool=tuple(pool[:MOST_POOLED]), failures=explorer.failures + 1)


def _made_valid(prepared: PreparedStrip, ended: Attempt) -> Layout | None:
    """Return the compacted layout of an attempt that succeeded or nearly so, else None."""
    if ended.overlap > NEAR_MISS * prepared.width:
        return None
    valid = ended.best if is_valid(prepared, ended.best) else None
    if valid is None:
        valid = repaired(prepared, ended.best, ended.window)
    return None if valid is None else compacted(prepared, valid, ended.window)


def shrunk(
    prepared: PreparedStrip, start: Layout, length: float, rng: np.random.Generator
) -> tuple[Layout, Window]:
    """Return ``start`` with all right of a random cut moved left to fit ``length``.

    The window about the cut comes with it.
    """
    cut = rng.random() * start.length
    places = start.places.copy()
    middles = places[:, 0] + prepared.sizes[start.shapes, 0] / 2.0
    places[middles > cut, 0] -= start.length - length
    places[:, 0] = np.maximum(places[:, 0], 0.0)
    shorter = layout_of(prepared, start.shapes, places, start.phases)
    return shorter, window_about(prepared, shorter, cut)


def changed_a_little(
    prepared: PreparedStrip, start: Layout, window: Window, rng: np.random.Generator
) -> Layout:
    """Return ``start`` with two copies swapped, or now and then one group at another phase."""
    groups = len(prepared.groups)
    if not groups or rng.random() >= SHARE_OF_PHASES:
        return with_two_swapped(prepared, start, window.movers, rng)
    group = int(rng.integers(groups))
    phases = start.phases.copy()
    allowed = prepared.random_phases(rng)[group]
    phases[group] = rng.random() * prepared.every[group] if np.isnan(allowed) else allowed
    return layout_of(prepared, start.shapes, start.places, phases)


def with_two_swapped(
    prepared: PreparedStrip, start: Layout, movers: IntArray, rng: np.random.Generator
) -> Layout:
    """Return ``start`` with a large copy and one of another item, large if any is, exchanged.

    Both are among the ``movers``.
    """
    by_area = movers[np.argsort(-prepared.areas[start.shapes[movers]], kind="stable")]
    large = by_area[: max(2, int(SHARE_OF_LARGE * len(movers)))]
    first = int(rng.choice(large))
    unlike = movers[prepared.copies[movers] != prepared.copies[first]]
    if not len(unlike):
        return start
    large_unlike = np.intersect1d(unlike, large)
    second = int(rng.choice(large_unlike if len(large_unlike) else unlike))
    sizes = prepared.sizes[start.shapes]
    middles = start.places + sizes / 2.0
    places = start.places.copy()
    for copy, other in ((first, second), (second, first)):
        places[copy] = middles[other] - sizes[copy] / 2.0
    heights = prepared.heights_of(start.shapes, places)
    places[:, 0] = np.maximum(places[:, 0], 0.0)
    places[:, 1] = np.clip(places[:, 1], heights[:, 0], heights[:, 1])
    return layout_of(prepared, start.shapes, places, start.phases)
