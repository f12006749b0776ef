"""The marker file: written and read back equal, and refused with a clear word when spoilt."""

import json
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from nesting.errors import MarkerFileError
from nesting.lay import lay_pieces
from nesting.marker import Marker
from nesting.marker_file import format_marker, parse_marker, read_marker, write_marker
from nesting.spread import Spread
from pieces.lengths import Price
from tests.small_patterns import TRIANGLE, box, piece, request


@pytest.fixture(scope="module")
def marker() -> Marker:
    """Return a folded lay with a half piece, a pair and a single piece, on a priced bolt."""
    laid = lay_pieces(
        request(
            piece("back", box(40, 100, on_fold=True)),
            piece("front", TRIANGLE, count=2, pair=True),
            piece("pocket", TRIANGLE),
            width_mm=300.0,
            spread=Spread.LENGTHWISE,
        )
    ).marker
    return replace(laid, bolt=replace(laid.bolt, price=Price("£", Decimal("12.50"), "yd")))


def test_a_marker_read_back_is_equal(marker: Marker, tmp_path: Path) -> None:
    """Every number survives exactly."""
    write_marker(marker, tmp_path / "marker.json")

    assert read_marker(tmp_path / "marker.json") == marker
    assert [path.name for path in tmp_path.iterdir()] == ["marker.json"]


def remove(key: str) -> Callable[[dict[str, Any]], None]:
    """Return a change that takes a key out."""
    return lambda sheet: sheet.pop(key)


def put(value: Any, *keys: Any) -> Callable[[dict[str, Any]], None]:
    """Return a change that sets a value deep in the sheet."""

    def change(sheet: dict[str, Any]) -> None:
        inner: Any = sheet
        for key in keys[:-1]:
            inner = inner[key]
        inner[keys[-1]] = value

    return change


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (remove("bolt"), "bolt is missing"),
        (remove("version"), "version"),
        (put("layout", "kind"), "kind"),
        (put(99, "version"), "version 99"),
        (put("blue", "colour"), "colour is not known here"),
        (put("long", "length_mm"), 'length_mm: .*, not "long"'),
        (put(-5, "length_mm"), "length_mm: .*, not -5"),
        (put(-5, "bolt", "width_mm"), "width"),
        (put("12.50", "bolt", "price"), "price"),
        (put("round", "items", 0, "grain"), "grain"),
        (put([[0, 0], [1, 1]], "items", 0, "shape", "outline_mm"), "at least 3"),
        (put([[0, 0], [9, 9], [9, 0], [0, 9]], "items", 0, "shape", "outline_mm"), "crosses"),
        (put("back M", "items", 1, "key"), "share a key"),
        (put(45, "rules", "tilt_deg"), "tilt"),
        (put(None, "placements", 0, "x_mm"), "x_mm"),
    ],
)
def test_a_spoilt_file_is_refused_with_the_place(
    marker: Marker, change: Callable[[dict[str, Any]], None], message: str
) -> None:
    """The sentence names the field or the value."""
    sheet = json.loads(format_marker(marker))
    change(sheet)

    with pytest.raises(MarkerFileError, match=message):
        parse_marker(json.dumps(sheet))


@pytest.mark.parametrize("text", ["", "[]", "null", "{", '"marker"', "[" * 100_000])
def test_what_is_no_marker_file_is_refused(text: str) -> None:
    """Not JSON, not an object, nested beyond reason."""
    with pytest.raises(MarkerFileError):
        parse_marker(text)


def test_files_that_cannot_be_read_or_written_are_refused(marker: Marker, tmp_path: Path) -> None:
    """No such file, a folder, not UTF-8, a folder that does not exist."""
    (tmp_path / "latin").write_bytes(b"\xff\xfe\xfa")
    with pytest.raises(MarkerFileError, match="cannot be read"):
        read_marker(tmp_path / "none.json")
    with pytest.raises(MarkerFileError, match="cannot be read"):
        read_marker(tmp_path)
    with pytest.raises(MarkerFileError, match="UTF-8"):
        read_marker(tmp_path / "latin")
    with pytest.raises(MarkerFileError, match="cannot be written"):
        write_marker(marker, tmp_path / "none" / "marker.json")
