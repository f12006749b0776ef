"""Cells of a chart laid in an hour of one core, by 1, 2 and 4 workers, here and in a cluster.

Run from the checkout: ``python tests/bench/catalogue_speed.py [--rounds 3]`` on a computer that
does nothing else, with the extra ``cluster``. The shells of the demo patterns, every view and size,
on 45 and 60 in cloth with nap, quick effort; each way has laid some cells before its clock starts.
Not run by pytest.
"""

import argparse
import os
import statistics
import sys
import time
from collections.abc import Iterator
from concurrent.futures import Executor
from contextlib import ExitStack, contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from nesting.answers.chart.cells import cell_pool, lay_cells
from nesting.answers.chart.chart import ChartRequest, views_cut_from
from nesting.answers.chart.cluster import cluster_executor
from nesting.cloth.bolt import Bolt
from nesting.lay import LayRequest, SearchOptions
from pieces.sheet.pattern_file import read_pattern
from tests.nesting.answers.chart.test_cluster import scheduler, worker

PATTERNS = ("waistcoat", "smock_shirt", "cloak", "knapsack")
WORKERS = (1, 2, 4)
BOLTS = tuple(Bolt(width_mm=25.4 * inches, nap=True) for inches in (45, 60))


def cells() -> list[LayRequest]:
    """Return the cells of all demo patterns."""
    asked = []
    for name in PATTERNS:
        pattern = read_pattern(ROOT / "demo" / f"{name}.toml")
        chart = ChartRequest(
            pattern=pattern,
            views=views_cut_from(pattern, "shell"),
            sizes=tuple(pattern.sizes),
            bolts=BOLTS,
            cloth="shell",
            search=SearchOptions("quick", workers=1),
        )
        asked += [lay for view, size in chart.cells for lay in chart.lays(view, size)]
    return asked


@contextmanager
def cluster(workers: int) -> Iterator[Executor]:
    """Yield an executor on a scheduler of this computer with so many workers."""
    with TemporaryDirectory() as folder, ExitStack() as stack:
        address, _ = stack.enter_context(scheduler(Path(folder)))
        for number in range(workers):
            own = Path(folder) / str(number)
            own.mkdir()
            stack.enter_context(worker(address, own))
        yield stack.enter_context(cluster_executor(address))


def seconds(executor: Executor, asked: list[LayRequest], workers: int) -> float:
    """Return how long the cells take, once every worker is likely to have laid one."""
    lay_cells(asked[: 4 * workers], executor)
    begun = time.perf_counter()
    lay_cells(asked, executor)
    return time.perf_counter() - begun


def main() -> None:
    """Measure every way in turn, round after round, and print a table of medians."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=3)
    rounds = parser.parse_args().rounds
    asked = cells()
    ways = {"this computer's own processes": cell_pool, "scheduler and workers": cluster}
    taken: dict[tuple[str, int], list[float]] = {}
    for _ in range(rounds):
        for way, executor_of in ways.items():
            for workers in WORKERS:
                with executor_of(workers) as executor:
                    took = seconds(executor, asked, workers)
                taken.setdefault((way, workers), []).append(took)
    print(f"{len(asked)} cells, {os.cpu_count()} cores, medians of {rounds} rounds:\n")
    print("| Way | Workers | Seconds (least, median, most) | Over one | Cells an hour of a core |")
    print("|---|---:|---:|---:|---:|")
    for (way, workers), times in taken.items():
        took = statistics.median(times)
        over = took / statistics.median(taken[way, 1])
        rate = 3600.0 * len(asked) / took / min(workers, os.cpu_count() or 1)
        spread = f"{min(times):.1f}, {took:.1f}, {max(times):.1f}"
        print(f"| {way} | {workers} | {spread} | {over:.2f} | {rate:,.0f} |")


if __name__ == "__main__":
    main()
