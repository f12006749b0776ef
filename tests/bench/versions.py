"""Lay the demo patterns with the libraries at hand, and print a row of lengths with versions.

Run from the checkout: ``python tests/bench/versions.py``, once in each environment that is to be
compared. Quick effort, seed 1, one worker, so the lengths do not depend on the computer's speed.
Not run by pytest.
"""

import platform
import sys
from importlib.metadata import version
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from nesting.cloth.bolt import Bolt
from nesting.lay import LayRequest, SearchOptions, lay_pieces
from nesting.marker.cut_list import Selection
from pieces.sheet.pattern_file import read_pattern

LIBRARIES = ("numpy", "scipy", "numba", "shapely", "pyclipper")
PATTERNS = ("waistcoat", "smock_shirt", "cloak", "knapsack")


def marker_length_mm(name: str) -> float:
    """Return the length of the marker of view A, size M, shell, on cloth 150 cm wide with nap."""
    pattern = read_pattern(ROOT / "demo" / f"{name}.toml")
    request = LayRequest(
        pattern=pattern,
        selections=(Selection("A", "M"),),
        cloth="shell",
        bolt=Bolt(width_mm=1500.0, nap=True),
        search=SearchOptions("quick", workers=1),
    )
    return lay_pieces(request).marker_length_mm


def main() -> None:
    """Print a row in Markdown, below its heading."""
    told = [platform.python_version(), *(version(name) for name in LIBRARIES)]
    lengths = [f"{marker_length_mm(name):.3f}" for name in PATTERNS]
    print("| Python | " + " | ".join([*LIBRARIES, *PATTERNS]) + " |")
    print("|---" * (1 + len(LIBRARIES)) + "|---:" * len(PATTERNS) + "|")
    print("| " + " | ".join([*told, *lengths]) + " |")


if __name__ == "__main__":
    main()
