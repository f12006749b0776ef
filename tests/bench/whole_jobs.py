"""Sweep of whole jobs: any small pattern on any bolt in any spread, each marker checked.

Run from the checkout: ``python tests/bench/whole_jobs.py [--jobs 1000]``. Prints how many were
laid and refused, every fault, and what else the check said. Not run by pytest, which tries a few
of the same kind.
"""

import argparse
import sys
from collections import Counter
from pathlib import Path

from hypothesis import HealthCheck, Phase, given, settings

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from nesting.errors import NestingError
from nesting.lay import LayRequest, lay_pieces
from pieces.errors import PiecesError
from pieces.finding import Severity
from tests.whole_jobs import jobs


def sweep(wanted: int) -> Counter[str]:
    """Lay so many random jobs; return the counts, and print each fault as it is found."""
    counts: Counter[str] = Counter()

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
        for finding in result.findings:
            counts[f"said: {finding.code}"] += 1
            if finding.severity is Severity.ERROR:
                print(f"FAULT {finding.code}: {finding.sentence}\n{job}", flush=True)
        if result.marker_length_mm < result.lower_bound.length_mm * (1 - 1e-9):
            counts["below the bound"] += 1
            print(f"FAULT below the bound: {job}", flush=True)

    lay()
    return counts


def main() -> None:
    """Read the options and print the counts."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--jobs", type=int, default=1000)
    counts = sweep(parser.parse_args().jobs)
    for what, count in sorted(counts.items()):
        print(f"{count:6d} {what}")


if __name__ == "__main__":
    main()
