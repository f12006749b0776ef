"""``nesting import`` and ``nesting export``: a way there and back, and no half-written files."""

from pathlib import Path

import pytest

from pieces.sheet.pattern_file import read_pattern
from tests.nesting.cli.conftest import QUICK, Nesting
from tests.pieces.drawing.drawings import largest_deviation_mm, svg

SHAPE = "skirt: circle-skirt; waist 26in; length 25in; part half; seam 1cm; cut 1 shell"


@pytest.mark.parametrize("kind", ["svg", "dxf"])
def test_a_pattern_goes_out_and_comes_back(nesting: Nesting, folder: Path, kind: str) -> None:
    """The sheet read from the drawing is the sheet that was drawn."""
    out = nesting("export", "tote.toml", "--out", f"tote.{kind}")
    back = nesting("import", f"tote.{kind}", "--out", "back.toml", "--json")

    assert (out.code, back.code) == (0, 0), out.err + back.err
    first, second = read_pattern(folder / "tote.toml"), read_pattern(folder / "back.toml")
    assert largest_deviation_mm(first, second) < 1e-6
    assert back.json["pattern"] == first.name
    assert [(row["wide_mm"], row["tall_mm"]) for row in back.json["pieces"]] == [
        (400, 500),
        (100, 600),
    ]


def test_a_marker_goes_out(nesting: Nesting, folder: Path) -> None:
    """One shape for each of the four placements of the tote."""
    nesting("lay", "tote.toml", "--width", "1m", "--out", "marker.json", *QUICK)

    answer = nesting("export", "marker.json", "--out", "marker.dxf", "--json")

    assert answer.code == 0
    assert len(answer.json["shapes"]) == 4
    assert (folder / "marker.dxf").exists()


def test_measures_make_a_sheet_that_can_be_laid(nesting: Nesting) -> None:
    """And the answer tells its size: 2 times the outer radius across, and a seam each side."""
    answer = nesting("import", "--shape", SHAPE, "--out", "skirt.toml", "--json")

    # radius 26 / pi + 25 = 33.276 in = 845.21 mm; twice that and two seams of 10; at its corners
    # the seam follows the chords of the hem, a sixth of a mm outside the curve
    assert answer.json["pieces"][0]["wide_mm"] == pytest.approx(2 * 845.21 + 20, abs=0.4)
    assert nesting("lay", "skirt.toml", "--width", "2m", *QUICK).code == 0


def test_only_one_size_may_be_drawn(nesting: Nesting) -> None:
    """One that the pattern does not have is refused."""
    assert nesting("export", "tote.toml", "--out", "a.svg", "--size", "one").code == 0
    assert nesting("export", "tote.toml", "--out", "b.svg", "--size", "XXL").code == 2


REFUSED = {
    "neither": ["import", "--out", "a.toml"],
    "both": ["import", "a.svg", "--shape", SHAPE, "--out", "a.toml"],
    "no output": ["import", "a.svg"],
    "no drawing": ["import", "missing.svg", "--out", "a.toml"],
    "another ending": ["import", "tote.toml", "--out", "a.toml"],
    "output of another kind": ["import", "bad.svg", "--out", "a.json"],
    "a broken drawing": ["import", "bad.svg", "--out", "a.toml"],
    "a missing map": ["import", "good.svg", "--map", "m.toml", "--out", "a.toml"],
    "an unknown unit": ["import", "good.svg", "--units", "ell", "--out", "a.toml"],
    "a dialect for SVG": ["import", "good.svg", "--dialect", "standard", "--out", "a.toml"],
    "a name for a drawing": ["import", "good.svg", "--name", "x", "--out", "a.toml"],
    "units for measures": ["import", "--shape", SHAPE, "--units", "mm", "--out", "a.toml"],
    "a shape nobody knows": ["import", "--shape", "a: blob", "--out", "a.toml"],
    "a shape without a name": ["import", "--shape", "rectangle", "--out", "a.toml"],
    "an entry nobody knows": ["import", "--shape", "a: circle; size 3", "--out", "a.toml"],
    "an angle that is none": [
        "import", "--shape", "a: ring; inner 1cm; outer 2cm; angle wide", "--out", "a.toml",
    ],
    "the same name twice": ["import", "--shape", SHAPE, "--shape", SHAPE, "--out", "a.toml"],
    "a drawing of another kind": ["export", "tote.toml", "--out", "a.png"],
    "a size of a marker": ["export", "m.json", "--size", "M", "--out", "a.svg"],
    "a missing sheet": ["export", "missing.toml", "--out", "a.svg"],
}  # fmt: skip


@pytest.mark.parametrize("what", REFUSED)
def test_bad_input_is_refused(nesting: Nesting, folder: Path, what: str) -> None:
    """Exit 2, one sentence, nothing written."""
    (folder / "bad.svg").write_bytes(svg("<script/>"))
    (folder / "good.svg").write_bytes(svg('<rect width="90" height="90"/>'))

    answer = nesting(*REFUSED[what])

    assert answer.code == 2, answer.out
    assert answer.out == ""
    assert len(answer.err.splitlines()) == 1, answer.err
    assert {path.name for path in folder.iterdir()} == {"tote.toml", "bad.svg", "good.svg"}
