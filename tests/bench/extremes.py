"""Jobs at the ends of what anybody may ask for, each laid at quick effort and checked.

Run from the checkout: ``python tests/bench/extremes.py``. Prints a table in Markdown. The cheap
ones are run by pytest as well (``tests/nesting/lay/test_extremes.py``).
"""

import resource
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from nesting.engine import warm_up
from nesting.lay import LayRequest, lay_pieces
from nesting.marker.measure import utilisation
from tests.extremes import CHEAP, HEAVY


def row(name: str, job: LayRequest) -> str:
    """Lay one job and return its line."""
    started, busy = time.monotonic(), time.process_time()
    result = lay_pieces(job)
    took_s, busy_s = time.monotonic() - started, time.process_time() - busy
    most_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return (
        f"| {name} | {len(result.marker.placements)} | {result.marker_length_mm:,.1f} | "
        f"{100 * utilisation(result.marker):.1f} | {len(result.findings)} | {busy_s:.2f} | "
        f"{took_s:.2f} | {most_mb:.0f} |"
    )


def main() -> None:
    """Print a line for each job."""
    warm_up()
    print("| Job | Copies | Length, mm | Utilisation, % | Findings | Seconds of a core | "
          "Seconds by the clock | Most memory so far, MB |")  # fmt: skip
    print("|---|---:|---:|---:|---:|---:|---:|---:|")
    for name, job in (CHEAP | HEAVY).items():
        print(row(name, job), flush=True)


if __name__ == "__main__":
    main()
