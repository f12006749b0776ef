"""Let Inkscape, where it is installed, write the drawing that the tests read."""

import shutil
import subprocess
from pathlib import Path

from tests.places import DATA

SEED = DATA / "apron_seed.svg"
DRAWN = DATA / "apron_by_inkscape.svg"
_ACTIONS = (
    "select-by-id:r1,c1;object-to-path;select-clear;"
    "select-by-id:g2;transform-rotate:90;select-clear;"
    "select-by-id:g1;transform-translate:10,5;export-filename:{out};export-do"
)


def find_inkscape() -> str | None:
    """Return the path of the program, or None."""
    return shutil.which("inkscape")


def draw_apron(program: str, out: Path) -> None:
    """Have Inkscape turn, move and save the seed as ``out``."""
    subprocess.run(
        [program, str(SEED), f"--actions={_ACTIONS.format(out=out)}"],
        check=True,
        capture_output=True,
        timeout=120,
    )
