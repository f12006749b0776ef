"""Bench of bottom-left fill: density on published strips, and growth of its time with pieces.

Run from the checkout: ``python tests/bench/fill.py [--seconds 5] [--seeds 3]``. Prints two tables
in Markdown. One core; kernels are compiled before the clock starts. Not run by pytest.
"""

import argparse
import platform
import statistics
import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from nesting.engine import Strip, StripItem, pack, warm_up
from nesting.engine.fill import fill
from nesting.engine.orders import sensible_orders
from nesting.engine.prepared import prepare
from tests import datasets
from tests.packing_checks import faults

PIECE_COUNTS = (25, 50, 100, 200, 400)


def densities(seconds: float, seeds: int) -> None:
    """Print one row for each published strip: first fill, then the order search."""
    print(
        "| strip | pieces | no-fit polygons, s | one fill, ms | first fill, % | after "
        f"{seconds:g} s, % (min, median, max of {seeds}) | fills | valid |"
    )
    print("| --- | --- | --- | --- | --- | --- | --- | --- |")
    for name in datasets.INSTANCES:
        strip = datasets.published_strip(name)
        started = time.perf_counter()
        prepared = prepare(strip)
        preparing = time.perf_counter() - started
        orders = sensible_orders(prepared)
        started = time.perf_counter()
        first = [fill(prepared, order) for order in orders]
        one_fill = (time.perf_counter() - started) / len(orders)
        packings = [pack(strip, seconds=seconds, seed=s, workers=1) for s in range(1, seeds + 1)]
        found = sorted(100 * packing.density for packing in packings)
        valid = sum(not faults(strip, packing) for packing in packings)
        best_first = 100 * prepared.least_length / min(one.length for one in first)
        fills = statistics.median(packing.fills for packing in packings)
        print(
            f"| {name} | {len(prepared.copies)} | {preparing:.3f} | {1000 * one_fill:.2f} | "
            f"{best_first:.2f} | {found[0]:.2f}, {statistics.median(found):.2f}, "
            f"{found[-1]:.2f} | {fills:.0f} | {valid} of {seeds} |"
        )


def growth() -> None:
    """Print the time of one fill for more and more pieces, and the exponent of its growth."""
    shirts = datasets.published_strip("shirts")
    total = sum(item.quantity for item in shirts.items)
    print("\n| pieces | one fill, ms | ms a piece |")
    print("| --- | --- | --- |")
    counts, times = [], []
    for wanted in PIECE_COUNTS:
        items = tuple(
            StripItem(
                name=item.name,
                outline=item.outline,
                turns_deg=item.turns_deg,
                quantity=max(1, round(item.quantity * wanted / total)),
            )
            for item in shirts.items
        )
        prepared = prepare(Strip(width=shirts.width, items=items))
        orders = sensible_orders(prepared)
        started = time.perf_counter()
        for order in orders:
            fill(prepared, order)
        each = (time.perf_counter() - started) / len(orders)
        counts.append(len(prepared.copies))
        times.append(each)
        print(f"| {counts[-1]} | {1000 * each:.2f} | {1000 * each / counts[-1]:.3f} |")
    exponent = np.polyfit(np.log(counts), np.log(times), 1)[0]
    print(f"\nTime of one fill grows with the number of pieces to the power {exponent:.2f}.")


def main() -> None:
    """Read the options and print both tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=5.0)
    parser.add_argument("--seeds", type=int, default=3)
    options = parser.parse_args()
    warm_up()
    print(f"Python {platform.python_version()}, numpy {np.__version__}\n")
    densities(options.seconds, options.seeds)
    growth()


if __name__ == "__main__":
    main()
