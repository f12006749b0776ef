"""Bench of the demo garments: how near to the best known a short search comes.

Run from the checkout: ``python tests/bench/garments.py [--seconds 10 60] [--long 600]``.
Each garment is laid once for the long time and then for each shorter one, on open cloth of one
width without nap, two workers. Prints a table in Markdown: the length in mm, and by how much the
median of the seeds exceeds the shortest found in any of these runs. Not run by pytest.
"""

import argparse
import statistics
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from nesting.cloth.bolt import Bolt
from nesting.engine import warm_up
from nesting.lay import LayRequest, SearchOptions, lay_pieces
from nesting.marker.cut_list import Selection
from pieces.sheet.pattern_file import read_pattern

GARMENTS = {"waistcoat": "A", "smock_shirt": "A", "cloak": "B", "knapsack": "A"}
HEADING = (
    "| garment | pieces | seconds | length, mm (min, median, max) | above shortest, % | faults |\n"
    "| --- | --- | --- | --- | --- | --- |"
)
Runs = list[tuple[float, int, int]]


def laid(name: str, width_mm: float, seconds: float, seeds: int) -> Runs:
    """Return length in mm, pieces laid and findings of the check, for each seed."""
    pattern = read_pattern(ROOT / "demo" / f"{name}.toml")
    runs = []
    for seed in range(1, seeds + 1):
        result = lay_pieces(
            LayRequest(
                pattern=pattern,
                selections=(Selection(GARMENTS[name], "M"),),
                cloth="shell",
                bolt=Bolt(width_mm=width_mm),
                search=SearchOptions(effort=None, seconds=seconds, seed=seed),
            )
        )
        pieces = len(result.marker.placements)
        runs.append((result.marker_length_mm, pieces, len(result.findings)))
    return runs


def row(name: str, seconds: float, runs: Runs, shortest: float) -> str:
    """Return one row of the table."""
    lengths = sorted(length for length, _, _ in runs)
    middle = statistics.median(lengths)
    above = 100.0 * (middle / shortest - 1.0)
    return (
        f"| {name} | {runs[0][1]} | {seconds:g} | {lengths[0]:.1f}, {middle:.1f}, {lengths[-1]:.1f}"
        f" | {above:.2f} | {sum(faults for _, _, faults in runs)} |"
    )


def main() -> None:
    """Read the options and print the table garment by garment."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, nargs="+", default=[10.0, 60.0])
    parser.add_argument("--seeds", type=int, default=3)
    parser.add_argument("--long", type=float, default=600.0)
    parser.add_argument("--width-mm", type=float, default=1500.0)
    parser.add_argument("--names", nargs="+", choices=list(GARMENTS), default=list(GARMENTS))
    options = parser.parse_args()
    warm_up()
    print(HEADING)
    for name in options.names:
        found = {options.long: laid(name, options.width_mm, options.long, 1)}
        for seconds in options.seconds:
            found[seconds] = laid(name, options.width_mm, seconds, options.seeds)
        shortest = min(length for runs in found.values() for length, _, _ in runs)
        for seconds in sorted(found):
            print(row(name, seconds, found[seconds], shortest), flush=True)


if __name__ == "__main__":
    main()
