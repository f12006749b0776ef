"""Bench of what a search costs beside time: compiling, loading, and memory.

Run from the checkout: ``python tests/bench/costs.py [--seconds 10] [--names shirts swim]``. Kernels
are compiled into an empty temporary folder, for filling alone and then for the rest; warm runs load
them from there. Then each published strip is searched by two workers in a process of its own, and
the greatest memory of that process and of its largest worker is told. Not run by pytest.
"""

import argparse
import os
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
WARM_RUNS = 5
WARMING = """
import time
from nesting.engine import warm_up
began = time.perf_counter()
warm_up(separation={separation})
print(time.perf_counter() - began)
"""
SEARCHING = """
import resource
from nesting.engine import pack, warm_up
from tests import datasets
warm_up()
pack(datasets.published_strip({name!r}), seconds={seconds}, seed=1, workers=2)
for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN):
    print(resource.getrusage(who).ru_maxrss / 1024)
"""


def printed(program: str, kernels: str) -> list[float]:
    """Run a program with its kernels kept in a folder; return the numbers it prints."""
    done = subprocess.run(
        [sys.executable, "-c", program],
        cwd=ROOT,
        env={**os.environ, "NUMBA_CACHE_DIR": kernels},
        check=True,
        capture_output=True,
        text=True,
    )
    return [float(line) for line in done.stdout.split()]


def main() -> None:
    """Read the options and print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=10.0)
    parser.add_argument("--names", nargs="+", default=["shirts", "trousers", "swim"])
    options = parser.parse_args()
    filling, all_of_it = WARMING.format(separation=False), WARMING.format(separation=True)
    with tempfile.TemporaryDirectory() as kernels:
        print("| what | figure |\n| --- | --- |")
        print(f"| compiling the kernels of filling | {printed(filling, kernels)[0]:.1f} s |")
        print(
            f"| compiling those of separation after that | {printed(all_of_it, kernels)[0]:.1f} s |"
        )
        for what, program in (("filling", filling), ("all", all_of_it)):
            warm = statistics.median(printed(program, kernels)[0] for _ in range(WARM_RUNS))
            print(f"| loading the kernels of {what} from disk | {warm:.2f} s |", flush=True)
        for name in options.names:
            search = SEARCHING.format(name=name, seconds=options.seconds)
            own, worker = printed(search, kernels)
            print(f"| memory of {name}, own and of a worker | {own:.0f}, {worker:.0f} MB |")


if __name__ == "__main__":
    main()
