"""``nesting catalogue``: every sheet of a folder in one table and one page."""

import csv
import os
import shutil
import sys
from html.parser import HTMLParser
from pathlib import Path

import pytest

from tests.nesting.cli.conftest import QUICK, Nesting

# The tote takes 110 cm of 50 cm cloth and 60 cm of 100 cm cloth: see test_chart_command.
CATALOGUE = ("catalogue", "sheets", "--out", "c.csv", "--width", "50cm", "--width", "100cm")
CALL = (*CATALOGUE, "--nap", "with", *QUICK)


@pytest.fixture(autouse=True)
def sheets(folder: Path) -> Path:
    """Return a folder with one good sheet, and a file that is none."""
    made = folder / "sheets"
    made.mkdir()
    shutil.copy(folder / "tote.toml", made / "tote.toml")
    (made / "notes.txt").write_text("no pattern", encoding="utf-8")
    return made


def lines_of(path: Path) -> list[dict[str, str]]:
    """Return the lines of the table."""
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_each_cell_is_that_of_the_chart(nesting: Nesting, folder: Path) -> None:
    """The lines are those of ``nesting chart``, with the sheet before them."""
    answer = nesting(*CALL)
    widths = ("--width", "50cm", "--width", "100cm", "--nap", "with")
    nesting("chart", "tote.toml", *widths, *QUICK, "--csv", "one.csv")

    told, chart = lines_of(folder / "c.csv"), lines_of(folder / "one.csv")
    assert answer.code == 0
    assert [line["shop_length_mm"] for line in told] == ["1100.0", "600.0"]
    assert [{name: line[name] for name in chart[0]} for line in told] == chart
    assert {line["sheet"] for line in told} == {"tote.toml"}


def test_a_second_run_lays_nothing_and_writes_the_same(nesting: Nesting, folder: Path) -> None:
    """It says so, in words and in figures; a new width is all that is laid after it."""
    first = nesting(*CALL)
    table = (folder / "c.csv").read_bytes()
    again = nesting(*CALL)
    wider = nesting(*CALL, "--width", "120cm", "--json").json

    assert "laid 2 of 2 cells, 0 were there" in first.out
    assert "laid 0 of 2 cells, 2 were there" in again.out
    assert (folder / "c.csv").read_bytes().startswith(table)
    assert (wider["laid"], wider["cells"]) == (1, 3)


def test_a_bad_sheet_has_its_reason_and_the_others_are_done(
    nesting: Nesting, folder: Path, sheets: Path
) -> None:
    """A line in the table and on the page, a sentence, and exit code 2."""
    (sheets / "a<b.toml").write_text("this is no sheet", encoding="utf-8")

    answer = nesting(*CALL)

    bad, *good = lines_of(folder / "c.csv")
    page = (folder / "c.html").read_text(encoding="utf-8")
    assert answer.code == 2
    assert bad["sheet"] == "a<b.toml"
    assert bad["reason"]
    assert bad["reason"] in answer.err
    assert [line["shop_length_mm"] for line in good] == ["1100.0", "600.0"]
    assert "a&lt;b.toml" in page
    assert "a<b.toml" not in page


def test_a_name_that_is_no_text_costs_one_row(nesting: Nesting, folder: Path, sheets: Path) -> None:
    """The name is shown in codes, the reason beside it, and the rest of the table is there."""
    try:
        shutil.copy(folder / "tote.toml", os.path.join(os.fsencode(sheets), b"b\xe4g.toml"))
    except OSError:
        pytest.skip("needs a folder that takes names in any code")

    answer = nesting(*CALL)

    bad, *good = lines_of(folder / "c.csv")
    assert answer.code == 2
    assert bad["sheet"] == "b\\xe4g.toml"
    assert "not text in UTF-8; rename it" in bad["reason"]
    assert [line["shop_length_mm"] for line in good] == ["1100.0", "600.0"]
    assert "b\\xe4g.toml" in (folder / "c.html").read_text(encoding="utf-8")
    assert nesting("lay", "tote.toml", *QUICK, "--width", "1m", "--out", "\udce4.json").code == 2


