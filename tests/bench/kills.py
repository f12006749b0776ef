"""Kill commands at random moments: nothing they write may be half there, and nobody may stay.

Run from the checkout: ``python tests/bench/kills.py [--kills 200] [--seed 1]``. Markers, charts
and orders are begun in turn and ended by SIGKILL somewhere between start and finish; then every
file is read. At the end each command runs once more where it was killed and must come to what an
undisturbed run came to. Not run by pytest, which kills one search.
"""

import argparse
import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

from PIL import Image

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from nesting.checks import check_marker
from nesting.marker.marker_file import read_marker
from pieces.finding import Severity
from tests.processes import of_session

KNAPSACK = ("demo/knapsack.toml", "--cloth", "shell")
COMMANDS = {
    "lay": (
        "lay",
        *KNAPSACK,
        "--view",
        "A",
        "--size",
        "M",
        "--width",
        "45in",
        "--out",
        "m.json",
        "--draw",
        "m.png",
    ),
    "chart": ("chart", *KNAPSACK, "--width", "45in", "--width", "60in", "--csv", "c.csv"),
    "order": (
        *("order", "two.csv", "--pattern", "demo/knapsack.toml", "--cloth", "shell"),
        *("--width", "60in", "--out", "m.json", "--draw", "m.png"),
    ),
}


def begun(name: str, folder: Path) -> subprocess.Popen[bytes]:
    """Start a command that writes to a folder, in a session of its own."""
    (folder / "two.csv").write_text("view,size,count\nA,M,2\n", encoding="utf-8")
    words = [
        str(folder / word) if word in ("m.json", "m.png", "c.csv", "two.csv") else word
        for word in COMMANDS[name]
    ]
    return subprocess.Popen(
        [sys.executable, "-m", "nesting", *words, "--effort", "quick"],
        cwd=ROOT,
        start_new_session=True,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )


def undisturbed(name: str, folder: Path) -> float:
    """Run a command to its end and return how long it took, seconds."""
    start = time.monotonic()
    code = begun(name, folder).wait()
    if code != 0:
        raise SystemExit(f"{name} ends with {code} when nobody kills it")
    return time.monotonic() - start


def faults(folder: Path) -> list[str]:
    """Return what is wrong with the files in a folder."""
    found = []
    for path in sorted(folder.rglob("*")):
        if path.is_dir() or path.name.startswith("."):
            continue
        try:
            if path.suffix == ".png":
                Image.open(path).load()
            elif path.suffix == ".json" and ".cells" not in str(path):
                errors = [
                    f for f in check_marker(read_marker(path)) if f.severity is Severity.ERROR
                ]
                found += [f"{path.name}: {error.sentence}" for error in errors]
            elif not path.read_text(encoding="utf-8").endswith("\n"):
                found.append(f"{path.name} ends in the middle of a line")
        except Exception as problem:
            found.append(f"{path.name}: {problem}")
    return found


def killed(name: str, folder: Path, after_s: float) -> list[str]:
    """Kill a command after some time and return the faults left behind."""
    command = begun(name, folder)
    time.sleep(after_s)
    os.kill(command.pid, signal.SIGKILL)
    command.wait()
    until = time.monotonic() + 20.0
    while (left := of_session(command.pid)) and time.monotonic() < until:
        time.sleep(0.05)
    return [*faults(folder), *(f"process {pid} stays" for pid in left)]


def main() -> None:
    """Read the options, kill, and print the counts."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kills", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    chance, counts = random.Random(options.seed), Counter[str]()
    with tempfile.TemporaryDirectory() as place:
        whole = {name: Path(place) / f"whole-{name}" for name in COMMANDS}
        struck = {name: Path(place) / f"struck-{name}" for name in COMMANDS}
        for folder in (*whole.values(), *struck.values()):
            folder.mkdir()
        took_s = {name: undisturbed(name, folder) for name, folder in whole.items()}
        for number in range(options.kills):
            name = list(COMMANDS)[number % len(COMMANDS)]
            found = killed(name, struck[name], chance.uniform(0.0, took_s[name]))
            counts[name] += 1
            counts["faults"] += len(found)
            for fault in found:
                print(f"FAULT {name}: {fault}", flush=True)
        for name, folder in struck.items():
            undisturbed(name, folder)
            same = {
                path.name: path.read_bytes() == (whole[name] / path.name).read_bytes()
                for path in folder.iterdir()
                if path.suffix in (".csv", ".png")
            }
            counts["differ at the end"] += sum(not equal for equal in same.values())
            print(f"{name}: run again, {same}")
    print(dict(counts))


if __name__ == "__main__":
    main()
