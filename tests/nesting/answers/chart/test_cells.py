"""Cells: kept when done, read instead of laid, and laid anew when anything changed."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import pytest

from nesting.answers.chart.cell_file import cell_name, format_cell, parse_cell
from nesting.answers.chart.cells import cell_pool, lay_cells
from nesting.answers.compare import CompareRow
from nesting.cloth.spread import Spread
from nesting.errors import CellFileError, LayStoppedError
from nesting.lay import LayRequest, lay_pieces
from tests.executors import Here
from tests.small_patterns import TRIANGLE, box, piece, request

GARMENT = (
    piece("front", TRIANGLE, count=2, pair=True),
    piece("panel", box(35, 70), count=3),
    piece("back", box(30, 80, on_fold=True)),
)


def on(width_mm: float, spread: Spread = Spread.OPEN) -> LayRequest:
    """Return the garment on a bolt."""
    return request(*GARMENT, width_mm=width_mm, spread=spread)


@pytest.mark.parametrize("spread", list(Spread))
def test_a_cell_comes_back_as_it_was(spread: Spread) -> None:
    """Marker, bound, findings and the end of the search are equal after writing and reading."""
    asked = on(160.0, spread)
    row = CompareRow(asked, lay_pieces(asked))

    assert parse_cell(format_cell(row), asked) == row


def test_a_refusal_comes_back_as_it_was() -> None:
    """A piece too wide is a cell with its reason."""
    row = CompareRow(on(20.0), None, 'piece "Panel" is too wide')

    assert parse_cell(format_cell(row), on(20.0)) == row


@pytest.mark.slow
def test_a_pool_gives_what_one_lay_gives() -> None:
    """Processes of their own change nothing about the markers."""
    requests = [on(120.0), on(160.0), on(20.0)]
    with cell_pool(2) as pool:
        rows = lay_cells(requests, pool)

    markers = [None if row.result is None else row.result.marker for row in rows]
    assert markers == [*(lay_pieces(one).marker for one in requests[:2]), None]
    assert "across the cloth" in rows[2].refusal


def test_any_executor_will_do() -> None:
    """Threads give the same as processes."""
    with ThreadPoolExecutor(1) as threads:
        (row,) = lay_cells([on(120.0)], threads)

    assert row.result is not None
    assert row.result.marker == lay_pieces(on(120.0)).marker


def test_what_is_kept_is_not_laid_again(tmp_path: Path) -> None:
    """A second run gives equal rows, refusals too, and computes nothing."""
    requests = [on(120.0), on(160.0), on(20.0)]
    first, second = Here(), Here()

    rows = lay_cells(requests, first, folder=tmp_path)
    again = lay_cells(requests, second, folder=tmp_path)

    assert (first.ran, second.ran) == (3, 0)
    assert again == rows
    assert len(list(tmp_path.iterdir())) == 3


def test_a_killed_run_goes_on_where_it_was(tmp_path: Path) -> None:
    """Switched off after two of four cells, two are left to do."""
    requests = [on(width) for width in (120.0, 130.0, 140.0, 150.0)]
    with pytest.raises(RuntimeError, match="switched off"):
        lay_cells(requests, Here(most=2), folder=tmp_path)
    kept = len(list(tmp_path.iterdir()))
    rest = Here()

    lay_cells(requests, rest, folder=tmp_path)

    assert 0 <= kept <= 2
    assert rest.ran == 4 - kept


def test_stopping_keeps_what_is_done(tmp_path: Path) -> None:
    """Asked to stop at the first word of progress, it raises, and the cell done stays."""
    told: list[tuple[int, int]] = []

    def stop(done: int, of_all: int) -> bool:
        told.append((done, of_all))
        return True

    with pytest.raises(LayStoppedError, match="stopped at your request"):
        lay_cells([on(120.0), on(130.0)], Here(), folder=tmp_path, progress=stop)

    assert told[0][1] == 2
    assert len(list(tmp_path.iterdir())) == told[0][0]


@pytest.mark.parametrize(
    "other",
    [
        on(121.0),
        on(120.0, Spread.LENGTHWISE),
        request(*GARMENT, width_mm=120.0, nap=True),
        request(*GARMENT[:2], width_mm=120.0),
        request(GARMENT[0], replace(GARMENT[1], one_way=True), GARMENT[2], width_mm=120.0),
        replace(on(120.0), search=replace(on(120.0).search, seed=2)),
    ],
)
def test_anything_that_decides_the_lay_changes_the_name(other: LayRequest) -> None:
    """Width, spread, nap, pieces, a flag of one piece, the seed."""
    assert cell_name(on(120.0)) != cell_name(other)
    assert cell_name(on(120.0)) == cell_name(on(120.0))


def test_another_version_lays_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    """A newer program may find a shorter marker."""
    before = cell_name(on(120.0))
    monkeypatch.setattr("nesting.answers.chart.cell_file.__version__", "9.9")

    assert cell_name(on(120.0)) != before


@pytest.mark.parametrize("text", ["", "{", "{}", '{"kind": "marker", "version": 1}'])
def test_a_spoilt_cell_is_named(tmp_path: Path, text: str) -> None:
    """Nobody guesses what a spoilt file meant; the sentence says which one to remove."""
    path = tmp_path / cell_name(on(120.0))
    path.write_text(text, encoding="utf-8")

    with pytest.raises(CellFileError, match=rf"{path.name}.*remove this file"):
        lay_cells([on(120.0)], Here(), folder=tmp_path)


def test_a_tampered_cell_is_found_out(tmp_path: Path) -> None:
    """The marker of a kept cell is checked anew: a piece moved onto another is an overlap."""
    lay_cells([on(120.0)], Here(), folder=tmp_path)
    (path,) = tmp_path.iterdir()
    row = parse_cell(path.read_text(encoding="utf-8"), on(120.0))
    assert row.result is not None
    first, second = row.result.marker.placements[:2]
    moved = replace(second, x_mm=first.x_mm, y_mm=first.y_mm)
    marker = replace(
        row.result.marker, placements=(first, moved, *row.result.marker.placements[2:])
    )
    path.write_text(
        format_cell(replace(row, result=replace(row.result, marker=marker))), encoding="utf-8"
    )

    (tampered,) = lay_cells([on(120.0)], Here(), folder=tmp_path)

    assert tampered.result is not None
    assert "overlap" in {finding.code for finding in tampered.result.findings}
