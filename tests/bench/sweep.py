"""Sweep: many random strips, each packed and then looked at with shapely alone.

Run from the checkout: ``python tests/bench/sweep.py [--strips 1000] [--seed 1]``. Outlines are
random stars and combs, with pairs, turns, held edges, repeats, regions and gaps. Every third strip
is searched for half a second beyond the fill. Prints counts. ``tests/nesting/engine/test_sweep.py``
packs some of the same kind.
"""

import argparse
import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from nesting.engine import pack, warm_up
from nesting.errors import StripError
from tests.packing_checks import faults
from tests.random_strips import random_strip


def main() -> None:
    """Read the options, pack strip after strip, and print what was found."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--strips", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    warm_up()
    rng = np.random.default_rng(options.seed)
    wrong, refused, moves = 0, 0, 0
    for number in range(options.strips):
        strip = random_strip(rng)
        search = {"seconds": 0.5} if number % 3 == 0 else {"effort": "quick"}
        try:
            packing = pack(strip, seed=number, workers=1, **search)
        except StripError:
            refused += 1
            continue
        moves += packing.moves
        found = faults(strip, packing)
        if found:
            wrong += 1
            print(f"strip {number}: {found[:3]}", flush=True)
    print(
        f"{options.strips} strips, {refused} refused because a repeat left no place, "
        f"{moves:,} moves, {wrong} with a fault"
    )


if __name__ == "__main__":
    main()