def test_the_page_needs_nothing_but_itself(nesting: Nesting, folder: Path) -> None:
    """Least and most, a link to the table, no script, and every tag closed."""
    nesting(*CALL)
    page = (folder / "c.html").read_text(encoding="utf-8")
    seen: list[str] = []
    links: list[str | None] = []

    class Reader(HTMLParser):
        def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
            if tag not in {"meta", "br"}:
                seen.append(tag)
            links.extend(value for name, value in attrs if name in {"href", "src"})

        def handle_endtag(self, tag: str) -> None:
            assert seen.pop() == tag

    Reader().feed(page)
    assert seen == []
    assert links == ["c.csv"]
    assert "<script" not in page
    assert page.index("60 cm (") < page.index("1.10 m (")


def test_the_table_as_parquet(nesting: Nesting, folder: Path, sheets: Path) -> None:
    """The words of the CSV, and its figures as numbers; a bad sheet has none."""
    parquet = pytest.importorskip("pyarrow.parquet", reason="Apache Arrow is not here")
    (sheets / "bad.toml").write_text("this is no sheet", encoding="utf-8")
    nesting(*CALL)

    answer = nesting(*[word.replace("c.csv", "c.parquet") for word in CALL], "--resume", "c.cells")

    rows = parquet.read_table(folder / "c.parquet").to_pylist()
    plain = [{name: "" if it is None else str(it) for name, it in row.items()} for row in rows]
    assert "laid 0 of 2 cells" in answer.out
    assert [row["shop_length_mm"] for row in rows] == [None, 1100.0, 600.0]
    assert plain == lines_of(folder / "c.csv")
    assert "c.parquet" in (folder / "c.html").read_text(encoding="utf-8")


def test_parquet_without_its_library(nesting: Nesting, monkeypatch: pytest.MonkeyPatch) -> None:
    """Said before anything is laid, with both ways out."""
    monkeypatch.setitem(sys.modules, "pyarrow", None)

    answer = nesting(*[word.replace("c.csv", "c.parquet") for word in CALL])

    assert answer.code == 2
    assert "install it with: pip install" in answer.err
    assert "ends in .csv" in answer.err
    assert not Path("c.cells").exists()


def test_a_page_that_cannot_be_written_is_refused_before_the_work(
    nesting: Nesting, folder: Path
) -> None:
    """A folder stands where the page is to come."""
    (folder / "c.html").mkdir()

    answer = nesting(*CALL)

    assert answer.code == 2
    assert "--out: c.html is a folder" in answer.err
    assert not (folder / "c.cells").exists()


def test_a_sheet_no_width_serves(nesting: Nesting, folder: Path) -> None:
    """Lines with refusals, and exit code 2."""
    answer = nesting("catalogue", "sheets", "--out", "c.csv", "--width", "30cm", *QUICK)

    assert answer.code == 2
    assert all("40 cm across" in line["refusal"] for line in lines_of(folder / "c.csv"))


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        (("catalogue", "missing", "--out", "c.csv"), "FOLDER: missing is not a folder"),
        (("catalogue", "empty", "--out", "c.csv"), "FOLDER: empty has no pattern sheet"),
        ((*CALL, "--selvage", "5"), "--selvage:"),
        ((*CALL, "--units", "metric"), "--units: the first --width says it already"),
        (("catalogue", "sheets", "--out", "c.txt"), "--out: c.txt must end in .csv or .parquet"),
    ],
)
def test_bad_input_writes_nothing(
    nesting: Nesting, folder: Path, typed: tuple[str, ...], told: str
) -> None:
    """Exit code 2, one sentence, no file."""
    (folder / "empty").mkdir()

    answer = nesting(*typed)

    assert answer.code == 2
    assert told in answer.err
    assert not (folder / "c.csv").exists()
    assert not (folder / "c.html").exists()
