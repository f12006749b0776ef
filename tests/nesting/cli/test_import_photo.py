"""``nesting import`` of photographs, its pages of marks and its previews."""

from pathlib import Path

import pytest
from PIL import Image

from pieces.sheet.pattern_file import read_pattern
from tests.nesting.cli.conftest import QUICK, Nesting
from tests.pieces.drawing.drawings import svg
from tests.pieces.photo.rendering import jpeg, render
from tests.pieces.photo.shots import small_shot

SHAPE = "body: rectangle; width 40cm; height 50cm; cut 2 shell"


@pytest.fixture(scope="module")
def photo() -> bytes:
    """Return a photograph of a pocket between two pages of marks."""
    return jpeg(render(small_shot()))


def test_a_photograph_becomes_a_sheet_that_can_be_laid(
    nesting: Nesting, folder: Path, photo: bytes
) -> None:
    """With its name, its size and how far it can be trusted; and a preview to look at."""
    (folder / "photo.jpg").write_bytes(photo)

    answer = nesting(
        "import", "photo.jpg", "--piece", "pocket", "--name", "Bag", "--out", "bag.toml",
        "--preview", "seen.png", "--json",
    )  # fmt: skip

    assert answer.code == 0, answer.err
    assert answer.json["pattern"] == "Bag"
    assert [row["piece"] for row in answer.json["pieces"]] == ["pocket"]
    assert 0.0 < answer.json["accuracy"]["error_mm"] < 3.0
    assert answer.json["preview"] == "seen.png"
    with Image.open(folder / "seen.png") as picture:
        assert picture.size[0] == 1200
    assert nesting("lay", "bag.toml", "--width", "1m", *QUICK).code == 0


def test_a_map_tells_what_a_photograph_cannot(nesting: Nesting, folder: Path, photo: bytes) -> None:
    """Titles and cut counts."""
    (folder / "photo.jpg").write_bytes(photo)
    (folder / "map.toml").write_text(
        '[pieces.pocket]\ntitle = "Patch pocket"\ncut.shell = { count = 2, pair = true }\n'
    )

    told = ("--piece", "pocket", "--map", "map.toml")
    answer = nesting("import", "photo.jpg", *told, "--out", "bag.toml")

    assert answer.code == 0, answer.err
    piece = read_pattern(folder / "bag.toml").piece("pocket")
    assert (piece.title, piece.cuts[0].count, piece.cuts[0].pair) == ("Patch pocket", 2, True)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_marks_are_printed(nesting: Nesting, folder: Path, paper: str) -> None:
    """Six pages, a PDF."""
    answer = nesting("import", "--print-marks", "marks.pdf", "--paper", paper, "--json")

    assert answer.json == {"out": "marks.pdf", "pages": 6, "paper": paper}
    assert (folder / "marks.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize("ending", ["png", "svg", "pdf"])
def test_drawings_and_measures_have_previews(nesting: Nesting, folder: Path, ending: str) -> None:
    """Of every kind of picture."""
    nesting("export", "tote.toml", "--out", "tote.svg")

    drawn = nesting("import", "tote.svg", "--out", "a.toml", "--preview", f"drawn.{ending}")
    made = nesting("import", "--shape", SHAPE, "--out", "b.toml", "--preview", f"made.{ending}")

    assert (drawn.code, made.code) == (0, 0), drawn.err + made.err
    assert (folder / f"drawn.{ending}").stat().st_size > 1000
    assert f"made.{ending}" in made.out


REFUSED = {
    "nothing but a picture": ["import", "photo.jpg"],
    "a preview that is no PNG": ["import", "photo.jpg", "--out", "a.toml", "--preview", "a.svg"],
    "units for a photograph": ["import", "photo.jpg", "--units", "mm", "--out", "a.toml"],
    "a dialect for one": ["import", "photo.jpg", "--dialect", "standard", "--out", "a.toml"],
    "a sheet for a drawing": ["import", "a.svg", "--sheet", "a4", "--out", "a.toml"],
    "a grain for measures": ["import", "--shape", SHAPE, "--grain", "90", "--out", "a.toml"],
    "a direction beyond a circle": ["import", "photo.jpg", "--grain", "1e9", "--out", "a.toml"],
    "no direction": ["import", "photo.jpg", "--grain", "nan", "--out", "a.toml"],
    "a sheet nobody knows": ["import", "photo.jpg", "--sheet", "a99", "--out", "a.toml"],
    "no such photograph": ["import", "missing.jpg", "--out", "a.toml"],
    "no photograph at all": ["import", "fake.png", "--out", "a.toml"],
    "a missing sheet": ["import", "photo.jpg", "--sheet", "a4", "--out", "a.toml"],
    "too many names": [
        "import", "photo.jpg", "--piece", "a", "--piece", "b", "--out", "a.toml",
    ],
    "two drawings": ["import", "a.svg", "a.svg", "--out", "a.toml"],
    "a drawing among photographs": ["import", "photo.jpg", "a.svg", "--out", "a.toml"],
    "marks and more": ["import", "a.svg", "--print-marks", "m.pdf"],
    "marks on a roll": ["import", "--print-marks", "m.pdf", "--paper", "36in"],
    "marks on large paper": ["import", "--print-marks", "m.pdf", "--paper", "a3"],
    "marks on any paper": ["import", "--print-marks", "m.pdf", "--paper", "napkin"],
    "marks as a picture": ["import", "--print-marks", "m.png"],
}  # fmt: skip


@pytest.mark.parametrize("what", REFUSED)
def test_bad_input_is_refused(nesting: Nesting, folder: Path, photo: bytes, what: str) -> None:
    """Exit 2, one sentence, nothing written."""
    (folder / "photo.jpg").write_bytes(photo)
    (folder / "fake.png").write_bytes(b"\x89PNG\r\n\x1a\nnonsense")
    (folder / "a.svg").write_bytes(svg('<rect width="90" height="90"/>'))
    before = {path.name for path in folder.iterdir()}

    answer = nesting(*REFUSED[what])

    assert answer.code == 2, answer.out
    assert answer.out == ""
    assert len(answer.err.splitlines()) == 1, answer.err
    assert {path.name for path in folder.iterdir()} == before
