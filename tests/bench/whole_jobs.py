"""Sweep of whole jobs: any small pattern on any bolt in any spread, each marker judged twice.

Run from the checkout: ``python tests/bench/whole_jobs.py [--jobs 1000] [--seed 1]``. Prints how
many were laid and refused, every fault that the check or the second judge finds, where the two
disagree, and what else the check said. Not run by pytest, which tries a few of the same kind.
"""

import argparse
import sys
from collections import Counter
from pathlib import Path

from hypothesis import HealthCheck, Phase, given, seed, settings

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from nesting.errors import NestingError
from nesting.lay import LayRequest, LayResult, lay_pieces
from nesting.marker.marker_file import format_marker
from pieces.errors import PiecesError
from pieces.finding import Severity
from tests.second_judge import faults
from tests.whole_jobs import jobs


def judged(job: LayRequest, result: LayResult) -> Counter[str]:
    """Return what both judges say of one lay, and print each fault."""
    counts: Counter[str] = Counter(f"said: {finding.code}" for finding in result.findings)
    errors = [one for one in result.findings if one.severity is Severity.ERROR]
    second = faults(format_marker(result.marker))
    told = [f"{one.code}: {one.sentence}" for one in errors] + second
    if result.marker_length_mm < result.lower_bound.length_mm * (1 - 1e-9):
        told.append("below the bound")
    counts["faults of the check"] += bool(errors)
    counts["faults of the second judge"] += bool(second)
    counts["judged unlike"] += bool(errors) is not bool(second)
    counts["faults"] += bool(told)
    for one in told:
        print(f"FAULT {one}\n{job}", flush=True)
    return counts


def sweep(wanted: int, start: int) -> Counter[str]:
    """Lay so many random jobs; return the counts, and print each fault as it is found."""
    counts: Counter[str] = Counter()

    @seed(start)
    @settings(
        max_examples=wanted,
        deadline=None,
        database=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(job=jobs())
    def lay(job: LayRequest) -> None:
        try:
            result = lay_pieces(job)
        except (NestingError, PiecesError) as refusal:
            counts[f"refused: {type(refusal).__name__}"] += 1
            return
        counts[f"laid: {job.rules.spread}"] += 1
        counts.update(judged(job, result))

    lay()
    return counts


def main() -> None:
    """Read the options and print the counts."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--jobs", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    typed = parser.parse_args()
    counts = sweep(typed.jobs, typed.seed)
    for what, count in sorted(counts.items()):
        print(f"{count:6d} {what}")
    sys.exit(1 if counts["faults"] else 0)


if __name__ == "__main__":
    main()
