"""``nesting shop``: a list for people and machines, files all or none, and clear refusals."""

import csv
from pathlib import Path

import pytest

from pieces.sheet.pattern_file import write_pattern
from tests.nesting.cli.conftest import QUICK, Nesting
from tests.nesting.small_shop import bag

SHELL, LINING = "shell 100cm €12.35/m of canvas", "lining 50cm €8/m"
BAG = ("shop", "bag.toml", "--view", "B", *QUICK)
BOTH = ("--bolt", SHELL, "--bolt", LINING)


@pytest.fixture(autouse=True)
def sheet(folder: Path) -> None:
    """Put the bag's pattern sheet into the folder."""
    write_pattern(bag(), folder / "bag.toml")


def test_the_table_shows_lengths_prices_notions_and_cautions(nesting: Nesting) -> None:
    """50 cm of shell at 6.18, 1 m of lining at 8.00, as its own tests reckon."""
    answer = nesting(*BAG, *BOTH)
    lines = [line.split() for line in answer.out.splitlines()]

    assert answer.code == 0
    assert next(line for line in lines if line[:1] == ["shell"])[1:3] == ["50", "cm"]
    assert next(line for line in lines if line[:1] == ["lining"])[1:3] == ["1.00", "m"]
    for words in ("€ 6.18", "€ 8.00", "Together: € 14.18, without notions", "15 mm, 9/16 in, 24 l"):
        assert words in answer.out
    assert "Test for nap" in answer.out
    assert "Pins are sharp." in answer.out


def test_the_list_in_french(nesting: Nesting, folder: Path) -> None:
    """Headings, widths and figures; what the sheet says stays as it is written there."""
    answer = nesting(*BAG, *BOTH, "--language", "fr", "--markdown", "a.md", "--pdf", "a.pdf")
    text = (folder / "a.md").read_text(encoding="utf-8")

    for words in ("Demandez", "Mercerie", "Avant de couper", "€ 14,18"):
        assert words in text
    assert "Demandez" in answer.out
    assert "Pins are sharp." in answer.out
    assert (folder / "a.pdf").read_bytes().startswith(b"%PDF")


def test_json_is_one_object_and_nothing_else(nesting: Nesting) -> None:
    """Each cloth has the fields of a lay."""
    answer = nesting(*BAG, *BOTH, "--json")

    assert [cloth["shop_length_mm"] for cloth in answer.json["cloths"]] == [500.0, 1000.0]
    assert answer.json["totals"] == [{"currency": "€", "amount": "14.18"}]
    assert answer.json["cloths"][0]["is_suggested"] is True


def test_several_garments_share_their_cloth(nesting: Nesting) -> None:
    """Two lined bags and one plain: six sides of 400 x 500 in pairs on 1 m are 1.5 m of shell."""
    answer = nesting(*BAG, *BOTH, "--garments", "2", "--also", "A M", "--json").json

    assert answer["garments"] == [
        {"view": "B", "size": "M", "garments": 2},
        {"view": "A", "size": "M", "garments": 1},
    ]
    assert [cloth["shop_length_mm"] for cloth in answer["cloths"]] == [1500.0, 2000.0]
    assert answer["notions"][0]["count"] == 9


def test_files_are_written(nesting: Nesting, folder: Path) -> None:
    """CSV, Markdown and a PDF of one page."""
    answer = nesting(*BAG, *BOTH, "--csv", "a.csv", "--markdown", "a.md", "--pdf", "a.pdf")

    assert answer.code == 0
    with (folder / "a.csv").open(encoding="utf-8", newline="") as file:
        assert [row["name"] for row in csv.DictReader(file)][:2] == ["shell", "lining"]
    assert "Together: € 14.18" in (folder / "a.md").read_text(encoding="utf-8")
    page = (folder / "a.pdf").read_bytes()
    assert page.startswith(b"%PDF")
    assert page.count(b"/Type /Page\n") + page.count(b"/Type /Page ") == 1
    for name in ("a.csv", "a.md", "a.pdf"):
        assert f"Written: {name}" in answer.out


def test_files_are_written_all_or_none(nesting: Nesting, folder: Path) -> None:
    """A file that cannot be put in its place keeps the others from appearing as well."""
    answer = nesting(*BAG, *BOTH, "--csv", "a.csv", "--pdf", "missing/a.pdf")

    assert answer.code == 2
    assert "--pdf: folder" in answer.err
    assert sorted(path.name for path in folder.iterdir()) == ["bag.toml", "tote.toml"]


def test_thread_settings_change_the_estimate(nesting: Nesting) -> None:
    """3,600 mm of seam at 4 to 1 without waste are 14.4 m."""
    settings = ("--thread-ratio", "4", "--neaten-ratio", "0", "--thread-waste", "0%")

    thread = nesting(*BAG, *BOTH, *settings, "--json").json["notions"][-1]

    assert thread["length_mm"] == pytest.approx(14_400)


def test_a_bolt_the_view_does_not_use_is_noted(nesting: Nesting) -> None:
    """View A is unlined."""
    answer = nesting("shop", "bag.toml", "--view", "A", *QUICK, *BOTH, "--json")

    assert answer.code == 0
    assert "note: these garments take no lining; its bolt is left out" in answer.err
    assert len(answer.json["cloths"]) == 1


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        ((), "--bolt: no bolt for shell and lining; these garments take shell, lining"),
        (("--bolt", SHELL), "--bolt: no bolt for lining; these garments take shell, lining"),
        ((*BOTH, "--bolt", "fur 45in"), 'no cloth "fur" in this pattern'),
        (("--bolt", "shell 45in 12.50", "--bolt", LINING), 'cannot read the price "12.50"'),
        ((*BOTH, "--also", "C M"), 'no view "C" in this pattern'),
        ((*BOTH, "--also", "A XL"), 'no size "XL" in this pattern'),
        ((*BOTH, "--garments", "0"), "--garments: 0 is out of range"),
        ((*BOTH, "--thread-ratio", "0.5"), "thread over seam is 0.5; it must be from 1 to 30"),
        ((*BOTH, "--thread-waste", "15"), '--thread-waste: "15" is not from 0% to 100%'),
        ((*BOTH, "--thread-waste", "x%"), '--thread-waste: "x%" is not from 0% to 100%'),
        ((*BOTH, "--csv", "list.txt"), "--csv: list.txt must end in .csv"),
        ((*BOTH, "--markdown", "list.txt"), "--markdown: list.txt must end in .md"),
        ((*BOTH, "--pdf", "list.png"), "--pdf: list.png must end in .pdf"),
        (("--bolt", SHELL, "--bolt", "lining 30cm"), 'lining: piece "Inside", size M, needs'),
    ],
)
def test_bad_input_is_refused_in_one_line(
    nesting: Nesting, folder: Path, arguments: tuple[str, ...], sentence: str
) -> None:
    """Exit code 2, one line on standard error, nothing on standard output, no file."""
    answer = nesting(*BAG, *arguments)

    assert answer.code == 2
    assert sentence in answer.err
    assert answer.err.count("\n") == 1
    assert answer.out == ""
    assert len(list(folder.iterdir())) == 2


def test_a_view_must_be_chosen(nesting: Nesting) -> None:
    """The bag has two."""
    answer = nesting("shop", "bag.toml", *QUICK, *BOTH)

    assert answer.code == 2
    assert '"Bag | of the stage" has several views; choose one of A, B' in answer.err
