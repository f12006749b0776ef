"""Bench of growth: what each step of the search takes as pieces or vertices become more.

Run from the checkout: ``python tests/bench/growth.py [--rounds 5] [--moves 20000]``. The published
strip of 99 shirts is laid with every piece 1, 2, 4 and 8 times, and then once with its corners
rounded by ever more vertices. Sizes are timed in turn, round after round, in seconds of this
process. Prints two tables in Markdown, each with the power of growth below. Not run by pytest.
"""

import argparse
import statistics
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

import numpy as np
from shapely import Polygon

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from nesting.engine import Strip, warm_up
from nesting.engine.compaction import compacted
from nesting.engine.explore import shrunk
from nesting.engine.fill import fill
from nesting.engine.layout import Layout, layout_of_fill
from nesting.engine.orders import sensible_orders
from nesting.engine.prepared import PreparedStrip, prepare
from nesting.engine.separate import begin, go_on
from nesting.engine.window import whole_strip
from tests import datasets

COPIES = (1, 2, 4, 8)
SEGMENTS = (1, 2, 4, 8, 16)
ROUNDED_BY = 0.01
SHORTENED_TO = 0.98
Result = TypeVar("Result")
STEPS = ("no-fit polygons, ms", "one fill, ms", "a move, µs", "a compaction, ms")


def more_copies(times: int) -> Strip:
    """Return the shirts with every piece so many times as often."""
    strip = datasets.published_strip("shirts")
    items = tuple(replace(item, quantity=item.quantity * times) for item in strip.items)
    return replace(strip, items=items)


def rounded(segments: int) -> Strip:
    """Return the shirts, a little larger, with so many edges to each quarter turn of a corner."""
    strip = datasets.published_strip("shirts")
    grown = [
        Polygon(item.outline).buffer(ROUNDED_BY * strip.width, quad_segs=segments)
        for item in strip.items
    ]
    items = tuple(
        replace(item, outline=np.array(outline.exterior.coords)[:-1])
        for item, outline in zip(strip.items, grown, strict=True)
    )
    return replace(strip, width=1.1 * strip.width, items=items)


def timed_s(work: Callable[[], Result]) -> tuple[float, Result]:
    """Return how many seconds of this process a piece of work takes, and its result."""
    began = time.process_time()
    result = work()
    return time.process_time() - began, result


def moving_s(prepared: PreparedStrip, start: Layout, moves: int) -> float:
    """Return the seconds one move takes, in attempts begun anew whenever one is over."""
    rng = np.random.default_rng(1)
    length = SHORTENED_TO * start.length
    took_s, made = 0.0, 0
    while made < moves:
        shorter, window = shrunk(prepared, start, length, rng)
        attempt = begin(prepared, shorter, length, window, rng)
        began = time.process_time()
        attempt = go_on(prepared, attempt, moves=moves - made, deadline=float("inf"))
        took_s += time.process_time() - began
        made += max(1, attempt.moves)
    return took_s / made


def steps(strip: Strip, moves: int) -> tuple[float, ...]:
    """Return the time of every one of :data:`STEPS` on a strip, in its unit."""
    preparing_s, prepared = timed_s(lambda: prepare(strip))
    filling_s, filled = timed_s(lambda: fill(prepared, sensible_orders(prepared)[0]))
    start = layout_of_fill(prepared, filled)
    compacting_s, _ = timed_s(lambda: compacted(prepared, start, whole_strip(start)))
    each_s = moving_s(prepared, start, moves)
    return 1e3 * preparing_s, 1e3 * filling_s, 1e6 * each_s, 1e3 * compacting_s


def table(name: str, strips: dict[float, Strip], rounds: int, moves: int) -> None:
    """Print the median of each step for each size, and the power of its growth."""
    found: dict[float, list[tuple[float, ...]]] = {size: [] for size in strips}
    for _ in range(rounds):
        for size, strip in strips.items():
            found[size].append(steps(strip, moves))
    print(f"| {name} | " + " | ".join(STEPS) + " |")
    print("|---:" * (1 + len(STEPS)) + "|")
    medians = [
        [statistics.median(one) for one in zip(*runs, strict=True)] for runs in found.values()
    ]
    for size, row in zip(found, medians, strict=True):
        print(f"| {size:g} | " + " | ".join(f"{value:.4g}" for value in row) + " |")
    sizes = np.log(list(found))
    powers = [np.polyfit(sizes, np.log(column), 1)[0] for column in zip(*medians, strict=True)]
    print("| power | " + " | ".join(f"{power:.2f}" for power in powers) + " |\n", flush=True)


def main() -> None:
    """Read the options and print both tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=5)
    parser.add_argument("--moves", type=int, default=20_000)
    options = parser.parse_args()
    warm_up()
    by_pieces = {}
    for copies in COPIES:
        strip = more_copies(copies)
        by_pieces[float(sum(item.quantity for item in strip.items))] = strip
    table("pieces", by_pieces, options.rounds, options.moves)
    by_vertices = {}
    for segments in SEGMENTS:
        strip = rounded(segments)
        by_vertices[float(np.mean([len(item.outline) for item in strip.items]))] = strip
    table("vertices a piece, on average", by_vertices, options.rounds, options.moves)


if __name__ == "__main__":
    main()
