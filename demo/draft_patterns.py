"""Draft the four demo patterns and write their sheets beside this file.

Run it from the root of the repository: ``python -m demo.draft_patterns``. The same measurements
give the same four files, letter for letter.
"""

from collections.abc import Callable, Mapping
from pathlib import Path
from types import MappingProxyType

from demo import cloak_sheet, knapsack_sheet, smock_sheet, waistcoat_sheet
from pieces.pattern import Pattern
from pieces.sheet.pattern_file import write_pattern

SHEETS: Mapping[str, Callable[[], Pattern]] = MappingProxyType(
    {
        "waistcoat.toml": waistcoat_sheet.pattern,
        "smock_shirt.toml": smock_sheet.pattern,
        "cloak.toml": cloak_sheet.pattern,
        "knapsack.toml": knapsack_sheet.pattern,
    }
)
"""What draws each sheet, by file name."""


def write_sheets(folder: Path) -> tuple[Path, ...]:
    """Draft every pattern, write it into ``folder`` and return the paths written."""
    paths = tuple(folder / name for name in SHEETS)
    for path, draw in zip(paths, SHEETS.values(), strict=True):
        write_pattern(draw(), path)
    return paths


if __name__ == "__main__":
    write_sheets(Path(__file__).parent)
