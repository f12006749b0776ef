"""The tables of a pattern sheet, and how their faults are told."""

import pytest

from pieces.errors import PatternFileError
from pieces.sheet import pattern_sheet
from pieces.sheet.pattern_sheet import place_words, read_sheet
from tests.places import DOCS

MANUAL = (DOCS / "pattern-file.md").read_text(encoding="utf-8")
PROSE = MANUAL.split("## The head", 1)[1]
PROSE += (DOCS / "from-measurements.md").read_text(encoding="utf-8")
TABLES = (
    pattern_sheet.SheetTable,
    pattern_sheet.ClothTable,
    pattern_sheet.ViewTable,
    pattern_sheet.NotionTable,
    pattern_sheet.PieceTable,
    pattern_sheet.ShapeTable,
    pattern_sheet.FigureTable,
    pattern_sheet.ChangeTable,
    pattern_sheet.LineTable,
)


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.__name__)
def test_every_key_of_a_sheet_is_explained_in_the_manual(table: type) -> None:
    """A key that is read is a key that the manual names outside its example."""
    keys = table.model_fields  # type: ignore[attr-defined]
    ways = ("`{}`", "`{}.", "`[{}.", "`[[{}]]`")
    unexplained = [key for key in keys if not any(way.format(key) in PROSE for way in ways)]

    assert unexplained == []


@pytest.mark.parametrize(
    ("path", "words", "rest"),
    [
        (("pieces", "front", "cut", "shell", "count"), 'piece "front", cut "shell": ', ["count"]),
        (("pieces", "front", "title"), 'piece "front": ', ["title"]),
        (("cloths", "shell", "about"), 'cloth "shell": ', ["about"]),
        (("views", "A", "pieces", 0), 'view "A": ', ["pieces", "0"]),
        (("notions", 1, "count"), "notion number 2: ", ["count"]),
        (("units",), "", ["units"]),
    ],
)
def test_places_are_told_in_the_words_of_a_sewist(
    path: tuple[str | int, ...], words: str, rest: list[str]
) -> None:
    """The path of a fault becomes the thing it is in, and the keys left over."""
    assert place_words(path, {}) == (words, rest)


def test_an_unknown_key_is_told_before_the_missing_one_it_was_meant_for() -> None:
    """Someone who wrote ``nmae`` is helped by hearing of ``nmae``."""
    with pytest.raises(PatternFileError, match='unknown key "nmae"; did you mean "name"'):
        read_sheet({"format": 1, "nmae": "Bag"})
