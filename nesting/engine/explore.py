"""Exploring: shorten a valid layout a little, separate, compact, and begin anew elsewhere.

After a success the strip shrinks again. After a failure the layout goes to a pool ordered by what
overlap remained, and a good one of the pool is tried again with two large copies swapped (the
outline of this search: Elkeran 2013, "A new approach for sheet nesting problem using guided cuckoo
search and pairwise clustering"; Imamichi, Yagiura & Nagamochi 2009).
"""

import time
from dataclasses import dataclass, replace

import numpy as np

from nesting.engine.compact import compacted, is_valid
from nesting.engine.laid import Laid, laid
from nesting.engine.prepared import Prepared
from nesting.engine.separate import Separation, separate

SHRINK = 0.001
MOST_POOLED = 20
SHARE_OF_LARGE = 0.5


@dataclass(frozen=True, eq=False)
class Explorer:
    """Where an explorer stands.

    Parameters
    ----------
    best
        The shortest valid layout it knows.
    pool
        Failed attempts on a length a little shorter, least overlap first.
    moves
        Moves made in the last call of :func:`explore`.
    """

    best: Laid
    pool: tuple[Separation, ...] = ()
    moves: int = 0


def explore(
    prepared: Prepared,
    explorer: Explorer,
    *,
    seed: tuple[int, ...],
    moves: int,
    seconds: float | None,
) -> Explorer:
    """Explore for about ``moves`` moves and return where the explorer stands then.

    An attempt once begun is finished, unless ``seconds`` run out or a layout is reached that
    cannot be beaten.
    """
    rng = np.random.default_rng(seed)
    deadline = float("inf") if seconds is None else time.monotonic() + seconds
    explorer = replace(explorer, moves=0)
    while explorer.moves < moves and time.monotonic() < deadline:
        if explorer.best.length <= prepared.unbeatable_length:
            break
        length = max(prepared.unbeatable_length, explorer.best.length * (1.0 - SHRINK))
        start = _start(prepared, explorer, length, rng)
        ended = separate(prepared, start, length, rng=rng, deadline=deadline)
        explorer = _after(prepared, explorer, ended)
    return explorer


def _after(prepared: Prepared, explorer: Explorer, ended: Separation) -> Explorer:
    moves = explorer.moves + ended.moves
    if ended.overlap > 0.0 or not is_valid(prepared, ended.laid):
        pool = sorted((*explorer.pool, ended), key=lambda failed: failed.overlap)
        return replace(explorer, pool=tuple(pool[:MOST_POOLED]), moves=moves)
    return Explorer(compacted(prepared, ended.laid), (), moves)


def _start(prepared: Prepared, explorer: Explorer, length: float, rng: np.random.Generator) -> Laid:
    """Return the layout to separate next: the best one shrunk, or one of the pool stirred."""
    if not explorer.pool:
        return shrunk(prepared, explorer.best, length, rng)
    spread = abs(rng.normal()) * len(explorer.pool) / 4.0
    chosen = explorer.pool[min(int(spread), len(explorer.pool) - 1)]
    return with_two_swapped(prepared, chosen.laid, rng)


def shrunk(prepared: Prepared, start: Laid, length: float, rng: np.random.Generator) -> Laid:
    """Return ``start`` with all that lies right of a random cut moved left to fit ``length``."""
    cut = rng.random() * start.length
    places = start.places.copy()
    middles = places[:, 0] + prepared.sizes[start.shapes, 0] / 2.0
    places[middles > cut, 0] -= start.length - length
    places[:, 0] = np.maximum(places[:, 0], 0.0)
    return laid(prepared, start.shapes, places)


def with_two_swapped(prepared: Prepared, start: Laid, rng: np.random.Generator) -> Laid:
    """Return ``start`` with a large copy and one of another item, large if any is, exchanged."""
    areas = prepared.areas[start.shapes]
    large = np.argsort(-areas, kind="stable")[: max(2, int(SHARE_OF_LARGE * len(areas)))]
    first = int(rng.choice(large))
    unlike = np.flatnonzero(prepared.copies != prepared.copies[first])
    if not len(unlike):
        return start
    large_unlike = np.intersect1d(unlike, large)
    second = int(rng.choice(large_unlike if len(large_unlike) else unlike))
    sizes = prepared.sizes[start.shapes]
    middles = start.places + sizes / 2.0
    places = start.places.copy()
    for copy, other in ((first, second), (second, first)):
        places[copy] = middles[other] - sizes[copy] / 2.0
    heights = prepared.heights_of(start.shapes)
    places[:, 0] = np.maximum(places[:, 0], 0.0)
    places[:, 1] = np.clip(places[:, 1], heights[:, 0], heights[:, 1])
    return laid(prepared, start.shapes, places)
