"""``nesting chart``: the table, its files, and a run that goes on where it was."""

import json
from pathlib import Path

import pytest

from tests.nesting.cli.conftest import QUICK, Nesting

# The tote takes 110 cm of 50 cm cloth and 60 cm of 100 cm cloth, with nap as without: see
# test_compare_command.
CHART = ("chart", "tote.toml", "--width", "50cm", "--width", "100cm", *QUICK)


def test_each_cell_is_the_figure_of_lay(nesting: Nesting) -> None:
    """Both widths, with nap and without."""
    rows = nesting(*CHART, "--json").json["rows"]

    assert [(row["width_mm"], row["nap"], row["shop_length_mm"]) for row in rows] == [
        (500.0, "without", 1100.0),
        (500.0, "with", 1100.0),
        (1000.0, "without", 600.0),
        (1000.0, "with", 600.0),
    ]
    alone = nesting("lay", "tote.toml", "--width", "50cm", "--nap", "with", *QUICK, "--json").json
    assert {name: rows[1][name] for name in alone if name != "seconds"} == {
        name: alone[name] for name in alone if name != "seconds"
    }


def test_the_table_has_a_line_for_each_bolt(nesting: Nesting) -> None:
    """Width, nap, and what to ask for under the size."""
    answer = nesting(*CHART, "--nap", "with")

    lines = [line.split() for line in answer.out.splitlines()]
    assert answer.code == 0
    assert ["50", "cm", "with", "1.10", "m", "(43.31", "in)"] in lines
    assert ["100", "cm", "with", "60", "cm", "(23.63", "in)"] in lines
    assert "--resume FOLDER" in answer.err


def test_all_files_are_written_and_cells_kept_beside(nesting: Nesting, folder: Path) -> None:
    """CSV, Markdown and picture, and a folder named after the first of them."""
    files = ("--csv", "c.csv", "--markdown", "c.md", "--draw", "c.svg")
    answer = nesting(*CHART, *files)

    assert answer.code == 0
    assert "1100.0" in (folder / "c.csv").read_text(encoding="utf-8")
    assert "1.10 m (43.31 in)" in (folder / "c.md").read_text(encoding="utf-8")
    assert (folder / "c.svg").read_bytes().lstrip().startswith(b"<")
    assert len(list((folder / "c.cells").glob("*.json"))) == 4


def test_a_kept_cell_is_believed(nesting: Nesting, folder: Path) -> None:
    """A second run reads the cells: one whose search is said to have taken a day still says so."""
    nesting(*CHART, "--resume", "kept")
    for path in (folder / "kept").iterdir():
        cell = json.loads(path.read_text(encoding="utf-8"))
        cell["laid"]["seconds"] = 86_400.0
        path.write_text(json.dumps(cell), encoding="utf-8")

    rows = nesting(*CHART, "--resume", "kept", "--json").json["rows"]

    assert {row["seconds"] for row in rows} == {86_400.0}


def test_usual_widths_follow_the_sheet_or_the_units(nesting: Nesting) -> None:
    """The sheet is in centimetres: 90, 115, 140, 150; in inches 36, 45, 54, 60."""
    usual = ("chart", "tote.toml", "--nap", "with", *QUICK, "--json")

    metric = [row["width_mm"] for row in nesting(*usual).json["rows"]]
    imperial = [row["width_mm"] for row in nesting(*usual, "--units", "imperial").json["rows"]]

    assert metric == [900.0, 1150.0, 1400.0, 1500.0]
    assert imperial == pytest.approx([914.4, 1143.0, 1371.6, 1524.0])


def test_no_width_serves(nesting: Nesting) -> None:
    """Every cell refused: the input is bad, and the reason is told."""
    answer = nesting("chart", "tote.toml", "--width", "30cm", *QUICK)

    assert answer.code == 2
    assert 'piece "Body", size one, needs 40 cm across the cloth' in answer.out


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        (("--view", "Z"), 'no view "Z"'),
        (("--size", "XL"), 'no size "XL"'),
        (("--size", "one", "--size", "one"), "a size stands twice"),
        (("--cloth", "lining"), 'no cloth "lining"'),
        (("--units", "metric"), "--units: the first --width says it already"),
        (("--width", "50"), "--width:"),
        (("--seed", "-1"), "--seed:"),
        (("--csv", "c.txt"), "--csv: c.txt must end in .csv"),
        (("--draw", "c.bmp"), "--draw: c.bmp must end in"),
        (("--resume", "missing/kept"), "--resume: folder missing/kept cannot be made"),
        (("--resume", "tote.toml"), "--resume: folder tote.toml cannot be made"),
    ],
)
def test_bad_input_is_one_sentence(nesting: Nesting, typed: tuple[str, ...], told: str) -> None:
    """Exit code 2, and what was wrong."""
    answer = nesting(*CHART, *typed)

    assert answer.code == 2
    assert told in answer.err
    assert "Traceback" not in answer.err
