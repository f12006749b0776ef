"""Bench of the whole search: density on published strips after given times, beside the records.

Run from the checkout: ``python tests/bench/strips.py [--seconds 10 60] [--seeds 3]
[--first-seed 1] [--names ...] [--copies 8] [--one-way]``. Two workers, kernels compiled before the
clock starts. ``--copies`` lays every piece so many times as often, ``--one-way`` keeps every piece
as drawn, as nap does. Prints a table in Markdown. Not run by pytest.
Records: Gardeyn, Vanden Berghe & Wauters 2025 (arXiv 2509.13329v1), tables 2 and 3.
"""

import argparse
import statistics
import sys
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from nesting.engine import Packing, Strip, pack, warm_up
from tests import datasets
from tests.packing_checks import faults

# average of 100 runs of 20 minutes on 3 threads, and the best of those, per cent
RECORDS = {
    "shirts": (89.66, 90.92),
    "trousers": (91.73, 92.62),
    "swim": (78.26, 79.83),
    "shapes0": (68.60, 69.98),
    "shapes1": (75.69, 76.73),
    "blaz": (84.68, 86.23),
    "fu": (92.24, 92.41),
    "dighe1": (100.0, 100.0),
    "dighe2": (100.0, 100.0),
}
HEADING = (
    "| strip | seconds | density, % (min, median, max) | 2025 average, % | 2025 best, % | "
    "median over best | moves a second | valid |\n| --- | --- | --- | --- | --- | --- | --- | --- |"
)


def strip_of(name: str, copies: int, *, one_way: bool) -> Strip:
    """Return a published strip, with more copies of each piece and no turns if wanted."""
    strip = datasets.published_strip(name)
    items = tuple(
        replace(
            item,
            quantity=item.quantity * copies,
            turns_deg=(0.0,) if one_way else item.turns_deg,
        )
        for item in strip.items
    )
    return replace(strip, items=items)


def packings_of(strip: Strip, seconds: float, seeds: range) -> list[Packing]:
    """Return what the search comes to from each seed, on two workers."""
    return [pack(strip, seconds=seconds, seed=seed, workers=2) for seed in seeds]


def row(name: str, strip: Strip, seconds: float, packings: list[Packing]) -> str:
    """Return one row of the table."""
    found = sorted(100 * packing.density for packing in packings)
    middle = statistics.median(found)
    valid = sum(not faults(strip, packing) for packing in packings)
    rate = statistics.median(packing.moves / packing.seconds for packing in packings)
    average, best = RECORDS[name]
    return (
        f"| {name} | {seconds:g} | {found[0]:.2f}, {middle:.2f}, {found[-1]:.2f} | {average:.2f} | "
        f"{best:.2f} | {middle / best:.3f} | {rate:,.0f} | {valid} of {len(packings)} |"
    )


def main() -> None:
    """Read the options and print the table row by row."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, nargs="+", default=[10.0, 60.0])
    parser.add_argument("--seeds", type=int, default=3)
    parser.add_argument("--first-seed", type=int, default=1)
    parser.add_argument("--copies", type=int, default=1)
    parser.add_argument("--one-way", action="store_true")
    parser.add_argument("--names", nargs="+", choices=list(RECORDS), default=list(RECORDS))
    options = parser.parse_args()
    seeds = range(options.first_seed, options.first_seed + options.seeds)
    warm_up()
    print(HEADING)
    for name in options.names:
        strip = strip_of(name, options.copies, one_way=options.one_way)
        for seconds in options.seconds:
            packings = packings_of(strip, seconds, seeds)
            print(row(name, strip, seconds, packings), flush=True)


if __name__ == "__main__":
    main()
