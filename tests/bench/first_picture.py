"""Bench of the first answer: from the command to the first picture, kernels cold and warm.

Run from the checkout: ``python tests/bench/first_picture.py``. Kernels are compiled into an empty
temporary folder for the cold run. Not run by pytest.
"""

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
WARM_RUNS = 5


def timed(folder: Path) -> float:
    """Run the command with kernels cached in ``folder``; return the seconds it took."""
    picture = folder / "marker.png"
    command = [
        sys.executable,
        "-m",
        "nesting",
        "lay",
        "demo/waistcoat.toml",
        "--view",
        "A",
        "--size",
        "M",
        "--width",
        "45in",
        "--effort",
        "quick",
        "--draw",
        str(picture),
    ]
    environment = {**os.environ, "NUMBA_CACHE_DIR": str(folder / "kernels")}
    started = time.perf_counter()
    subprocess.run(command, cwd=ROOT, env=environment, check=True, capture_output=True)
    seconds = time.perf_counter() - started
    if not picture.is_file():
        raise SystemExit("the command wrote no picture")
    return seconds


def main() -> None:
    """Print the cold run and the median of the warm ones."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        cold = timed(folder)
        warm = sorted(timed(folder) for _ in range(WARM_RUNS))
    print(f"first picture, kernels compiled on the way: {cold:.1f} s")
    print(
        f"first picture, kernels on disk: {warm[WARM_RUNS // 2]:.1f} s "
        f"({warm[0]:.1f} to {warm[-1]:.1f} s)"
    )


if __name__ == "__main__":
    main()
