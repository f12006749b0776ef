"""Guard of speed: fixed work of each hot part, timed against a reference in the same run.

Run from the checkout: ``python tests/bench/speed_guard.py [--rounds 9] [--keep] [--slower PART]``.
Every round times the reference and each part in turn, in seconds of this process; a part's ratio
is the median over rounds of its time over that of the reference, so that a slower or busy computer
changes it little. Ratios more than a fifth above the newest of ``speed_guard.json`` are told, and
the exit code is then 1. ``--keep`` adds the ratios to that file. ``--slower`` gives one part a
quarter more work, to see the guard speak. Only demo patterns are needed. Not run by pytest.
"""

import argparse
import json
import platform
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import date
from functools import partial
from importlib.metadata import version
from pathlib import Path

import numba
import numpy as np

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from nesting.checks import check_marker
from nesting.cloth.bolt import Bolt
from nesting.draw import draw_marker
from nesting.engine import Strip, StripItem, warm_up
from nesting.engine.explore import Explorer, explore
from nesting.engine.fill import fill
from nesting.engine.layout import layout_of_fill
from nesting.engine.orders import sensible_orders
from nesting.engine.prepared import prepare
from nesting.lay import LayRequest, SearchOptions, lay_pieces
from nesting.marker.cut_list import Selection
from pieces.sheet.pattern_file import read_pattern

HISTORY = Path(__file__).with_suffix(".json")
MOST_ABOVE = 0.20
LIBRARIES = ("numpy", "numba", "scipy", "shapely", "matplotlib")
SORTED = np.random.default_rng(1).random(1_600_000)

Work = Callable[[int], object]
"""Does so many hundredths of the part's usual work."""


@numba.njit(cache=False)
def hop(steps: int) -> float:
    """Return the end of a long walk of plain float sums, each of which needs the last."""
    x = 0.5
    for _ in range(steps):
        x = 3.7 * x * (1.0 - x)
    return x


def reference() -> None:
    """Do what this program never changes: compiled float sums, and a sort of numpy."""
    hop(32_000_000)
    np.sort(SORTED)


def shirts() -> Strip:
    """Return the shell of three smock shirts and two waistcoats as one strip."""
    items = []
    for name, copies in (("smock_shirt", 3), ("waistcoat", 2)):
        pattern = read_pattern(ROOT / "demo" / f"{name}.toml")
        for piece in pattern.pieces:
            wanted = sum(cut.count for cut in piece.cuts if cut.cloth == "shell")
            if wanted:
                outline = piece.shapes["M"].outline_mm[:, ::-1] * (1.0, -1.0)  # arrow along x
                items.append(
                    StripItem(
                        name=f"{name} {piece.name}",
                        outline=outline,
                        quantity=copies * wanted,
                        turns_deg=(0.0, 180.0),
                    )
                )
    return Strip(width=1500.0, items=tuple(items))


def parts(folder: Path) -> dict[str, Work]:
    """Return the hot parts, each ready to work."""
    strip = shirts()
    prepared = prepare(strip)
    orders = sensible_orders(prepared)
    start = layout_of_fill(prepared, fill(prepared, orders[0]))
    request = LayRequest(
        pattern=read_pattern(ROOT / "demo" / "waistcoat.toml"),
        selections=(Selection("A", "M", 2),),
        cloth="shell",
        bolt=Bolt(width_mm=1143.0),
        search=SearchOptions("quick", workers=1),
    )
    marker = lay_pieces(request).marker

    def times(count: int, work: Callable[[], object]) -> Work:
        return lambda share: [work() for _ in range(round(count * share / 100))]

    return {
        "no-fit polygons": times(NO_FIT, lambda: prepare(strip)),
        "fill": times(FILLS, lambda: fill(prepared, orders[0])),
        "separation": lambda share: explore(
            prepared, Explorer(start), seed=(1,), moves=MOVES * share // 100, seconds=None
        ),
        "check": times(CHECKS, lambda: check_marker(marker)),
        "drawing": times(DRAWINGS, lambda: draw_marker(marker, folder / "m.svg")),
    }


NO_FIT, FILLS, MOVES, CHECKS, DRAWINGS = 4, 8, 12_000, 20, 4


def timed_s(work: Callable[[], object]) -> float:
    """Return how many seconds of this process a piece of work takes."""
    began = time.process_time()
    work()
    return time.process_time() - began


def ratios(rounds: int, slower: str | None) -> dict[str, list[float]]:
    """Return for each part its time over that of the reference, round by round."""
    with tempfile.TemporaryDirectory() as folder:
        works = parts(Path(folder))
        for work in works.values():
            work(100)
        reference()
        found: dict[str, list[float]] = {name: [] for name in works}
        for _ in range(rounds):
            for name, work in works.items():
                before_s = timed_s(reference)
                share = 125 if name == slower else 100
                took_s = timed_s(partial(work, share))
                around_s = (before_s + timed_s(reference)) / 2
                found[name].append(took_s / around_s)
    return found


def history() -> list[dict[str, object]]:
    """Return what was kept, oldest first."""
    return json.loads(HISTORY.read_text(encoding="utf-8")) if HISTORY.exists() else []


def kept(medians: dict[str, float]) -> None:
    """Add the ratios to the history, with what they rest on."""
    commit = subprocess.run(
        ["git", "rev-parse", "--short", "HEAD"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    one = {
        "date": date.today().isoformat(),
        "commit": commit.stdout.strip(),
        "python": platform.python_version(),
        **{name: version(name) for name in LIBRARIES},
        "ratios": {name: round(ratio, 4) for name, ratio in medians.items()},
    }
    HISTORY.write_text(json.dumps([*history(), one], indent=1) + "\n", encoding="utf-8")


def main() -> int:
    """Time, compare, and say what has become slower."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=9)
    parser.add_argument("--keep", action="store_true")
    parser.add_argument("--slower", metavar="PART")
    options = parser.parse_args()
    warm_up()
    found = ratios(options.rounds, options.slower)
    old = history()
    before: dict[str, float] = old[-1]["ratios"] if old else {}  # type: ignore[assignment]
    print("| Part | Over the reference | Middle half of the rounds | Before | Change |")
    print("|---|---:|---:|---:|---:|")
    medians, slower = {}, []
    for name, all_rounds in found.items():
        medians[name] = ratio = statistics.median(all_rounds)
        low, _, high = statistics.quantiles(all_rounds, n=4)
        change = ratio / before[name] - 1.0 if name in before else 0.0
        told = f"{before[name]:.3f} | {100 * change:+.0f} %" if name in before else "- | -"
        print(f"| {name} | {ratio:.3f} | {low:.3f} to {high:.3f} | {told} |")
        if change > MOST_ABOVE:
            slower.append(f"{name} takes {100 * change:.0f} % longer than before")
    print("\n".join(slower) or "nothing takes more than a fifth longer than before")
    if options.keep:
        kept(medians)
    return 1 if slower else 0


if __name__ == "__main__":
    raise SystemExit(main())
