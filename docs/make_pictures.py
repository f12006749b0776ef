"""Make the pictures of README, docs and demo from the demo patterns, from the checkout.

``python docs/make_pictures.py`` writes docs/pictures/. The markers are those of the standard
effort, so the pictures come out the same wherever the same versions run.
"""

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from nesting.cli.app import main

PICTURES = ROOT / "docs" / "pictures"
LAYS = {
    "waistcoat-45-nap": ["waistcoat", "--view", "A", "--width", "45in", "--nap", "with"],
    "waistcoat-45-fold": ["waistcoat", "--view", "A", "--width", "45in", "--nap", "with",
                          "--spread", "lengthwise"],
    "smock-shirt-60": ["smock_shirt", "--view", "A", "--width", "60in"],
    "cloak-150": ["cloak", "--view", "B", "--width", "150cm"],
    "knapsack-45": ["knapsack", "--view", "A", "--width", "45in"],
}  # fmt: skip
COMPARES = {
    "waistcoat-compare": ["waistcoat", "--view", "A", "--width", "45in", "--width", "60in",
                          "--nap", "both"],
}  # fmt: skip
COMMON = ["--size", "M", "--cloth", "shell", "--selvage", "0.5in"]


def make(command: str, name: str, arguments: list[str]) -> None:
    """Run one command and stop if it fails."""
    sheet = str(ROOT / "demo" / f"{arguments[0]}.toml")
    picture = str(PICTURES / f"{name}.png")
    code = main([command, sheet, *arguments[1:], *COMMON, "--draw", picture])
    if code:
        raise SystemExit(code)


if __name__ == "__main__":
    PICTURES.mkdir(parents=True, exist_ok=True)
    for name, arguments in LAYS.items():
        make("lay", name, arguments)
    for name, arguments in COMPARES.items():
        make("compare", name, arguments)
