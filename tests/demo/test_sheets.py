"""The sheets in the repository are what the script drafts, and a cutter can trust them."""

import itertools

import pytest

from demo.draft_patterns import SHEETS, write_sheets
from demo.measurements import BODIES, PACKS, SIZES
from pieces.outline.polygon import area_mm2
from pieces.sheet.pattern_file import read_pattern
from pieces.sheet.piece_checks import check_pattern
from tests.places import DEMO

sheets = pytest.mark.parametrize("sheet", SHEETS)


@pytest.fixture(scope="module")
def drafted():
    """Return all four patterns as the script draws them now."""
    return {name: draw() for name, draw in SHEETS.items()}


@pytest.fixture(scope="module")
def written(tmp_path_factory):
    """Return a folder into which the script has written its sheets once more."""
    folder = tmp_path_factory.mktemp("sheets")
    write_sheets(folder)
    return folder


@sheets
def test_sheet_in_the_repository_is_what_the_script_drafts(sheet, drafted, written):
    """Running the script again changes no letter, and the sheet reads back as it was drafted."""
    assert (DEMO / sheet).read_bytes() == (written / sheet).read_bytes()
    assert read_pattern(DEMO / sheet) == drafted[sheet]


@sheets
def test_nothing_is_doubtful(sheet, drafted):
    """The pattern check has nothing to say, not even a warning."""
    assert check_pattern(drafted[sheet]) == ()


@sheets
def test_two_pieces_share_at_most_one_match_point(sheet, drafted):
    """A second shared point would ask a plaid to agree with the draft by chance."""
    pattern = drafted[sheet]
    for view in pattern.views:
        names = [
            {mark.name for mark in pattern.piece(piece).shape("M").match_points}
            for piece in view.pieces
        ]
        for one, other in itertools.combinations(names, 2):
            assert len(one & other) <= 1


@sheets
def test_sizes_grow(sheet, drafted):
    """Each garment needs more cloth in each larger size, counting every copy of every piece."""
    pattern = drafted[sheet]
    for cloth in pattern.cloths:
        for view in pattern.views:
            areas = [
                sum(
                    area_mm2(piece.shape(size).outline_mm) * piece.cut_for(cloth.name).count
                    for piece in pattern.pieces_for(view.name, cloth.name)
                )
                for size in SIZES
            ]
            assert areas == sorted(set(areas))


def test_readme_shows_the_measurements():
    """Every row of both tables in the README is the row in measurements.py."""
    rows = {
        cells[1].strip(): [float(cell) for cell in cells[2:-1]]
        for cells in (text.split("|") for text in (DEMO / "README.md").read_text().splitlines())
        if len(cells) == 8 and cells[2].strip().isdigit()
    }
    expected = {
        **{
            _words(name): [getattr(body, name) for body in BODIES.values()]
            for name in _fields(BODIES)
        },
        **{
            _words(name): [getattr(pack, name) for pack in PACKS.values()]
            for name in _fields(PACKS)
        },
    }
    expected["pack height"] = [pack.height_mm for pack in PACKS.values()]
    expected["height"] = [body.height_mm for body in BODIES.values()]

    assert rows == expected


def _fields(table):
    return next(iter(table.values())).__dataclass_fields__


def _words(field):
    return field.removesuffix("_mm").replace("_", " ")
